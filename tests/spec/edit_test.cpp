// Values replaced in an engine file's text.
#include "eyebrow/edit.hpp"

#include <fmt/format.h>

#include <functional>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

const TextEntry& entry(const std::vector<TextEntry>& entries, const std::string& key) {
  for (const TextEntry& each : entries)
    if (each.key == key) return each;
  throw std::out_of_range(key);
}

std::string refused(const std::function<void()>& act) {
  try {
    act();
  } catch (const Error& error) {
    return error.what();
  }
  return "";
}

TEST(TextEntries, TellWhatTheFileStates) {
  const std::vector<TextEntry> entries = text_entries(wedge(), "e.toml");
  EXPECT_EQ(entry(entries, "name").table, "");
  EXPECT_EQ(entry(entries, "name").typed, "two-valve wedge (invented)");
  EXPECT_EQ(entry(entries, "gasket.thickness").typed, "0.041");
  EXPECT_EQ(entry(entries, "gasket.thickness").comment, "compressed");
  EXPECT_EQ(entry(entries, "valve.intake.y").typed, "+0.855");
  EXPECT_EQ(entry(entries, "valve.intake.y").table, "valve.intake");
  const TextEntry& item = entry(entries, "lobe.intake.durations.2.duration");
  EXPECT_EQ(item.table, "lobe.intake");
  EXPECT_EQ(item.typed, "266.0");
  EXPECT_EQ(fmt::format("{}:{}", item.line, item.column), position(wedge(), "266.0"));
  for (std::size_t i = 1; i < entries.size(); ++i) EXPECT_LE(entries[i - 1].line, entries[i].line);
}

TEST(TextEntries, TablesStandInTheFilesOrder) {
  EXPECT_THAT(text_tables("a = 1\n[v.b]\nx = { q = 1 }\n[v]\nk = 2\n[c]\n", "e.toml"),
              ::testing::ElementsAre("v.b", "v", "c"));
}

// The reader's own way to put another number in its place is --set; both have to read as the same engine.
TEST(EditedText, ReadsAsTheSameEngineAsAnOverride) {
  for (const std::string& model : kModels) {
    const std::string text = file_text(model_path(model));
    const EngineText source = EngineText::of_file(model_path(model));
    int compared = 0;
    for (const TextEntry& each : text_entries(text, model)) {
      if (each.kind != TextEntry::Kind::number || each.key.starts_with("each_cylinder")) continue;
      // A hair more, so that it is no fault beside the other numbers.
      const std::string typed = fmt::format("{:.9g}", std::stod(each.typed) * 1.0001);
      std::string by_override, by_edit;
      try {
        by_override = dump(source.engine({{each.key, typed}}));
      } catch (const InputError&) {
        continue;
      }
      const std::string edited = edited_text(text, each.key, typed);
      by_edit = dump(EngineText(edited, model_path(model)).engine({}));
      EXPECT_EQ(by_edit, by_override) << model << ' ' << each.key;
      ++compared;
    }
    EXPECT_GT(compared, 30) << model;
  }
}

TEST(EditedText, LeavesEverythingElseAsItStands) {
  for (const std::string& model : kAllModels) {
    const std::string text = file_text(model_path(model));
    const std::vector<TextEntry> before = text_entries(text, model);
    for (std::size_t i = 0; i < before.size(); ++i) {
      if (before[i].kind == TextEntry::Kind::other) continue;
      const std::vector<TextEntry> after = text_entries(edited_text(text, before[i].key, "12.25 mm"), model);
      ASSERT_EQ(after.size(), before.size()) << model << ' ' << before[i].key;
      for (std::size_t k = 0; k < before.size(); ++k) {
        EXPECT_EQ(after[k].key, before[k].key);
        EXPECT_EQ(after[k].typed, k == i ? "12.25 mm" : before[k].typed);
        EXPECT_EQ(after[k].line, before[k].line);
        EXPECT_EQ(after[k].comment, before[k].comment);
      }
    }
  }
}

TEST(EditedText, KeepsACommentInItsColumn) {
  const std::string edited = edited_text(wedge(), "gasket.thickness", "1.04 mm");
  EXPECT_THAT(edited, HasSubstr("thickness = \"1.04 mm\"       # compressed\n"));
  EXPECT_THAT(edited_text("a = 1 # one\n", "a", "1234567"), "a = 1234567 # one\n") << "one blank stays";
}

TEST(EditedText, PutsWhatIsNoNumberInQuotes) {
  EXPECT_EQ(edited_text("a = 1\n", "a", "2.50"), "a = 2.50\n");
  EXPECT_EQ(edited_text("a = 1\n", "a", "-3e-2"), "a = -3e-2\n");
  EXPECT_EQ(edited_text("a = true\n", "a", "false"), "a = false\n");
  // Numbers to a person, not to TOML.
  EXPECT_EQ(edited_text("a = 1\n", "a", ".5"), "a = \".5\"\n");
  EXPECT_EQ(edited_text("a = 1\n", "a", "1."), "a = \"1.\"\n");
  EXPECT_EQ(edited_text("a = 1\n", "a", "01"), "a = \"01\"\n");
  EXPECT_EQ(edited_text("a = 1\n", "a", ""), "a = \"\"\n");
  EXPECT_EQ(edited_text("a = 1\n", "a", "99999999999999999999"), "a = \"99999999999999999999\"\n");
  for (const std::string typed : {"4\"", "a\\b", "line\nfeed", "\x01", "0.56 in \u00b1 0.005", "'''", "] # }"}) {
    const std::string edited = edited_text("a = 1 # c\nb = 2\n", "a", typed);
    const std::vector<TextEntry> entries = text_entries(edited, "e");
    EXPECT_EQ(entry(entries, "a").typed, typed);
    EXPECT_EQ(entry(entries, "b").typed, "2");
  }
  EXPECT_EQ(edited_text("name = \"x\"\n", "name", "350"), "name = \"350\"\n") << "a name stays a word";
  EXPECT_EQ(edited_text("[gasket]\nbore = \"90 mm\"\n", "gasket.bore", "91"), "[gasket]\nbore = 91\n");
}

TEST(EditedText, FaultsOfWhatWasTypedStandAtItsPlace) {
  const std::string text = edited_text(wedge(), "gasket.thickness", "wide");
  const std::vector<std::string> faults = faults_of(text);
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_THAT(faults[0], HasSubstr("e.toml:" + position(text, "\"wide\"")));
}

TEST(EditedText, AddsAKeyToItsTable) {
  const std::string sunk = edited_text(wedge(), "valve.intake.sunk", "0.01");
  EXPECT_THAT(sunk, HasSubstr("lash = 0.018\nsunk = 0.01\n\n[valve.exhaust]"));
  EXPECT_DOUBLE_EQ(parsed(sunk).engine.valves[0].sunk, 0.254);
  EXPECT_THAT(edited_text(wedge(), "piston.top_chamfer", "0.03"),
              HasSubstr("underside         = 0.420\ntop_chamfer       = 0.03\n"))
      << "in line with its neighbours";
  EXPECT_THAT(edited_text("a = 1\n[t]\nb = 2", "c", "3"), "a = 1\nc = 3\n[t]\nb = 2");
  EXPECT_EQ(edited_text("[t]\nb = 2\n", "c", "3"), "c = 3\n[t]\nb = 2\n");
  EXPECT_EQ(edited_text("[t]\n[u]\nb = 2\n", "t.c", "3"), "[t]\nc = 3\n[u]\nb = 2\n");
  EXPECT_EQ(edited_text("t = { a = 1 }\n", "t.c", "3"), "t = { a = 1, c = 3 }\n");
  EXPECT_EQ(edited_text("t = {}\n", "t.c", "3"), "t = { c = 3 }\n");
  EXPECT_EQ(edited_text("a = 1", "head.milled", "0.2"), "a = 1\n\n[head]\nmilled = 0.2\n");
  EXPECT_EQ(edited_text("[v.i]\na = 1\n", "v.c", "3"), "[v.i]\na = 1\n\n[v]\nc = 3\n");
  EXPECT_EQ(edited_text("a = 1\r\nb = 2\r\n", "c", "3"), "a = 1\r\nb = 2\r\nc = 3\r\n");
  EXPECT_THAT(edited_text("[t]\na = [\n 1,\n 2 ] # end\n[[u]]\nx = 1\n", "t.b", "3"),
              "[t]\na = [\n 1,\n 2 ] # end\nb = 3\n[[u]]\nx = 1\n");
}

TEST(EditedText, RefusesWhatItWouldSpoil) {
  EXPECT_THAT(refused([] { edited_text("a = [1, 2]\n", "a", "3"); }), HasSubstr("a is a list, not a value"));
  EXPECT_THAT(refused([] { edited_text("a = [1, 2]\n", "a.3", "3"); }), HasSubstr("there is no table"));
  EXPECT_THAT(refused([] { edited_text("t.a = 1\n", "t.b", "3"); }), HasSubstr("cannot be changed here"));
  EXPECT_THAT(refused([] { edited_text("a = \n", "a", "3"); }), HasSubstr("not valid TOML"));
}

TEST(TextWithout, TakesALineAndLeavesTheComment) {
  EXPECT_EQ(text_without("a = 1\nb = 2\nc = 3\n", "b"), "a = 1\nc = 3\n");
  EXPECT_EQ(text_without("a = 1\nb = 2 # why\n", "b"), "a = 1\n# why\n");
  EXPECT_EQ(text_without("a = 1\nb = 2", "b"), "a = 1\n");
  EXPECT_THAT(refused([] { text_without("t = { a = 1, b = 2 }\n", "t.a"); }), HasSubstr("other things stand"));
  EXPECT_THAT(refused([] { text_without("a = [1, 2]\n", "a.1"); }), HasSubstr("only a single value"));
  EXPECT_THAT(refused([] { text_without("a = 1\n", "b"); }), HasSubstr("does not state it"));
  EXPECT_EQ(text_without(edited_text(wedge(), "valve.intake.sunk", "0.01"), "valve.intake.sunk"), wedge());
}

TEST(NumberKeys, AreThoseOfTheTable) {
  EXPECT_THAT(number_keys("gasket"), ::testing::ElementsAre("thickness", "bore"));
  EXPECT_THAT(number_keys("valve.front"), Contains("rim_height"));
  EXPECT_THAT(number_keys("cam"), Contains("advance"));
  EXPECT_THAT(number_keys("cam.intake"), Contains("advance"));
  EXPECT_THAT(number_keys("asked.intake"), Contains("reach"));
  EXPECT_THAT(number_keys("valve.front"), Not(Contains("lift"))) << "of a list's items";
  EXPECT_THAT(number_keys("nothing"), IsEmpty());
  EXPECT_THAT(number_hint("cam.advance", false), HasSubstr("positive = earlier"));
  EXPECT_THAT(number_hint("gasket.thickness", true), HasSubstr(" in (compressed"));
  EXPECT_EQ(number_hint("gasket.colour", true), "");
}

}  // namespace
}  // namespace eyebrow::testing
