// The starter file runs as it is, and every key that it shows behind a # is a key.
#include <algorithm>
#include <cctype>
#include <sstream>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string joined_lines(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

bool shows_key(const std::string& line) {
  if (line.rfind("# ", 0) != 0) return false;
  const auto word = line.find_first_not_of("abcdefghijklmnopqrstuvwxyz_", 2);
  return word != std::string::npos && word > 2 && line.find_first_not_of(' ', word) == line.find('=', word) &&
         line.find('=', word) != std::string::npos;
}
bool shows_table(const std::string& line) {
  return line.rfind("# [", 0) == 0;
}

TEST(Starter, ReadsWithoutFaultOrDoubt) {
  EXPECT_THAT(faults_of(starter_file()), ::testing::IsEmpty());
  EXPECT_THAT(warnings_of(starter_file()), ::testing::IsEmpty());
}

TEST(Starter, AsksTheGapsOfThePage) {
  const Asked asked = parsed(starter_file()).engine.asked;
  EXPECT_DOUBLE_EQ(asked.valve.at(Role::intake).travel, 0.080 * 25.4);
  EXPECT_DOUBLE_EQ(asked.valve.at(Role::exhaust).travel, 0.125 * 25.4);
  EXPECT_DOUBLE_EQ(asked.valve.at(Role::intake).radial, 0.050 * 25.4);
  EXPECT_DOUBLE_EQ(asked.valve.at(Role::exhaust).radial, 0.050 * 25.4);
  EXPECT_DOUBLE_EQ(asked.valve_to_valve, 0.030 * 25.4);
  EXPECT_DOUBLE_EQ(asked.piston_to_head, 0.040 * 25.4);
}

TEST(Starter, NamesTheSpreadAndDefersToTheMaker) {
  const std::string text = starter_file();
  for (const char* piece :
       {"0.065 in is a common street figure", "Aluminium rods", "0.020 to 0.030 in more", "that figure rules",
        "confirm the gaps on the assembled engine", "invented", "20 unless stated"})
    EXPECT_THAT(text, HasSubstr(piece));
  for (const std::string& line : lines_of(text)) EXPECT_LE(line.size(), 120u) << line;
}

bool holds_word(const std::string& text, const std::string& word) {
  const auto letter = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_'; };
  for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    const auto end = at + word.size();
    if ((at == 0 || !letter(text[at - 1])) && (end == text.size() || !letter(text[end]))) return true;
  }
  return false;
}

// The README's tables of dimensions, a row a letter: `| **A** | `bore` | ...`.
TEST(Starter, CarriesTheLettersOfTheDrawings) {
  const auto starter = lines_of(starter_file());
  int letters = 0;
  for (const std::string& row : lines_of(file_text(std::string(EYEBROW_MODELS) + "/../README.md"))) {
    if (row.rfind("| **", 0) != 0) continue;
    const std::string letter = row.substr(4, row.find("**", 4) - 4);
    const auto from = row.find('`') + 1;
    const std::string key = row.substr(from, row.find('`', from) - from);
    const bool found = std::any_of(starter.begin(), starter.end(), [&](const std::string& line) {
      const auto remark = line.find(" # ", 1);
      return remark != std::string::npos && holds_word(line.substr(remark), letter) && holds_word(line, key);
    });
    EXPECT_TRUE(found) << letter << " " << key;
    ++letters;
  }
  EXPECT_EQ(letters, 54) << "A to BH without I, O and Q";
}

TEST(Starter, EveryKeyBehindARemarkIsAKey) {
  const auto lines = lines_of(starter_file());
  int shown = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!shows_key(lines[i])) continue;
    // Keys shown beneath a table that is shown belong to it.
    std::size_t from = i;
    for (std::size_t j = i; j-- > 0 && lines[j].rfind("# ", 0) == 0;)
      if (shows_table(lines[j])) {
        from = j;
        break;
      }
    auto with = lines;
    for (std::size_t j = from; j <= i; ++j)
      if (shows_key(lines[j]) || shows_table(lines[j])) with[j] = lines[j].substr(2);
    if (from == i)
      for (std::size_t j = 0; j < i; ++j) with[j] = lines[j];
    for (const std::string& fault : faults_of(joined_lines(with))) {
      EXPECT_THAT(fault, ::testing::Not(HasSubstr("unknown key"))) << lines[i];
      EXPECT_THAT(fault, ::testing::Not(HasSubstr("not valid TOML"))) << lines[i];
    }
    ++shown;
  }
  EXPECT_GT(shown, 30);
}

// Each optional table and each way to state a thing otherwise, put to use, still reads.
TEST(Starter, TheOtherWaysItShowsWork) {
  const std::string text = starter_file();
  const auto shown = [&](std::initializer_list<const char*> in, std::initializer_list<const char*> out) {
    std::vector<std::string> lines = lines_of(text);
    for (const char* key : in) {
      bool found = false;
      for (std::string& line : lines)
        if (!found && line.rfind(std::string("# ") + key, 0) == 0) {
          line = line.substr(2);
          found = true;
        }
      EXPECT_TRUE(found) << key;
    }
    for (const char* key : out) {
      bool found = false;
      for (std::string& line : lines)
        if (!found && line.rfind(key, 0) == 0) {
          line = "#";
          found = true;
        }
      EXPECT_TRUE(found) << key;
    }
    return joined_lines(lines);
  };
  EXPECT_THAT(faults_of(shown({"block_deck_height", "compression_height"}, {"deck_clearance"})), ::testing::IsEmpty());
  EXPECT_THAT(faults_of(shown({"block_deck_height", "compression_height"}, {})), ::testing::IsEmpty())
      << "all three agree";
  EXPECT_THAT(
      faults_of(shown({"[cylinder.notch.intake]", "x = 0.100", "y = 0.855", "diameter = 2.400", "depth = 0.250"}, {})),
      ::testing::IsEmpty());
  EXPECT_THAT(faults_of(shown({"[piston.dish]", "diameter = 2.500", "depth = 0.120", "corner_radius = 0.100"}, {})),
              ::testing::IsEmpty());
  EXPECT_THAT(faults_of(shown({"[piston.dome]", "shape", "height", "base_diameter"}, {})), ::testing::IsEmpty());
  EXPECT_THAT(faults_of(shown({"[piston.roof]", "plateau", "planes"}, {})), ::testing::IsEmpty());
  EXPECT_THAT(faults_of(shown({"rim_height"}, {})), ::testing::IsEmpty()) << "both agree";
  EXPECT_THAT(faults_of(shown({"separation"}, {"centre   = 104", "centre   = 110"})), ::testing::IsEmpty());
  EXPECT_THAT(faults_of(shown({"lift_at_tdc", "tdc_advance"}, {})), ::testing::IsEmpty());
  EXPECT_THAT(faults_of(shown({"rocker_table"}, {"rocker_ratio"})), ::testing::IsEmpty());
  // The events shown are those of the duration and centre beside them.
  const Engine durations = parsed(text).engine;
  const Engine events = parsed(shown({"events"}, {"centre   = 104", "durations = [", "  { at = 0.020, duration = 287.7",
                                                  "  { at = 0.200, duration = 182.0"}))
                            .engine;
  EXPECT_NEAR(events.lobes[0].centre, durations.lobes[0].centre, 1e-12);
  EXPECT_NEAR(events.lobes[0].durations[0].duration, durations.lobes[0].durations[1].duration, 1e-12);
  const Engine arc = parsed(shown({"arc_chord", "arc_height"}, {"diameter = 2.140"})).engine;
  EXPECT_NEAR(arc.piston.pockets[0].diameter, 2.140 * 25.4, 0.2) << "the arc shown is that of the diameter";
  EXPECT_THAT(faults_of(shown({"face = \"dished\"", "face_depth", "rim_radius", "underhead_angle", "sunk"}, {})),
              ::testing::IsEmpty());
}

}  // namespace
}  // namespace eyebrow::testing
