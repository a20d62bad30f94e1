// The file as a whole: missing, not a file, not text, too long, not TOML, too deep.
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <fstream>

#include "spec/nesting.hpp"
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

class Folder {
 public:
  Folder() : path_(std::filesystem::temp_directory_path() / ("eyebrow_spec_" + std::to_string(getpid()))) {
    std::filesystem::create_directories(path_);
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  std::string write(const std::string& name, const std::string& text) const {
    const auto path = path_ / name;
    std::ofstream(path, std::ios::binary) << text;
    return path.string();
  }
  std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

std::string only_fault(const std::string& path) {
  try {
    read_engine(path);
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults().size(), 1u) << error.what();
    return to_string(error.faults().front());
  }
  return "";
}

TEST(File, ReadsFromDisk) {
  const Folder folder;
  EXPECT_EQ(dump(read_engine(folder.write("a.toml", wedge())).engine), dump(parsed(wedge()).engine));
}

TEST(File, Missing) {
  EXPECT_EQ(only_fault("no/such/engine.toml"), "no/such/engine.toml: there is no such file");
}

TEST(File, IsAFolder) {
  const Folder folder;
  EXPECT_EQ(only_fault(folder.path()), folder.path() + ": is a folder, not a file");
}

TEST(File, CannotBeRead) {
  if (geteuid() != 0) {
    const Folder folder;
    const std::string path = folder.write("closed.toml", wedge());
    std::filesystem::permissions(path, std::filesystem::perms::none);
    EXPECT_THAT(only_fault(path), HasSubstr("cannot be read: Permission denied"));
  }
  // Opens, and fails to read, for everyone.
  if (std::filesystem::exists("/proc/self/mem")) {
    EXPECT_THAT(only_fault("/proc/self/mem"), HasSubstr("cannot be read: "));
  }
}

TEST(File, Binary) {
  const Folder folder;
  EXPECT_THAT(only_fault(folder.write("b.toml", std::string("units = \0 \"in\"", 14))),
              HasSubstr("is not text: byte 9 is zero"));
  EXPECT_THAT(only_fault("/dev/zero"), HasSubstr("is not text"));
  EXPECT_THAT(only_fault(folder.write("c.toml", "name = \"\xff\xfe\"")), HasSubstr("not valid TOML"));
}

TEST(File, Empty) {
  EXPECT_THAT(faults_of(""), ::testing::Contains(HasSubstr("missing table [cylinder]")));
  EXPECT_THAT(faults_of("# nothing but a remark"), ::testing::Contains(HasSubstr("missing table [valve]")));
}

TEST(File, AMillionLines) {
  const std::string lines(1000001, '\n');
  EXPECT_THAT(faults_of(wedge() + lines), ::testing::ElementsAre("e.toml: has more than 1000000 lines"));
  EXPECT_TRUE(faults_of(wedge() + std::string(900000, '\n')).empty());
}

TEST(File, TooLong) {
  EXPECT_THAT(faults_of(wedge() + "\n#" + std::string(4 << 20, 'x')),
              ::testing::ElementsAre("e.toml: is longer than 4 MiB"));
  std::string keys = "[head]\n";
  for (int i = 0; i < 2000; ++i) keys += "k" + std::to_string(i) + "=1\n";
  EXPECT_THAT(faults_of(keys), ::testing::ElementsAre(HasSubstr("e.toml:1:1: holds 2000 entries; allowed are 1000")));
}

TEST(File, NotToml) {
  struct Case {
    const char* text;
    const char* place;
  };
  for (const Case& c : {Case{"a = \n", "e.toml:1:"}, Case{"a = 1\na = 2\n", "e.toml:2:5: "}, Case{"[a\n", "e.toml:1:"},
                        Case{"x = \"no end\n", "e.toml:1:"}, Case{"a = 1 b = 2", "e.toml:1:"},
                        Case{"= 3", "e.toml:1:1"}, Case{"a = 01", "e.toml:1:"}, Case{"a = [1, 2", "e.toml:1:"}}) {
    const auto faults = faults_of(c.text);
    ASSERT_GE(faults.size(), 1u) << c.text;
    EXPECT_LE(faults.size(), 2u) << "what to write instead, at most: " << c.text;
    EXPECT_THAT(faults[0], StartsWith(c.place)) << c.text;
    EXPECT_THAT(faults[0], HasSubstr("not valid TOML: ")) << c.text;
  }
}

// toml++ 3.3.0 overflows the stack on a dotted key of 100,000 parts; the guard stands in front of it.
TEST(File, DeeplyNested) {
  const auto repeated = [](const std::string& piece, int times) {
    std::string text;
    for (int i = 0; i < times; ++i) text += piece;
    return text;
  };
  for (const int depth : {33, 1000, 300000}) {
    for (const std::string& text :
         {repeated("a.", depth) + "b = 1", "[" + repeated("a.", depth) + "b]", "a = " + repeated("[", depth),
          "a = " + repeated("{ a = ", depth), "a = { " + repeated("\"a\" . ", depth) + "b = 1 }",
          "a = \"\"\"x\"\"\"\"\nb = {" + repeated("a.", depth) + "b = 1}", "[[" + repeated("a.", depth) + "b]]"}) {
      const auto faults = faults_of(text);
      ASSERT_EQ(faults.size(), 1u);
      EXPECT_THAT(faults[0], HasSubstr("nested more than 32 deep"));
    }
  }
}

TEST(File, DotsInTextAndRemarksAreNotNesting) {
  const std::string dots(200, '.'), brackets(200, '[');
  EXPECT_FALSE(first_too_deep("a = \"" + dots + brackets + "\\\"" + dots + "\" # " + brackets));
  EXPECT_FALSE(first_too_deep("a = '" + dots + brackets + "'\nb = '''" + dots + "\n" + brackets + "''' # x"));
  EXPECT_FALSE(first_too_deep("a = [1.5, 2.5, 3.5]\nb.c = 1.5\n[x.y]\n"));
  const auto deep = first_too_deep("a = 1\nb = " + brackets);
  ASSERT_TRUE(deep);
  EXPECT_EQ(deep->line, 2);
  EXPECT_EQ(deep->column, 37);
}

TEST(File, EveryNumberRemembersWhereItCameFrom) {
  const EngineFile file = parsed(wedge(), {{"gasket.thickness", "1.1 mm"}});
  const auto at = [&](const std::string& key) {
    const Origin& origin = file.origins.at(key);
    return origin.file + ":" + std::to_string(origin.line) + ":" + std::to_string(origin.column) + " " + origin.unit;
  };
  EXPECT_EQ(at("cylinder.bore"), "e.toml:7:18 in");
  EXPECT_EQ(at("pocket.intake.tilt"), "e.toml:30:8 deg");
  EXPECT_EQ(at("valve.intake.rocker_ratio"), "e.toml:75:16 ");
  EXPECT_EQ(at("lobe.intake.durations.5.duration"), "e.toml:53:74 deg");
  EXPECT_EQ(at("asked.exhaust.travel"), "e.toml:107:10 in");
  EXPECT_EQ(at("gasket.thickness"), "--set:0:0 mm");
  EXPECT_EQ(file.origins.count("valve.intake.sunk"), 0u) << "not stated";
}

TEST(File, AFaultReadsAsFileLineColumn) {
  EXPECT_EQ(to_string(Fault{"a.toml", 3, 4, "x"}), "a.toml:3:4: x");
  EXPECT_EQ(to_string(Fault{"a.toml", 3, 0, "x"}), "a.toml:3: x");
  EXPECT_EQ(to_string(Fault{"--set", 0, 0, "x"}), "--set: x");
  EXPECT_EQ(to_string(Fault{"", 0, 0, "x"}), "x");
  EXPECT_STREQ(InputError({{"a", 1, 1, "x"}, {"a", 2, 1, "y"}}).what(), "a:1:1: x\na:2:1: y");
}

}  // namespace
}  // namespace eyebrow::testing
