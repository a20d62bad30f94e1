// The table that a builder reads: golden text, and properties that hold for any numbers.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>
#include <sstream>

#include "eyebrow/report.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using ::testing::AllOf;
using testing::asked_row;
using ::testing::HasSubstr;
using testing::kInches;
using testing::kMm;
using ::testing::Not;
using testing::sample_result;
using testing::set_found;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) out.push_back(line);
  return out;
}

// In one line, so that a phrase is found wherever it was broken.
std::string unbroken(const std::string& text) {
  std::istringstream stream(text);
  std::string out;
  for (std::string word; stream >> word;) out += out.empty() ? word : " " + word;
  return out;
}

// The row of the first valve's block that starts with `label`.
std::vector<std::string> row_of(const std::string& text, const std::string& label) {
  for (const std::string& line : lines_of(text)) {
    std::istringstream stream(line);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    if (!words.empty() && words.front() == label) return words;
  }
  return {};
}

// A doubt about the input stands beside the verdict, not only where it scrolls by.
TEST(CheckText, WarningsStandBesideTheVerdict) {
  CheckResult result = sample_result();
  result.warnings = {{"e.toml", 3, 7, "the rim cannot enter its pocket"}, {"", 0, 0, "a lobe is not used"}};
  for (const Verdict verdict : {Verdict::holds, Verdict::short_, Verdict::contact}) {
    result.verdict = verdict;
    const std::string text = check_text(result, kInches);
    const std::string after = text.substr(text.find("Verdict:"));
    EXPECT_THAT(after, HasSubstr("With 2 warnings about the input:\n"));
    EXPECT_THAT(after, HasSubstr("e.toml:3:7: the rim cannot enter its pocket"));
    EXPECT_THAT(after, HasSubstr("a lobe is not used"));
  }
}

TEST(CheckText, Golden) {
  EXPECT_EQ("\n" + check_text(sample_result(), kInches), R"GOLD(
sample engine (invented)
All 12 asked gaps hold, under the conditions below.
Lengths in inches; a found gap is rounded down, an asked one up.
Found below zero = overlap; of a radial gap: the rim meets the wall further on.
Entry below zero = the rim is above its pocket's mouth.
Crank angle from overlap TDC. O'clock from above the piston, 12 toward the bore axis.

Valve intake                         found   asked  margin                 crank    lift   entry
  travel                             0.108   0.080   0.028  holds       9.4 ATDC   0.211   0.012
  face                               0.102   0.080   0.022  holds      10.1 ATDC   0.215   0.014
  radial                             0.053   0.050   0.003  holds      12.5 ATDC   0.230   0.020
  closest                            0.051   0.050   0.001  holds      12.6 ATDC   0.231   0.020
    travel   rim edge meets intake pocket floor, 4:30 o'clock, 0.98 in from the valve's axis
    face     valve face to intake pocket floor, 6 o'clock, 0.40 in from the valve's axis
    radial   rim to intake pocket wall, 2:15 o'clock, 1.01 in from the valve's axis
    closest  rim to intake pocket mouth, 2:15 o'clock, 1.01 in from the valve's axis
    entry    its rim is deepest in its pocket at 15.0 ATDC: 0.035 in below the mouth

Valve exhaust                        found   asked  margin                 crank    lift   entry
  travel                             0.135   0.120   0.015  holds       8.0 BTDC   0.190  -0.002
  face                               0.130   0.120   0.010  holds       8.2 BTDC   0.191  -0.002
  radial                              none   0.050
  closest                            0.072   0.050   0.022  holds       7.0 BTDC   0.180  -0.004
    travel   rim edge meets exhaust pocket floor, 12 o'clock, 0.79 in from the valve's axis
    face     valve face to exhaust pocket floor, on the valve's axis
    radial   not in reach: the closest gap holds this
    closest  rim edge to exhaust pocket mouth, 2 o'clock, 0.80 in from the valve's axis
    entry    its rim stays above its pocket: 0.002 in above the mouth at 8.0 BTDC

Other gaps                           found   asked  margin                 crank
  intake / exhaust                   0.095   0.030   0.065  holds       2.0 ATDC
  intake to bore                     0.061   0.030   0.031  holds     104.0 ATDC
  exhaust to bore                    0.085   0.030   0.055  holds     110.0 BTDC
  piston to head                     0.041   0.040   0.001  holds
    piston to head: deck and gasket only; dome to chamber not checked

Crown left                                        metal  at its thinnest, in
  intake pocket to the ring groove                0.070  corner, 0.150 in below the crown flat
  intake pocket to the underside              NOT KNOWN  piston.underside not stated
    by the numbers in the file, for a new piston: ribs, oil holes, ring carriers, corner radii of
      the groove and what heat takes from the metal are not in it. The piston maker's limit rules

Verdict: holds.
  Every asked gap is there; the least margin is 0.001 in: intake, closest.
Conditions: parts cold; valve train rigid; zero lash, as on the bench; cam unmoved; gasket 0.041 in;
  deck clearance 0.000 in; sampled every 1 deg of crank, the least gaps hold at any angle.
Caution: an aid. The makers' limits rule; confirm on the assembled engine, turned by hand.
)GOLD");
}

// The lines under a valve in contact.
std::string contact_lines(const std::string& text) {
  const std::size_t from = text.find("    contact  ");
  return from == std::string::npos ? "" : text.substr(from, text.find("\n\n", from) + 1 - from);
}

TEST(CheckText, GoldenContact) {
  EXPECT_EQ("\n" + contact_lines(check_text(testing::sample_contact(), kInches)), R"GOLD(
    contact  withdraw the valve by 0.012 in along its axis; deepen its pocket by 0.012 in square to
              the floor. At 9.4 ATDC they share 0.000753 in3, give or take 0.0000008 in3, 4:30
              o'clock, 0.98 in from the valve's axis. Not a cut to make: each number is what one gap
              alone asks to end contact, with no gap left; crown left under the pocket and the
              makers' limits come first
)GOLD");
  EXPECT_EQ("\n" + contact_lines(check_text(testing::sample_contact(), kMm)), R"GOLD(
    contact  withdraw the valve by 0.31 mm along its axis; deepen its pocket by 0.30 mm square to
              the floor. At 9.4 ATDC they share 12.3 mm3, give or take 0.02 mm3, 4:30 o'clock, 24.9
              mm from the valve's axis. Not a cut to make: each number is what one gap alone asks to
              end contact, with no gap left; crown left under the pocket and the makers' limits come
              first
)GOLD");
  EXPECT_EQ(contact_lines(check_text(sample_result(), kInches)), "");
}

TEST(CheckText, SaysHowMuchWiderWhereTheWallIsHit) {
  CheckResult result = testing::sample_contact();
  result.valves[0].interference->deepen = NAN;
  result.valves[0].interference->widen = 0.301;
  const std::string text = unbroken(check_text(result, kMm));
  EXPECT_THAT(text, HasSubstr("widen its pocket by 0.31 mm in radius"));
  EXPECT_THAT(text, Not(HasSubstr("deepen")));
}

TEST(CheckText, ListsWhatWasChangedFromTheFile) {
  CheckResult result = sample_result();
  result.conditions.changed = {"gasket.thickness=0.051 in"};
  EXPECT_THAT(check_text(result, kInches), HasSubstr("changed from the file: gasket.thickness=0.051 in;"));
}

TEST(CheckText, SaysWhatALeastGapHides) {
  CheckResult result = sample_result();
  Minimum& travel = result.valves[0].minimum[GapKind::travel];
  travel.open_least = 0.120 * kInch;
  travel.open_crank = -5 * kDegree;
  result.valves[0].minimum[GapKind::radial].gap.value = -0.001 * kInch;
  const std::string text = unbroken(check_text(result, kInches));
  EXPECT_THAT(text, HasSubstr("the valve is closed here, while it is open the least is 0.120 in at 5.0 BTDC"));
  EXPECT_THAT(text, HasSubstr("it does not touch yet, but would further along the valve's path"));
  result.valves[0].minimum[GapKind::closest].gap.value = -0.001 * kInch;
  EXPECT_THAT(unbroken(check_text(result, kInches)), Not(HasSubstr("does not touch yet")));
}

TEST(CheckText, AGapOfClosedPartsHasNoCrankAngle) {
  CheckResult result = sample_result();
  result.pairs[0].minimum.lift = result.pairs[0].minimum.lift2 = 0;
  EXPECT_THAT(check_text(result, kInches), HasSubstr("0.065  holds         closed\n"));
}

TEST(CheckText, FitsAnyTerminal) {
  CheckResult result = sample_result();
  result.valves[0].name = "the valve nearest to the front of the engine, on the left";
  result.pairs[0].first = result.valves[0].name;
  result.valves[1].minimum[GapKind::radial].reason = std::string(30, 'x') + " and a reason of many words" +
                                                     " that goes on and on and says what there is to be said" +
                                                     " of a rim that grazes a wall while it enters";
  for (const Format format : {kInches, kMm, Format{LengthUnit::mm, 6}, Format{LengthUnit::inch, 6}}) {
    for (const std::string& line : lines_of(check_text(result, format))) {
      EXPECT_LE(line.size(), 100u) << line;
      for (const char c : line) EXPECT_TRUE(c >= ' ' && c <= '~') << line;
      EXPECT_FALSE(!line.empty() && line.back() == ' ') << line;
    }
  }
}

TEST(CheckText, LetsNoControlCharacterOfANameThrough) {
  CheckResult result = sample_result();
  result.engine =
      "red \x1b[31m engine\n\xc2\x9b"
      "2J";
  result.valves[0].name = "in\x07take";
  const std::string text = check_text(result, kInches);
  EXPECT_THAT(text, HasSubstr("red ?[31m engine??2J\n"));
  EXPECT_THAT(text, HasSubstr("Valve in?take"));
  EXPECT_EQ(text.find('\x1b'), std::string::npos);
  EXPECT_EQ(text.find("\xc2\x9b"), std::string::npos);
}

TEST(CheckText, KeepsLettersOfOtherAlphabets) {
  CheckResult result = sample_result();
  result.engine = "Motor für Prüfung";
  EXPECT_THAT(check_text(result, kInches), HasSubstr("Motor für Prüfung\n"));
}

TEST(CheckText, MarksAShortGap) {
  CheckResult result = sample_result();
  set_found(result, GapKind::radial, 49.6 * 0.0254);
  result.verdict = Verdict::short_;
  const std::string text = check_text(result, kInches);
  EXPECT_THAT(row_of(text, "radial"),
              ::testing::ElementsAre("radial", "0.049", "0.050", "-0.001", "SHORT", "12.5", "ATDC", "0.230", "0.020"));
  EXPECT_THAT(
      text, HasSubstr("Verdict: SHORT.\n  1 of 12 asked gaps does not hold:\n    intake, radial: margin -0.001 in\n"));
  EXPECT_THAT(text, Not(HasSubstr("Every asked gap")));
}

TEST(CheckText, MarksContact) {
  CheckResult result = sample_result();
  set_found(result, GapKind::closest, -0.3);
  set_found(result, GapKind::travel, -0.2);
  result.verdict = Verdict::contact;
  const std::string text = check_text(result, kMm);
  EXPECT_THAT(row_of(text, "closest"), ::testing::Contains("CONTACT"));
  EXPECT_THAT(row_of(text, "closest"), ::testing::Contains("-0.30"));
  EXPECT_THAT(text, AllOf(HasSubstr("Verdict: CONTACT."), HasSubstr("2 of 12 asked gaps do not hold:")));
}

TEST(CheckText, MarksContactWhereNothingWasAsked) {
  CheckResult result = sample_result();
  set_found(result, GapKind::closest, -0.3);
  std::erase_if(result.asked, [](const AskedRow& row) { return row.what == "closest"; });
  const std::vector<std::string> row = row_of(check_text(result, kMm), "closest");
  EXPECT_THAT(row, ::testing::ElementsAre("closest", "-0.30", "-", "CONTACT", "12.6", "ATDC", "5.87", "0.51"));
}

TEST(CheckText, ARimThatWouldRunIntoItsWallIsShortNotInContact) {
  CheckResult result = sample_result();
  set_found(result, GapKind::radial, -0.3);
  result.verdict = Verdict::short_;
  EXPECT_THAT(row_of(check_text(result, kMm), "radial"), ::testing::Contains("SHORT"));
}

TEST(CheckText, TellsWhyAnIntervalIsWide) {
  CheckResult result = sample_result();
  Minimum& radial = result.valves[0].minimum[GapKind::radial];
  radial.gap.status = GapStatus::jump;
  radial.gap.low = 0.7849 * kInch;   // rounded down
  radial.gap.high = 0.8111 * kInch;  // rounded up
  radial.reason = "rim grazes wall";
  EXPECT_THAT(unbroken(check_text(result, kInches)), HasSubstr("between 0.784 and 0.812: rim grazes wall"));
}

TEST(CheckText, TellsBothSidesOfAJump) {
  CheckResult result = sample_result();
  Minimum& radial = result.valves[0].minimum[GapKind::radial];
  radial.gap.status = GapStatus::jump;
  radial.gap.low = 0.7849 * kInch;
  radial.gap.high = INFINITY;
  radial.reason = "jumps here: rim grazes wall";
  radial.before = 0.7858 * kInch;
  EXPECT_THAT(unbroken(check_text(result, kInches)),
              HasSubstr("0.784 or more: jumps here: rim grazes wall, 0.785 just before, no such gap just after"));
}

TEST(CheckText, SaysNothingOfANarrowInterval) {
  EXPECT_THAT(check_text(sample_result(), kInches), Not(HasSubstr("between")));
}

TEST(CheckText, StatesTheConditions) {
  CheckResult result = sample_result();
  result.conditions.running_lash = true;
  result.conditions.advance = {{"intake cam", 4 * kDegree}, {"exhaust cam", -2.5 * kDegree}};
  result.conditions.deck_clearance = -0.1;
  result.conditions.step = 0.5 * kDegree;
  const std::string text = unbroken(check_text(result, kMm));
  EXPECT_THAT(text, AllOf(HasSubstr("parts cold; valve train rigid; running lash;"),
                          HasSubstr("cam intake cam advanced 4 crank degrees"),
                          HasSubstr("cam exhaust cam retarded 2.5 crank degrees"), HasSubstr("gasket 1.04 mm"),
                          HasSubstr("deck clearance -0.10 mm"), HasSubstr("every 0.5 deg of crank")));
}

TEST(CheckText, AlwaysCautions) {
  for (const Verdict verdict : {Verdict::holds, Verdict::short_, Verdict::contact}) {
    CheckResult result = sample_result();
    result.verdict = verdict;
    EXPECT_THAT(lines_of(check_text(result, kInches)).back(),
                AllOf(HasSubstr("makers' limits rule"), HasSubstr("confirm on the assembled engine")));
  }
}

// Whatever the numbers: the printed gap is no more than the exact one, the printed margin is negative exactly when
// the gap is short, and then the row says so.
TEST(CheckText, RandomNumbersNeverClaimMoreThanThereIs) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> asked(0, 3), off(-0.02, 0.02);
  for (int i = 0; i < 500; ++i) {
    CheckResult result = sample_result();
    asked_row(result, "travel", "intake").required = asked(random);
    set_found(result, GapKind::travel, asked_row(result, "travel", "intake").required + off(random));
    const AskedRow row = asked_row(result, "travel", "intake");
    for (const Format format : {kInches, kMm}) {
      const double scale = format.units == LengthUnit::inch ? 25.4 : 1;
      const std::vector<std::string> words = row_of(check_text(result, format), "travel");
      ASSERT_GE(words.size(), 5u);
      EXPECT_LE(std::stod(words[1]) * scale, row.found + 1e-7);
      EXPECT_GE(std::stod(words[2]) * scale, row.required - 1e-7);
      EXPECT_LE(std::stod(words[3]) * scale, row.margin + 1e-7);
      EXPECT_EQ(words[3].front() == '-', row.margin < 0);
      EXPECT_EQ(words[4] == "holds", row.margin >= 0);
    }
  }
}

TEST(CheckText, TellsOfACrownWhoseFacesWereJoined) {
  CheckResult result = sample_result();
  result.conditions.crown_from = "crown.step";
  EXPECT_THAT(unbroken(check_text(result, kMm)),
              AllOf(HasSubstr("crown from crown.step"), Not(HasSubstr("joined")),
                    HasSubstr("to the crown's edge: NOT KNOWN of a crown from STEP")));
  result.conditions.crown_mended = 0.0141;
  EXPECT_THAT(unbroken(check_text(result, kMm)), HasSubstr("its faces were joined: known to 0.02 mm"));
}

}  // namespace
}  // namespace eyebrow
