// Lift tables that are wrong, and files that are no engine files: exit status 3, every fault with its place.
#include <gmock/gmock.h>
#include <sys/stat.h>

#include <regex>

#include "cli/input_fault.hpp"

namespace eyebrow::testing {
namespace {

namespace fs = std::filesystem;
using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

// --- lift tables -----------------------------------------------------------------------------------------------

class LiftTableFault : public InputFault {
 protected:
  /// The model with the intake's lift in lift.csv.
  std::string with_table() const {
    const std::size_t from = model_.find("lift     = 0.430"), to = model_.find("[lobe.exhaust]");
    std::string text = model_;
    return text.replace(from, to - from,
                        "table = \"lift.csv\"\ntable_degrees = \"crank\"\ntable_angles = \"from centre\"\n\n");
  }

  /// A smooth curve of 0.43 in from -140 to 140 degrees, one row a degree.
  static std::vector<std::string> rows() {
    std::vector<std::string> out;
    for (int degree = -140; degree <= 140; ++degree) {
      const double share = 1 - degree * degree / 19600.0;
      out.push_back(std::to_string(degree) + ", " + std::to_string(0.43 * share * share * share));
    }
    return out;
  }

  void expect_fault(const std::vector<std::string>& rows, const std::string& says) const {
    std::string text = "degrees, inches\n";
    for (const std::string& row : rows) text += row + "\n";
    write_file(path("lift.csv"), text);
    write_file(path("engine.toml"), with_table());
    const std::vector<std::string> lines = faults(run({"check", "engine.toml", "--json", "out.json"}));
    EXPECT_THAT(lines, ::testing::Contains(HasSubstr(says)));
    EXPECT_THAT(::testing::PrintToString(lines), HasSubstr("lift.csv"));
    EXPECT_LE(lines.size(), 20u) << "not one a row";
  }
};

TEST_F(LiftTableFault, AGoodTableIsTaken) {
  std::string text;
  for (const std::string& row : rows()) text += row + "\n";
  write_file(path("lift.csv"), text);
  write_file(path("engine.toml"), with_table());
  const Outcome outcome = run({"check", "engine.toml", "--quiet", "--step", "10"});
  EXPECT_LE(outcome.status, 1);
  EXPECT_THAT(outcome.err, IsEmpty());
}

TEST_F(LiftTableFault, IsTold) {
  std::vector<std::string> table = rows();
  std::swap(table[100], table[101]);
  expect_fault(table, "lift.csv:103:");

  table = rows();
  table.erase(table.begin() + 100, table.begin() + 160);
  expect_fault(table, "gap");

  table = rows();
  table[50] = "-90, -0.01";
  expect_fault(table, "negative");

  table = rows();
  table.erase(table.begin(), table.begin() + 60);
  expect_fault(table, "base circle");

  table = rows();
  table[50] = "-90, about a tenth";
  expect_fault(table, "lift.csv:52:");

  table = rows();
  table[50] = "-90, nan";
  expect_fault(table, "nan");

  expect_fault({"0, 0.43"}, "1 row");
  expect_fault({}, "0 rows");
  expect_fault(std::vector<std::string>(1000000, "1, 0.1"), "rows");
}

TEST_F(LiftTableFault, AMissingTableIsToldAtItsKey) {
  write_file(path("engine.toml"), with_table());
  const std::vector<std::string> lines = faults(run({"check", "engine.toml"}));
  EXPECT_THAT(lines, ElementsAre(AllOf(::testing::StartsWith("engine.toml:"), HasSubstr("lift.csv"),
                                       HasSubstr("no such file"))));
  fs::create_directory(path("lift.csv"));
  EXPECT_THAT(faults(run({"check", "engine.toml"})).front(), HasSubstr("folder"));
}

// --- files that are no engine files ----------------------------------------------------------------------------

TEST_F(InputFault, MissingFolderBinaryUnreadable) {
  EXPECT_THAT(faults(run({"check", "none.toml"})),
              ElementsAre(AllOf(HasSubstr("none.toml"), HasSubstr("no such file"))));
  EXPECT_THAT(faults(run({"check", "."})), ElementsAre(HasSubstr("folder")));
  EXPECT_THAT(faults(run({"check", "none/none.toml"})), ElementsAre(HasSubstr("none/none.toml")));
  write_file(path("binary.toml"), std::string("\x7f"
                                              "ELF\0\x01\x02\xff\xfe",
                                              9));
  EXPECT_THAT(faults(run({"check", "binary.toml"})).front(), HasSubstr("binary.toml"));
  write_file(path("latin.toml"), "name = \"K\xf6rper\"\n");
  EXPECT_THAT(faults(run({"check", "latin.toml"})).front(), HasSubstr("latin.toml:1"));
  write_file(path("empty.toml"), "");
  EXPECT_THAT(faults(run({"check", "empty.toml"})).front(), HasSubstr("empty.toml"));
  // Opens, but no byte of it can be read, by whomever.
  EXPECT_THAT(faults(run({"check", "/proc/self/mem"})).front(), HasSubstr("cannot be read"));
  EXPECT_THAT(faults(run({"export", "none.toml", "-o", "x.step"})), ElementsAre(HasSubstr("no such file")));
}

TEST_F(InputFault, AFileThatMayNotBeRead) {
  if (run({"--version"}, {.as_nobody = true}).status != 0) GTEST_SKIP() << "nobody may not run the program here";
  write_file(path("secret.toml"), model_);
  fs::permissions(path("secret.toml"), fs::perms::none);
  EXPECT_THAT(faults(run({"check", "secret.toml"}, {.as_nobody = true})), ElementsAre(HasSubstr("Permission denied")));
}

TEST_F(InputFault, AMillionLines) {
  std::string text;
  for (int i = 0; i < 1000000; ++i) text += "key" + std::to_string(i) + " = 1\n";
  write_file(path("long.toml"), text);
  const std::vector<std::string> lines = faults(run({"check", "long.toml"}));
  EXPECT_LE(lines.size(), 250u) << "a screenful or two, not a million";
  write_file(path("blank.toml"), model_ + std::string(1000000, '\n'));
  faults(run({"check", "blank.toml"}));
}

TEST_F(InputFault, DeeplyNested) {
  const std::string deep(100000, '[');
  std::string dotted = "a";
  for (int i = 0; i < 50000; ++i) dotted += ".a";
  for (const std::string& text :
       {"x = " + deep, deep, dotted + " = 1", "[" + dotted + "]", "x = " + std::string(100000, '{')}) {
    write_file(path("deep.toml"), text);
    EXPECT_THAT(faults(run({"check", "deep.toml"})).front(), ::testing::StartsWith("deep.toml:1"));
  }
}

TEST_F(InputFault, AnEndlessFile) {
  EXPECT_THAT(faults(run({"check", "/dev/zero"})), ElementsAre(HasSubstr("/dev/zero")));
}

}  // namespace
}  // namespace eyebrow::testing
