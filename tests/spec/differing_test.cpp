// In which inputs engine files differ.
#include "eyebrow/differing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using Inputs = std::vector<DifferingInput>;

Inputs differing(const std::vector<std::string>& texts) {
  std::vector<EngineFile> files;
  for (const std::string& text : texts) files.push_back(parsed(text));
  std::vector<const EngineFile*> pointers;
  for (const EngineFile& file : files) pointers.push_back(&file);
  return differing_inputs(pointers);
}

std::vector<std::string> keys_of(const Inputs& inputs) {
  std::vector<std::string> keys;
  for (const DifferingInput& each : inputs) keys.push_back(each.key);
  return keys;
}

std::vector<std::string> texts_of(const DifferingInput& input) {
  std::vector<std::string> texts;
  for (const auto& each : input.stated) texts.push_back(each.text);
  return texts;
}

TEST(Differing, OneFileDoesNotDifferFromItself) {
  for (const std::string& name : kAllModels) {
    const std::string path = model_path(name);
    const EngineFile file = read_engine(path);
    EXPECT_THAT(keys_of(differing_inputs({&file, &file, &file})), IsEmpty()) << name;
  }
}

// The two models differ in what their heads are said to differ in: measured by comparing the files by eye.
TEST(Differing, TellsWhatABiggerHeadChanges) {
  const EngineFile stock = read_engine(model_path("inline_six_stock"));
  const EngineFile big = read_engine(model_path("inline_six_big_valve"));
  const Inputs inputs = differing_inputs({&stock, &big});
  EXPECT_THAT(keys_of(inputs),
              ElementsAre("valve.intake.head_diameter", "valve.intake.seat_width", "valve.intake.x", "valve.intake.y",
                          "valve.intake.rim_height", "valve.exhaust.head_diameter", "valve.exhaust.seat_width",
                          "valve.exhaust.x", "valve.exhaust.y", "valve.exhaust.rim_height"));
  EXPECT_THAT(texts_of(inputs[0]), ElementsAre("1.72 in", "1.84 in"));
  EXPECT_DOUBLE_EQ(inputs[0].stated[1].value, 1.84);
  EXPECT_EQ(inputs[0].stated[1].unit, "in");
}

TEST(Differing, TheSameLengthInAnotherUnitIsTheSame) {
  const std::string gasket = "thickness = 0.041";
  ASSERT_NE(wedge().find(gasket), std::string::npos);
  EXPECT_THAT(differing({wedge(), wedge_with(gasket, "thickness = \"1.0414 mm\"")}), IsEmpty());
  const Inputs other = differing({wedge(), wedge_with(gasket, "thickness = \"1.05 mm\"")});
  ASSERT_THAT(keys_of(other), ElementsAre("gasket.thickness"));
  EXPECT_THAT(texts_of(other[0]), ElementsAre("0.041 in", "1.05 mm"));
}

TEST(Differing, TellsWordsAndWhatOnlyOneFileStates) {
  EngineFile one = parsed(wedge());
  EngineFile other = parsed(wedge(), {{"valve.intake.sunk", "0.010"}, {"check.lash", "running"}});
  const Inputs inputs = differing_inputs({&one, &other});
  ASSERT_THAT(keys_of(inputs), ::testing::UnorderedElementsAre("check.lash", "valve.intake.sunk"));
  for (const DifferingInput& each : inputs)
    if (each.key == "check.lash")
      EXPECT_THAT(texts_of(each), ElementsAre("\"zero\"", "\"running\""));
    else
      EXPECT_THAT(texts_of(each), ElementsAre("", "0.01 in"));
}

// A lobe by its card here, by a cam law there: one row says so, and the card's points are no rows of their own.
TEST(Differing, OtherKeysForTheSameThingAreOneRow) {
  const std::string text = wedge();
  const auto from = text.find("durations", text.find("[lobe.intake]")), to = text.find("[lobe.exhaust]");
  ASSERT_NE(from, std::string::npos);
  const std::string by_law = text.substr(0, from) + "law = \"4-5-6-7\"\nlaw_duration = 290\n\n" + text.substr(to);
  const Inputs inputs = differing({text, by_law});
  ASSERT_THAT(keys_of(inputs), ElementsAre("lobe.intake"));
  EXPECT_EQ(inputs[0].other_keys, DifferingInput::OtherKeys::unknown);
  EXPECT_THAT(texts_of(inputs[0]), ElementsAre("durations", "law \"4-5-6-7\", law_duration 290 deg"));
}

// Closed form: rim height h and flush lift f go together as h = f cos g + R sin g, so a file
// that states the other one comes to the same.
TEST(Differing, SaysWhetherOtherKeysComeToTheSame) {
  const std::string text = file_text(model_path("inline_six_stock"));
  const double tilt = 12 * kDegree, radius = 0.860;
  const double height = 0.105 * std::cos(tilt) + radius * std::sin(tilt);
  const auto with = [&](const std::string& intake) {
    std::string out = text;
    const auto from = out.find("rim_height", out.find("[valve.intake]")), to = out.find("rocker_ratio", from);
    return out.replace(from, to - from, intake);
  };
  const std::string by_flush = with("flush_lift = 0.105\n");
  const std::string higher = with("rim_height = 0.2900\n");
  const Inputs unlike = differing({by_flush, higher});
  ASSERT_THAT(keys_of(unlike), ElementsAre("valve.intake"));
  EXPECT_EQ(unlike[0].other_keys, DifferingInput::OtherKeys::different);
  const std::string exact = with("rim_height = " + fmt::format("{}", height) + "\n");
  EXPECT_EQ(differing({by_flush, exact}).front().other_keys, DifferingInput::OtherKeys::same);
  EXPECT_THAT(texts_of(unlike[0]), ElementsAre("flush_lift 0.105 in", "rim_height 0.29 in"));
}

TEST(Differing, WhatMovesWithItByLikeIsNoRowOfItsOwn) {
  const std::string text = pent_roof();
  const Inputs inputs = differing({text, replaced(text, "head_diameter = 34.0", "head_diameter = 34.5")});
  ASSERT_THAT(keys_of(inputs), ElementsAre("valve.intake_front.head_diameter"));
  EXPECT_THAT(inputs[0].also, ElementsAre("valve.intake_rear.head_diameter"));
}

TEST(Differing, AWholeTableAndALongListAreOneRow) {
  const EngineFile rest = read_engine(model_path("two_valve_wedge"));
  const EngineFile at_speed = read_engine(model_path("two_valve_wedge_at_speed"));
  const Inputs inputs = differing_inputs({&rest, &at_speed});
  std::size_t whole = 0;
  for (const DifferingInput& each : inputs) {
    if (!each.key.starts_with("running")) continue;
    ++whole;
    EXPECT_EQ(each.stated[0].text, "") << each.key;
    EXPECT_THAT(each.stated[1].text, ::testing::MatchesRegex("(1 key|[0-9]+ keys)")) << each.key;
  }
  EXPECT_GE(whole, 5u);
  // Another card: four points of two numbers, each another.
  const std::string text = file_text(model_path("inline_six_stock"));
  const std::string card = "{ at = 0.020, duration = 268.3 }, { at = 0.050, duration = 244.0 }";
  const std::string longer = replaced(text, card, "{ at = 0.006, duration = 289 }, " + card);
  const Inputs cards = differing({text, longer});
  ASSERT_THAT(keys_of(cards), ElementsAre("lobe.intake.durations"));
  EXPECT_THAT(texts_of(cards[0]), ElementsAre("8 numbers", "10 numbers"));
}

}  // namespace
}  // namespace eyebrow::testing
