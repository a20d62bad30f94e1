// Ctrl-C and a request to end: a clean stop with 128 plus the signal's number, nothing written.
#include <fcntl.h>
#include <gmock/gmock.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

class Interrupt : public ProgramTest {};

TEST_F(Interrupt, StopsTheSweepAndWritesNothing) {
  for (const int signal : {SIGINT, SIGTERM}) {
    // A fine step takes long enough for a signal to come in between. "1 %" ends "11 %" and "21 %" too.
    const Child child = start({"check", kEngine, "--step", "0.1", "--csv", "a", "--json", "b"}, {.terminal = true});
    const Outcome outcome = finish(child, "1 %", signal);
    EXPECT_EQ(outcome.status, 128 + signal);
    EXPECT_THAT(outcome.out, IsEmpty());
    EXPECT_THAT(outcome.err, ::testing::MatchesRegex("(.|\n|\r)*\r +\r")) << "the progress line is wiped";
    EXPECT_THAT(names(), IsEmpty());
  }
}

TEST_F(Interrupt, StopsAStackAndWritesNothing) {
  const Child child =
      start({"stack", model("two_valve_wedge_stack").string(), "--json", "b", "--plot", "c.svg"}, {.terminal = true});
  const Outcome outcome = finish(child, "1 %", SIGINT);
  EXPECT_EQ(outcome.status, 128 + SIGINT);
  EXPECT_THAT(outcome.out, IsEmpty());
  EXPECT_THAT(names(), IsEmpty());
}

// Before the sweep: the signal comes while the engine file is read from a pipe.
TEST_F(Interrupt, StopsBeforeTheSweep) {
  ASSERT_EQ(mkfifo(path("engine.toml").c_str(), 0600), 0);
  const Child child = start({"check", "engine.toml", "--json", "b"});
  const int writer = open(path("engine.toml").c_str(), O_WRONLY);  // waits until the program reads
  ASSERT_GE(writer, 0);
  kill(child.pid, SIGINT);
  std::signal(SIGPIPE, SIG_IGN);  // should the program not read on, that is its fault to show, not ours to die of
  const std::string text = read_file(kEngine);
  EXPECT_EQ(write(writer, text.data(), text.size()), static_cast<ssize_t>(text.size()));
  close(writer);
  const Outcome outcome = finish(child);
  EXPECT_EQ(outcome.status, 130);
  EXPECT_THAT(outcome.out + outcome.err, IsEmpty());
  EXPECT_THAT(names(), ElementsAre("engine.toml"));
}

TEST_F(Interrupt, TheSecondOneEndsItAtOnce) {
  ASSERT_EQ(mkfifo(path("engine.toml").c_str(), 0600), 0);
  const Child child = start({"check", "engine.toml"});
  const int writer = open(path("engine.toml").c_str(), O_WRONLY);
  ASSERT_GE(writer, 0);
  kill(child.pid, SIGINT);
  // The first must have been taken before the second is sent: two alike that wait together count as one.
  for (int i = 0; i < 100 && kill(child.pid, 0) == 0; ++i) {
    usleep(20000);
    kill(child.pid, SIGINT);
  }
  const Outcome outcome = finish(child);
  close(writer);
  EXPECT_EQ(outcome.status, 1000 + SIGINT);
}

}  // namespace
}  // namespace eyebrow::testing
