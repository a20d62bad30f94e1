// One-number changes that flip exactly the named asked gap of an example engine and no other. Where two asked gaps are
// one requirement told twice they flip together: travel and face over a floor parallel to the valve (the axial
// requirement is held by the lesser of the two), radial and closest where the closest asked follows the radial's.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow {
namespace {

struct Flip {
  const char* model;
  const char* change;               ///< key=value; empty: as the file has it
  std::vector<std::string> shorts;  ///< "what valve"
};

void PrintTo(const Flip& flip, std::ostream* out) {
  *out << flip.model << " " << flip.change;
}

class Flips : public testing::TestWithParam<Flip> {};

TEST_P(Flips, JustTheNamedGap) {
  const Flip& flip = GetParam();
  std::vector<Override> overrides;
  if (*flip.change != 0) overrides.push_back(parse_override(flip.change));
  const EngineFile file = read_engine(std::string(EYEBROW_MODELS) + "/" + flip.model + ".toml", overrides);
  CheckOptions options;
  options.step = 4 * kDegree;  // the least gaps do not depend on it (tested elsewhere)
  const CheckResult result = run_check(file.engine, build_parts(file.engine, file.origins), options);
  std::vector<std::string> shorts;
  for (const AskedRow& row : result.asked)
    if (!row.holds) shorts.push_back(row.valve.empty() ? row.what : row.what + " " + row.valve);
  EXPECT_THAT(shorts, testing::UnorderedElementsAreArray(flip.shorts));
  EXPECT_EQ(result.verdict, flip.shorts.empty() ? Verdict::holds : Verdict::short_);
}

INSTANTIATE_TEST_SUITE_P(
    Wedge, Flips,
    testing::Values(Flip{"two_valve_wedge", "cam.advance=3", {"travel intake", "face intake"}},
                    Flip{"two_valve_wedge", "cam.advance=-4", {"travel exhaust", "face exhaust"}},
                    Flip{"two_valve_wedge", "pocket.intake.depth=0.135", {"travel intake", "face intake"}},
                    Flip{"two_valve_wedge", "pocket.intake.diameter=2.120", {"radial intake", "closest intake"}},
                    Flip{"two_valve_wedge", "pocket.exhaust.diameter=1.700", {"radial exhaust", "closest exhaust"}},
                    Flip{"two_valve_wedge", "gasket.thickness=0.039", {"piston to head"}},
                    Flip{"two_valve_wedge", "asked.valve_to_valve=0.100", {"valve to valve intake / exhaust"}},
                    Flip{"two_valve_wedge", "asked.valve_to_bore=0.140", {"valve to bore intake"}}));

INSTANTIATE_TEST_SUITE_P(
    Stock, Flips,
    testing::Values(Flip{"inline_six_stock", "", {}},
                    Flip{"inline_six_stock", "cam.advance=6", {"travel intake", "face intake"}},
                    Flip{"inline_six_stock", "pocket.exhaust.depth=0.100", {"travel exhaust", "face exhaust"}},
                    Flip{"inline_six_stock", "pocket.intake.diameter=1.800", {"radial intake", "closest intake"}},
                    Flip{"inline_six_stock", "gasket.thickness=0.034", {"piston to head"}}));

INSTANTIATE_TEST_SUITE_P(BigValve, Flips,
                         testing::Values(Flip{"inline_six_big_valve", "", {"radial intake", "closest intake"}},
                                         Flip{"inline_six_big_valve", "pocket.intake.diameter=2.010", {}},
                                         Flip{"inline_six_big_valve",
                                              "pocket.exhaust.diameter=1.670",
                                              {"radial intake", "closest intake", "radial exhaust"}}));

INSTANTIATE_TEST_SUITE_P(PentRoof, Flips,
                         testing::Values(Flip{"four_valve_pent_roof",
                                              "pocket.intake_front.diameter=36.4",
                                              {"radial intake_front",
                                               "radial intake_rear"}},  // the rear is "like" the front
                                         Flip{"four_valve_pent_roof", "gasket.thickness=0.75", {"piston to head"}}));

INSTANTIATE_TEST_SUITE_P(
    Canted, Flips,
    testing::Values(Flip{"canted_valve", "pocket.intake.diameter=2.33", {"radial intake", "closest intake"}},
                    Flip{"canted_valve", "pocket.exhaust.diameter=1.97", {"radial exhaust"}},
                    Flip{"canted_valve", "gasket.thickness=0.019", {"piston to head"}}));

}  // namespace
}  // namespace eyebrow
