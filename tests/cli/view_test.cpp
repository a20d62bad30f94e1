// `eyebrow view` where there is no display; with one: tests/window.
#include <gmock/gmock.h>

#include <cstdlib>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;

class View : public ProgramTest {
 protected:
  View() {
    ::unsetenv("DISPLAY");
    ::unsetenv("WAYLAND_DISPLAY");
  }
};

TEST_F(View, SaysThatThereIsNoDisplay) {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"view"}, {"view", kEngine}, {"view", kEngine, "--set", "gasket.thickness=0.05"}}) {
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.status, 4);
    EXPECT_EQ(outcome.out, "");
    EXPECT_EQ(lines_of(outcome.err).size(), 1U) << outcome.err;
    EXPECT_THAT(outcome.err, HasSubstr("no display"));
  }
  ::setenv("DISPLAY", ":12345", 1);  // set, and nobody there
  const Outcome outcome = run({"view", kEngine});
  EXPECT_EQ(outcome.status, 4);
  EXPECT_THAT(outcome.err, HasSubstr("no display"));
  ::unsetenv("DISPLAY");
}

TEST_F(View, JudgesItsWords) {
  EXPECT_EQ(run({"view", kEngine, "again.toml"}).status, 2);
  EXPECT_EQ(run({"view", "--wobble"}).status, 2);
  EXPECT_EQ(run({"view", kEngine, "--set", "gasket.thickness"}).status, 2);
  const Outcome help = run({"view", "--help"});
  EXPECT_EQ(help.status, 0);
  EXPECT_THAT(help.out, HasSubstr("Needs a display"));
}

}  // namespace
}  // namespace eyebrow::testing
