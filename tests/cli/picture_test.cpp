// `eyebrow picture`, where there is no display.
#include <gmock/gmock.h>

#include <cstdlib>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

namespace fs = std::filesystem;
using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

class Picture : public ProgramTest {
 protected:
  Picture() {
    ::unsetenv("DISPLAY");
    ::unsetenv("WAYLAND_DISPLAY");
  }
  Outcome draw(std::vector<std::string> words) const {
    words.insert(words.begin(), {"picture", kEngine, "--size", "400x250"});
    return run(words);
  }
};

/// Width and height of a PNG: the first chunk, big-endian (ISO/IEC 15948, 11.2.2); 0 x 0 where it is none.
std::pair<int, int> size_of_png(const std::string& bytes) {
  if (bytes.substr(0, 8) != "\x89PNG\r\n\x1a\n" || bytes.size() < 24) return {0, 0};
  const auto number = [&](std::size_t at) {
    int value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes[at + i]);
    return value;
  };
  return {number(16), number(20)};
}

TEST_F(Picture, IsDrawnWithoutADisplay) {
  const Outcome outcome = draw({"-o", "engine.png", "--at", "tightest:intake.radial"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(outcome.err, IsEmpty()) << "not a word of a library";
  EXPECT_THAT(outcome.out, AllOf(StartsWith("engine.png: intake.radial at "), HasSubstr("TDC")));
  EXPECT_EQ(lines_of(outcome.out).size(), 1u);
  EXPECT_EQ(size_of_png(read_file(path("engine.png"))), (std::pair{400, 250}));
  EXPECT_THAT(names(), ElementsAre("engine.png"));
}

TEST_F(Picture, OfAnyGapThatTheCheckNames) {
  const Outcome outcome = draw({"-o", "gap.png", "--at", "tightest:intake/exhaust", "--at", "tightest:exhaust.bore",
                                "--at", "tightest:piston.head"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(lines_of(outcome.out),
              ElementsAre(StartsWith("gap-01.png: intake/exhaust at "), StartsWith("gap-02.png: exhaust.bore at "),
                          StartsWith("gap-03.png: piston.head at 0.0 TDC")));
}

TEST_F(Picture, TheSameBytesEachTime) {
  EXPECT_EQ(draw({"-o", "a.png", "--at", "5ATDC", "--section", "intake", "--quiet"}).status, 0);
  EXPECT_EQ(draw({"-o", "b.png", "--at", "5", "--section", "intake", "--quiet"}).status, 0);
  EXPECT_EQ(draw({"-o", "c.png", "--at", "9ATDC", "--section", "intake", "--quiet"}).status, 0);
  EXPECT_EQ(read_file(path("a.png")), read_file(path("b.png")));
  EXPECT_NE(read_file(path("a.png")), read_file(path("c.png")));
}

TEST_F(Picture, SeveralGetNumbersAllOrNone) {
  const Outcome outcome = draw({"-o", "run.png", "--cycle", "10BTDC:10ATDC:10", "--color", "gap", "--units", "mm"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(lines_of(outcome.out),
              ElementsAre("run-01.png: 10.0 BTDC", "run-02.png: 0.0 TDC", "run-03.png: 10.0 ATDC"));
  EXPECT_THAT(names(), ElementsAre("run-01.png", "run-02.png", "run-03.png"));
  EXPECT_NE(read_file(path("run-01.png")), read_file(path("run-02.png")));

  fs::create_directory(path("spun-02.png"));
  const Outcome refused = draw({"-o", "spun.png", "--spin", "3"});
  EXPECT_EQ(refused.status, 4);
  EXPECT_THAT(refused.err, HasSubstr("spun-02.png: cannot be written: it is a folder"));
  EXPECT_FALSE(fs::exists(path("spun-01.png")));
}

TEST_F(Picture, SaysWhatItCannotDrawWith) {
  ::setenv("__EGL_VENDOR_LIBRARY_FILENAMES", "/nonexistent", 1);  // libglvnd: no vendor's EGL is found
  const Outcome outcome = draw({"-o", "engine.png"});
  ::unsetenv("__EGL_VENDOR_LIBRARY_FILENAMES");
  EXPECT_EQ(outcome.status, 4);
  EXPECT_THAT(lines_of(outcome.err), ElementsAre(AllOf(HasSubstr("nothing to draw pictures with"), HasSubstr("EGL"),
                                                       HasSubstr("DISPLAY is not set"))));
  EXPECT_THAT(names(), IsEmpty());
}

TEST_F(Picture, SaysWhereTheProgramThatDrawsIsMissing) {
  fs::copy_file(EYEBROW_PROGRAM, path("eyebrow"));
  const std::string command = "PATH=/nonexistent " + path("eyebrow").string() + " picture " + kEngine + " -o " +
                              path("engine.png").string() + " 2> " + path("err").string();
  const int status = std::system(command.c_str());
  EXPECT_EQ(WEXITSTATUS(status), 4);
  EXPECT_THAT(lines_of(read_file(path("err"))),
              ElementsAre(AllOf(StartsWith("eyebrow: eyebrow-view "), HasSubstr("PATH"))));
}

/// Stands for the real one: keeps what it is told and writes what it gets. The real one is not there on every machine.
void write_ffmpeg(const fs::path& folder, const std::string& ends_with) {
  write_file(folder / "ffmpeg", "#!/bin/sh\necho \"$@\" > " + (folder / "words").string() +
                                    "\nfor last; do :; done\ncat > \"$last\"\nexit " + ends_with + "\n");
  fs::permissions(folder / "ffmpeg", fs::perms::owner_all);
}

TEST_F(Picture, FilmsAreHandedToFfmpeg) {
  const std::string old = std::getenv("PATH");
  fs::create_directory(path("bin"));
  ::setenv("PATH", "/nonexistent", 1);
  const Outcome missing = draw({"-o", "run.mp4", "--cycle", "0:10:5"});
  EXPECT_EQ(missing.status, 4);
  EXPECT_THAT(lines_of(missing.err),
              ElementsAre(AllOf(HasSubstr("ffmpeg, which is not in the PATH"), HasSubstr("-o run.png"))));

  ::setenv("PATH", (path("bin").string() + ":" + old).c_str(), 1);
  write_ffmpeg(path("bin"), "0");
  const Outcome made = draw({"-o", "run.mp4", "--cycle", "0:10:5"});
  EXPECT_EQ(made.status, 0) << made.err;
  EXPECT_EQ(made.out, "run.mp4: 3 pictures\n");
  const std::string frames = read_file(path("run.mp4"));
  EXPECT_EQ(size_of_png(frames), (std::pair{400, 250}));
  std::size_t count = 0;
  for (std::size_t at = 0; (at = frames.find("\x89PNG\r\n", at)) != std::string::npos; ++at) ++count;
  EXPECT_EQ(count, 3u);

  write_ffmpeg(path("bin"), "1");
  const Outcome failed = draw({"-o", "other.gif", "--spin", "2"});
  EXPECT_EQ(failed.status, 4);
  EXPECT_THAT(failed.err, HasSubstr("other.gif: cannot be written: ffmpeg could not make it"));
  ::setenv("PATH", old.c_str(), 1);
  EXPECT_THAT(names(), ElementsAre("bin", "run.mp4")) << "nothing half done";
}

TEST_F(Picture, RefusesWrongWords) {
  const auto expect = [&](const std::vector<std::string>& words, const std::string& told) {
    std::vector<std::string> all = words;
    all.insert(all.begin(), {"picture", kEngine, "-o", "engine.png"});
    const Outcome outcome = run(all);
    EXPECT_EQ(outcome.status, 2) << words.back();
    EXPECT_THAT(lines_of(outcome.err), ElementsAre(HasSubstr(told)));
  };
  expect({"--at",
          "tightest"
          "intake"},
         "is no place in the cycle; allowed: 12.5ATDC");
  expect({"--color", "rainbow"}, "allowed: plain, gap, least");
  expect({"--view", "below"}, "allowed: best, near, square, front");
  expect({"--view", "square"}, "give --section too");
  expect({"--size", "1600"}, "WIDTHxHEIGHT");
  expect({"--size", "90x90000"}, "240 to 3000");
  expect({"--lit", "none", "--lit", "face"}, "none stands alone");
  expect({"--cycle", "10:5:1"}, "ends before it begins");
  expect({"--cycle", "0:10:0"}, "above 0");
  expect({"--cycle", "-360:360:0.1"}, "asks for 7201 pictures");
  expect({"--cycle", "0:10:5", "--at", "3"}, "leave out --at");
  expect({"--spin", "1"}, "2 to 1500");
  expect({"--section", ""}, "allowed: a valve's name");
  EXPECT_EQ(run({"picture", kEngine, "-o", "engine.svg"}).status, 2);
  const Outcome still = run({"picture", kEngine, "-o", "engine.mp4"});
  EXPECT_EQ(still.status, 2);
  EXPECT_THAT(still.err, HasSubstr("give --cycle or --spin"));
  EXPECT_THAT(names(), IsEmpty());
}

// Which gaps, valves and parts there are, only the engine file tells.
TEST_F(Picture, RefusesWhatTheEngineHasNot) {
  const auto expect = [&](const std::vector<std::string>& words, const std::string& told) {
    std::vector<std::string> all = words;
    all.insert(all.begin(), {"-o", "engine.png"});
    const Outcome outcome = draw(all);
    EXPECT_EQ(outcome.status, 2) << words.back();
    EXPECT_THAT(lines_of(outcome.err), ElementsAre(HasSubstr(told)));
  };
  expect({"--at", "tightest:intake.radail"}, "did you mean \"intake.radial\"?");
  expect({"--section", "intaek"}, "did you mean \"intake\"?");
  expect({"--section", "intake@25"}, "is no o'clock");
  expect({"--section", "x=3 deg"}, "is no length");
  // With the gaps that there are, once.
  expect({"--at", "tightest:nothing"},
         "there is no gap \"nothing\"; there are intake.travel, intake.face, intake.radial, intake.closest, ");
  const std::string list = draw({"-o", "engine.png", "--at", "tightest:nothing"}).err;
  EXPECT_EQ(list.find("intake.travel"), list.rfind("intake.travel")) << list;
  EXPECT_THAT(list, AllOf(HasSubstr("intake/exhaust"), HasSubstr("intake.bore"), HasSubstr("piston.head")));
  expect({"--hide", "piston"}, "there are crown, bore, gasket, valve intake, valve exhaust");
  EXPECT_THAT(names(), IsEmpty());
}

}  // namespace
}  // namespace eyebrow::testing
