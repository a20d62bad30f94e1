// The program writes the same bytes on one core as on all of them: oneTBB takes as many threads as the process may use
// cores (its scheduler reads the affinity mask; documented for task_arena and info::default_concurrency).
#include <sched.h>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

/// This process, and what it starts, on the first `cores` of those it had; put back at the end.
class OnCores {
 public:
  explicit OnCores(int cores) {
    CPU_ZERO(&had_);
    sched_getaffinity(0, sizeof had_, &had_);
    cpu_set_t few;
    CPU_ZERO(&few);
    for (int i = 0; i < CPU_SETSIZE && CPU_COUNT(&few) < cores; ++i)
      if (CPU_ISSET(i, &had_)) CPU_SET(i, &few);
    set_ = sched_setaffinity(0, sizeof few, &few) == 0;
  }
  ~OnCores() { sched_setaffinity(0, sizeof had_, &had_); }
  OnCores(const OnCores&) = delete;
  bool set() const { return set_; }

 private:
  cpu_set_t had_;
  bool set_ = false;
};

using ThreadsTest = ProgramTest;

TEST_F(ThreadsTest, CheckWritesTheSameBytesOnOneCore) {
  const std::vector<std::string> words{"check", model("two_valve_wedge"), "--quiet", "--json", "-"};
  const Outcome all = run(words), again = run(words);
  EXPECT_GT(all.out.size(), 5000u);
  EXPECT_TRUE(all.out == again.out);
  const OnCores one(1);
  ASSERT_TRUE(one.set());
  const Outcome alone = run(words);
  EXPECT_EQ(alone.status, all.status);
  EXPECT_TRUE(alone.out == all.out);
}

}  // namespace
}  // namespace eyebrow::testing
