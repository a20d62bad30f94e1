// Where the output goes: whole or not at all, and told when it cannot.
#include <fcntl.h>
#include <gmock/gmock.h>
#include <sys/stat.h>
#include <unistd.h>

#include <nlohmann/json.hpp>

#include "cli/program.hpp"

namespace eyebrow::testing {
namespace {

namespace fs = std::filesystem;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;

class Output : public ProgramTest {
 protected:
  Outcome check(std::vector<std::string> more, const Manner& manner = {}) const {
    std::vector<std::string> words = {"check", kEngine, "--step", "10"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words, manner);
  }
};

TEST_F(Output, AFullDiskEndsWithFour) {
  for (const char* option : {"--csv", "--json"}) {
    const Outcome outcome = check({option, "/dev/full"});
    EXPECT_EQ(outcome.status, 4) << option;
    EXPECT_THAT(outcome.err, HasSubstr("/dev/full: cannot be written: No space left on device"));
    EXPECT_THAT(outcome.out, IsEmpty()) << "no table after a fault";
  }
  EXPECT_TRUE(fs::is_character_file("/dev/full")) << "a device must not be replaced";
  const Outcome table = check({}, {.out = "/dev/full"});
  EXPECT_EQ(table.status, 4);
  EXPECT_THAT(table.err, HasSubstr("standard output: cannot be written: No space left on device"));
  fs::create_symlink("/dev/full", path("full.step"));
  EXPECT_EQ(run({"export", kEngine, "-o", "full.step"}).status, 4);
  EXPECT_EQ(run({"new", "/dev/full"}).status, 4);
  EXPECT_EQ(run({"--help"}, {.out = "/dev/full"}).status, 4);
  EXPECT_TRUE(fs::is_character_file("/dev/full"));
}

TEST_F(Output, APlaceThatCannotBeWrittenEndsWithFour) {
  fs::create_directory(path("folder.step"));
  write_file(path("file"), "x");
  struct Place {
    const char *name, *says;
  };
  for (const Place place : {Place{"folder.step", "it is a folder"},
                            Place{"missing/x.step", "there is no folder missing"}, Place{"file/x.step", "file"}}) {
    for (const std::vector<std::string>& words : {std::vector<std::string>{"check", kEngine, "--csv", place.name},
                                                  {"check", kEngine, "--json", place.name},
                                                  {"export", kEngine, "-o", place.name},
                                                  {"new", place.name}}) {
      const Outcome outcome = run(words);
      SCOPED_TRACE(::testing::PrintToString(words));
      EXPECT_EQ(outcome.status, 4);
      EXPECT_THAT(outcome.err, HasSubstr(place.says));
      EXPECT_THAT(outcome.err, HasSubstr(place.name));
      EXPECT_EQ(lines_of(outcome.err).size(), 1u) << outcome.err;
      EXPECT_THAT(outcome.out, IsEmpty());
    }
  }
  EXPECT_THAT(names(), ElementsAre("file", "folder.step"));
}

// A folder that looks writable to the superuser and takes no file.
TEST_F(Output, AFolderThatTakesNoFileEndsWithFour) {
  EXPECT_EQ(check({"--csv", "/proc/x"}).status, 4);
  EXPECT_EQ(run({"export", kEngine, "-o", "/proc/x.step"}).status, 4);
  EXPECT_EQ(run({"new", "/proc/x"}).status, 4);
}

TEST_F(Output, AWriteProtectedFileStays) {
  if (getuid() == 0) {
    // The superuser may write everywhere: run as nobody, if nobody may run the program at all.
    if (run({"--version"}, {.as_nobody = true}).status != 0) GTEST_SKIP() << "nobody may not run the program here";
  }
  write_file(path("protected"), "mine");
  fs::permissions(path("protected"), fs::perms::owner_read);
  const Outcome outcome = run({"new", "protected", "--force"}, {.as_nobody = true});
  EXPECT_EQ(outcome.status, 4);
  EXPECT_THAT(outcome.err, HasSubstr("Permission denied"));
  fs::permissions(path("protected"), fs::perms::owner_all);
  EXPECT_EQ(read_file(path("protected")), "mine");
}

TEST_F(Output, WritesWholeFilesAndNothingElse) {
  const Outcome outcome = check({"--csv", "gaps.csv", "--json", "gaps.json"});
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  EXPECT_THAT(names(), ElementsAre("gaps.csv", "gaps.json"));
  EXPECT_THAT(read_file(path("gaps.csv")), StartsWith("valve,crank_deg,"));
  EXPECT_EQ(read_file(path("gaps.csv")).back(), '\n');
  EXPECT_EQ(nlohmann::json::parse(read_file(path("gaps.json")))["verdict"], "holds");
  EXPECT_THAT(outcome.out, HasSubstr("Verdict: holds.")) << "the table all the same";
}

TEST_F(Output, ReplacesOnlyWhenAllWentWell) {
  write_file(path("gaps.csv"), "old");
  EXPECT_EQ(check({"--csv", "gaps.csv", "--json", "/dev/full"}).status, 4);
  EXPECT_EQ(read_file(path("gaps.csv")), "old");
  EXPECT_EQ(check({"--csv", "gaps.csv", "--set", "cylinder.bore=-1"}).status, 3);
  EXPECT_EQ(read_file(path("gaps.csv")), "old");
  EXPECT_THAT(names(), ElementsAre("gaps.csv")) << "no leftovers";
  EXPECT_EQ(check({"--csv", "gaps.csv"}).status, 0);
  EXPECT_THAT(read_file(path("gaps.csv")), StartsWith("valve,"));
}

TEST_F(Output, KeepsRightsAndLinks) {
  write_file(path("target"), "old");
  fs::permissions(path("target"), fs::perms::owner_read | fs::perms::owner_write);
  fs::create_symlink("target", path("link"));
  EXPECT_EQ(check({"--csv", "link"}).status, 0);
  EXPECT_TRUE(fs::is_symlink(path("link")));
  EXPECT_THAT(read_file(path("target")), StartsWith("valve,"));
  EXPECT_EQ(fs::status(path("target")).permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST_F(Output, DashPrintsInsteadOfTheTable) {
  const Outcome alone = check({"--json", "-"});
  EXPECT_TRUE(nlohmann::json::accept(alone.out));
  const Outcome both = check({"--json", "-", "--csv", "gaps.csv"});
  EXPECT_TRUE(nlohmann::json::accept(both.out));
  EXPECT_THAT(check({"--csv", "-", "--quiet"}).out, StartsWith("valve,")) << "asked for, so not quiet";
}

TEST_F(Output, AClosedStandardOutputIsAFault) {
  const Outcome outcome = check({"--json", "gaps.json"}, {.out = "closed"});
  EXPECT_EQ(outcome.status, 4);
  EXPECT_THAT(outcome.err, HasSubstr("standard output: cannot be written"));
  EXPECT_TRUE(nlohmann::json::accept(read_file(path("gaps.json")))) << "and is nobody's file";
}

TEST_F(Output, AReaderWhoLeavesIsNoFault) {
  // A pipe whose reading end is closed before the program writes.
  ASSERT_EQ(mkfifo(path("pipe").c_str(), 0600), 0);
  const int reader = open(path("pipe").c_str(), O_RDONLY | O_NONBLOCK);
  const Child child = start({"check", kEngine, "--step", "10"}, {.out = path("pipe").string()});
  close(reader);
  const Outcome outcome = finish(child);
  EXPECT_EQ(outcome.status, 0) << "the verdict";
  EXPECT_THAT(outcome.err, IsEmpty());
}

}  // namespace
}  // namespace eyebrow::testing
