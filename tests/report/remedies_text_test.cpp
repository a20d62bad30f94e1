// What would restore a gap, made by hand, as a check tells it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "report/remedies_text.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using testing::kInches;
using testing::kMm;
using testing::sample_result;

std::vector<GapRemedies> made_remedies() {
  const MapGap radial{"radial", "intake", 0.050 * kInch, false}, travel{"travel", "exhaust", 0.120 * kInch, false},
      face{"face", "intake", 0.080 * kInch, false};
  Remedy wider;
  wider.input = {"pocket.intake.diameter", "in", 1.94, 1e-4, 0, 0.39};
  wider.restores = true;
  wider.value = 1.9975;
  wider.found = 0.050 * kInch;
  wider.others = {{travel, 0, true, true}, {face, -0.006 * kInch, true, true}};
  Remedy later;
  later.input = {"cam.advance", "deg", 0, 0.01, 30, 30};
  later.restores = true;
  later.value = -23.97;
  later.others = {{travel, -0.122 * kInch, true, false}, {face, 0.046 * kInch, false, false}};
  Remedy deeper;
  deeper.input = {"pocket.intake.depth", "in", 0.148, 1e-4, 0, 0.197};
  deeper.least = 0.148;
  deeper.most = 0.3448;
  Remedy thicker;
  thicker.input = {"gasket.thickness", "mm", 1, 1e-3, 0, 2};
  thicker.least = 1;
  thicker.most = 1.4;
  thicker.trouble = "gasket.thickness is out of range";
  return {{radial, 0.021 * kInch, {wider, later, deeper, thicker}}};
}

TEST(RemediesText, Golden) {
  EXPECT_EQ(remedies_text(made_remedies(), kInches), R"GOLD(
To restore intake.radial (0.021 of 0.050 in), each of these alone; a step less does not:
  pocket.intake.diameter = 1.9975 in   widens the pocket by 0.0575 in
      takes intake.face -0.006
  These won't do it alone, as they make another gap short:
  cam.advance = -23.97 deg   retards the cam by 23.97 deg
      takes exhaust.travel -0.122 (then short); gives intake.face +0.046 (still short)
  Not enough alone, as far as each was tried: pocket.intake.depth (to 0.3448 in), gasket.thickness
    (to 1.400 mm, no further engine)
Try one with --set KEY=VALUE, and ask for more than the least.
A pocket cut deeper, wider or elsewhere thins the crown: a check with the change made tells what
that leaves, where ring groove and underside are in the file. The maker's limit rules.
)GOLD");
}

TEST(RemediesText, OfAMeasuredCylinderSaysWhatToChange) {
  const std::string text = remedies_text(made_remedies(), kInches, "5");
  EXPECT_THAT(text, ::testing::HasSubstr("Looked for in cylinder 5 alone, by its own numbers."));
  EXPECT_THAT(text, ::testing::Not(::testing::HasSubstr("--set")));
}

TEST(RemediesText, IsEmptyWithoutAny) {
  EXPECT_EQ(remedies_text({}, kMm), "");
}

TEST(RemediesText, SaysSoWhereNothingDoes) {
  std::vector<GapRemedies> none = made_remedies();
  none.front().remedies.erase(none.front().remedies.begin(), none.front().remedies.begin() + 2);
  EXPECT_THAT(remedies_text(none, kMm), ::testing::HasSubstr("  none of the numbers that were tried\n"));
}

TEST(RemediesJson, HasThemAll) {
  CheckResult result = sample_result();
  result.remedies = made_remedies();
  const auto json = nlohmann::json::parse(check_json(result));
  ASSERT_EQ(json["remedies"].size(), 1u);
  EXPECT_EQ(json["remedies"][0]["gap"], "intake.radial");
  const auto& inputs = json["remedies"][0]["inputs"];
  ASSERT_EQ(inputs.size(), 4u);
  EXPECT_EQ(inputs[0]["key"], "pocket.intake.diameter");
  EXPECT_EQ(inputs[0]["value"], 1.9975);
  EXPECT_EQ(inputs[0]["spoils"], false);
  EXPECT_EQ(inputs[1]["spoils"], true);
  EXPECT_EQ(inputs[1]["others"][0]["holds"], false);
  EXPECT_EQ(inputs[2]["restores"], false);
  EXPECT_EQ(inputs[2]["value"], nullptr);
  EXPECT_EQ(inputs[2]["looked_to"], 0.3448);
}

}  // namespace
}  // namespace eyebrow
