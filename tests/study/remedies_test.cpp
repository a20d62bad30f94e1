// What would restore a short gap: found values bracket the end, closed forms over a flat crown, and what cannot do it.
#include "eyebrow/remedies.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/spec.hpp"
#include "study/running_others.hpp"

namespace eyebrow::study {
namespace {

/// An engine file with overrides, and what would restore its gaps.
struct Mended {
  EngineText text;
  std::vector<Override> overrides;
  EngineFile file;
  Mapper mapper;
  std::vector<GapRemedies> found;

  explicit Mended(const std::string& model, std::vector<Override> set = {})
      : text(EngineText::of_file(EYEBROW_MODELS "/" + model + ".toml")),
        overrides(std::move(set)),
        file(text.read(overrides)),
        mapper(file.engine),
        found(remedies(mapper, file.origins,
                       [this](const RemedyInput& input, double value) { return with(input, value); })) {}

  Engine with(const RemedyInput& input, double value) const {
    std::vector<Override> all = overrides;
    all.push_back({input.key, fmt::format("{} {}", value, input.unit)});
    return text.engine(all);
  }
  /// Is the gap held with the input there, by a map's cell?
  MapCell cell(const RemedyInput& input, double value) const {
    return mapper
        .map({{input.key, input.unit, {value}, input.now}},
             [&](const std::vector<double>& values) { return with(input, values.front()); })
        .cells.front();
  }
  const GapRemedies& of(const std::string& gap) const {
    for (const GapRemedies& each : found)
      if (gap_name(each.gap) == gap) return each;
    throw std::runtime_error("no such gap is short: " + gap);
  }
  const Remedy& remedy(const std::string& gap, const std::string& key) const {
    for (const Remedy& each : of(gap).remedies)
      if (each.input.key == key) return each;
    throw std::runtime_error("nothing was looked at: " + key);
  }
  std::size_t number(const std::string& gap) const {
    const auto gaps = map_gaps(file.engine);
    std::size_t i = 0;
    while (gap_name(gaps.at(i)) != gap) ++i;
    return i;
  }
};

/// What is told restores the gap, and 5 um or 0.01 degrees nearer to today does not.
void expect_ends(const Mended& mended, const GapRemedies& of) {
  const std::size_t gap = mended.number(gap_name(of.gap));
  for (const Remedy& remedy : of.remedies) {
    if (!remedy.restores) continue;
    const RemedyInput& input = remedy.input;
    SCOPED_TRACE(gap_name(of.gap) + " by " + input.key);
    const double eased = input.unit == "deg" ? 0.01 : input.unit == "in" ? 0.005 / kInch : 0.005;
    const MapCell there = mended.cell(input, remedy.value);
    const MapCell nearer = mended.cell(input, remedy.value + std::copysign(eased, input.now - remedy.value));
    ASSERT_TRUE(there.possible() && nearer.possible());
    EXPECT_TRUE(there.holds[gap]);
    EXPECT_FALSE(nearer.holds[gap]);
    if (std::isfinite(remedy.found)) {
      EXPECT_NEAR(there.found[gap], remedy.found, 0.003);
    }
    std::size_t i = 0;
    for (const Remedy::Other& other : remedy.others) {
      if (i == gap) ++i;
      EXPECT_EQ(other.holds, there.holds[i]) << gap_name(other.gap);
      ++i;
    }
  }
}

// The example of a rim by the wall of a pocket that was cut for a smaller valve.
TEST(Remedies, TheBigValvesPocketIsOpenedOrShifted) {
  const Mended six("inline_six_big_valve");
  ASSERT_EQ(six.found.size(), 2u);
  expect_ends(six, six.of("intake.radial"));
  EXPECT_TRUE(six.remedy("intake.radial", "pocket.intake.diameter").restores);
  EXPECT_TRUE(six.remedy("intake.radial", "pocket.intake.x").restores);
  EXPECT_FALSE(six.remedy("intake.radial", "pocket.intake.depth").restores);
  EXPECT_FALSE(six.remedy("intake.radial", "gasket.thickness").restores);
  const Remedy& cam = six.remedy("intake.radial", "cam.advance");
  EXPECT_TRUE(!cam.restores || cam.spoils()) << "timing alone does not";
  EXPECT_FALSE(six.remedy("intake.radial", "pocket.intake.diameter").spoils());
}

// The piston stands the gasket's thickness lower for each of it, so piston to head follows it one for one.
TEST(Remedies, PistonToHeadAsksForTheGasketThatIsMissing) {
  const Mended wedge("two_valve_wedge", {{"asked.piston_to_head", "0.0505"}});
  ASSERT_EQ(wedge.found.size(), 1u);
  ASSERT_EQ(wedge.of("piston.head").remedies.size(), 1u);
  const Remedy& gasket = wedge.remedy("piston.head", "gasket.thickness");
  ASSERT_TRUE(gasket.restores);
  const double missing = 0.0505 - (piston_to_head(wedge.file.engine) / kInch);
  EXPECT_NEAR(gasket.value, gasket.input.now + missing, 1.0001e-4);
  EXPECT_GE(gasket.value, gasket.input.now + missing - 1e-9);
}

// A seat that is sunk takes the closed valve up its stem, and the whole motion with it: travel follows one for one.
TEST(Remedies, TravelAsksForTheSeatThatIsMissing) {
  const Mended wedge("two_valve_wedge", {{"asked.intake.travel", "2.6 mm"}});
  const Remedy& seat = wedge.remedy("intake.travel", "valve.intake.sunk");
  ASSERT_TRUE(seat.restores);
  const double missing = 2.6 - wedge.of("intake.travel").found;
  EXPECT_NEAR(seat.value * kInch, missing, 0.0001 * kInch + 0.001);
}

TEST(Remedies, NoneWhereEverythingHolds) {
  EXPECT_TRUE(Mended("inline_six_stock").found.empty());
}

TEST(Remedies, StopsWhereSomebodyAsksTo) {
  CheckOptions options;
  options.stop = [] { return true; };
  const Mended short_one("two_valve_wedge", {{"asked.piston_to_head", "0.0505"}});
  EXPECT_THROW(remedies(
                   short_one.mapper, short_one.file.origins,
                   [&](const RemedyInput& input, double value) { return short_one.with(input, value); }, options),
               Interrupted);
}

}  // namespace
}  // namespace eyebrow::study
