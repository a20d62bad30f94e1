// Maps over inputs against separate checks of each engine, and against closed form over a flat crown.
#include "eyebrow/map.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "eyebrow/spec.hpp"
#include "study/disc_engine.hpp"
#include "study/judge.hpp"

namespace eyebrow::study {
namespace {

using ::testing::HasSubstr;

Varied varied(const std::string& key, const std::string& unit, double from, double to, int count) {
  Varied input;
  input.key = key;
  input.unit = unit;
  for (int i = 0; i < count; ++i) input.values.push_back(count > 1 ? from + (to - from) * i / (count - 1) : from);
  return input;
}

/// A model's file with some numbers replaced.
struct File {
  EngineText text;
  std::vector<Override> set;
  explicit File(const std::string& name, std::vector<Override> with = {})
      : text(EngineText::of_file(EYEBROW_MODELS "/" + name + ".toml")), set(std::move(with)) {}
  Engine engine(const std::vector<Varied>& inputs, const std::vector<double>& values) const {
    std::vector<Override> all = set;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      char written[64];
      std::snprintf(written, sizeof written, "%.17g %s", values[i], inputs[i].unit.c_str());
      all.push_back({inputs[i].key, written});
    }
    return text.engine(all);
  }
  EngineAt at(const std::vector<Varied>& inputs) const {
    return [this, inputs](const std::vector<double>& values) { return engine(inputs, values); };
  }
};

/// Compares every `each`-th cell with a check of that engine by itself; how many gaps were compared.
int compare(const File& file, const std::vector<Varied>& inputs, std::size_t each) {
  const EngineAt at = file.at(inputs);
  const MapResult map = Mapper(file.text.engine(file.set)).map(inputs, at);
  int compared = 0;
  double worst = 0;
  const std::size_t across = inputs.front().values.size();
  for (std::size_t n = 0; n < map.cells.size(); n += each) {
    const MapCell& cell = map.cells[n];
    std::vector<double> values{inputs[0].values[n % across]};
    if (inputs.size() > 1) values.push_back(inputs[1].values[n / across]);
    CheckResult check;
    try {
      const Engine engine = at(values);
      check = run_check(engine, build_parts(engine, {}), stepping(10 * kDegree));
    } catch (const InputError& error) {
      EXPECT_EQ(cell.trouble, error.faults().front().message) << n;
      continue;
    }
    EXPECT_TRUE(cell.possible()) << n << cell.trouble;
    if (!cell.possible()) continue;
    EXPECT_EQ(cell.verdict, check.verdict) << n;
    for (const AskedRow& row : check.asked) {
      std::size_t gap = 0;
      while (gap < map.gaps.size() && !(map.gaps[gap].what == row.what && map.gaps[gap].valve == row.valve &&
                                        map.gaps[gap].running == row.running))
        ++gap;
      EXPECT_LT(gap, map.gaps.size()) << row.valve << " " << row.what;
      if (gap == map.gaps.size()) continue;
      EXPECT_EQ(cell.holds[gap], row.holds) << n << " " << gap_name(map.gaps[gap]);
      EXPECT_EQ(std::isnan(cell.found[gap]), std::isnan(row.found)) << n << " " << gap_name(map.gaps[gap]);
      if (std::isnan(row.found)) continue;
      ++compared;
      worst = std::max(worst, std::fabs(cell.found[gap] - row.found));
      EXPECT_NEAR(cell.found[gap], row.found, 3 * kMicrometre) << n << " " << gap_name(map.gaps[gap]);
    }
  }
  std::printf("%zu cells, %d gaps compared, worst %.1e mm\n", map.cells.size(), compared, worst);
  return compared;
}

TEST(Map, EqualsSeparateChecksWhereTheSolidsStay) {
  // Of cards: the least over all lobes that they allow; from fields.
  EXPECT_GT(compare(File("two_valve_wedge"),
                    {varied("cam.advance", "deg", -12, 12, 9), varied("gasket.thickness", "in", 0.03, 0.05, 3)}, 9),
            25);
}

TEST(Map, EqualsSeparateChecksAtJumps) {
  // Its radial gap comes into reach and jumps.
  EXPECT_GT(compare(File("canted_valve"),
                    {varied("cam.advance", "deg", -10, 10, 9), varied("gasket.thickness", "in", 0.03, 0.05, 3)}, 11),
            20);
}

TEST(Map, EqualsSeparateChecksWhereSolidsChange) {
  EXPECT_GT(compare(File("two_valve_wedge"),
                    {varied("pocket.intake.depth", "in", 0.10, 0.2, 3),
                     varied("valve.intake.head_diameter", "in", 1.98, 2.04, 2)},
                    3),
            20);
  EXPECT_GT(compare(File("two_valve_wedge"), {varied("valve.intake.tilt", "deg", 22.5, 23.5, 2)}, 1), 0);
}

TEST(Map, EqualsSeparateChecksOfOtherLobesAndTrains) {
  EXPECT_GT(compare(File("two_valve_wedge"),
                    {varied("lobe.intake.centre", "deg", 104, 110, 2), varied("head.milled", "in", 0, 0.02, 2)}, 3),
            20);
  EXPECT_GT(compare(File("two_valve_wedge_at_speed"), {varied("gasket.thickness", "in", 0.039, 0.039, 1)}, 1), 15)
      << "of the running engine too";
}

// Closed form: a rim over a flat crown is nearer by what the gasket is thinner, its travel by that over the tilt's
// cosine; what is taken up of lash, one for one.
TEST(Map, OverAFlatCrownTravelFollowsGasketAndLash) {
  Engine engine = disc_engine();
  engine.valves[0].tilt = 12 * kDegree;
  const Parts parts = disc_parts(engine);
  const study::Setup setup(engine, parts);
  Engine thicker = engine;
  thicker.gasket.thickness += 0.25;
  const double before = judged_least(setup, 0, GapKind::travel);
  EXPECT_NEAR(judged_least(study::Setup(setup, thicker), 0, GapKind::travel) - before, 0.25 / std::cos(12 * kDegree),
              kMicrometre);
  Engine loose = engine;
  loose.running_lash = true;
  loose.valves[0].lash = 0.2;
  EXPECT_NEAR(judged_least(study::Setup(setup, loose), 0, GapKind::travel) - before, 0.2, kMicrometre);
}

TEST(Map, SaysWhyThereIsNoEngine) {
  const File file("two_valve_wedge");
  const std::vector<Varied> inputs{varied("pocket.intake.diameter", "in", 0.5, 2.5, 2)};
  const MapResult map = Mapper(file.text.engine({})).map(inputs, [&](const std::vector<double>& values) {
    if (values[0] < 1) throw InputError({{"", 0, 0, "too narrow"}});
    return file.engine({}, {});
  });
  EXPECT_EQ(map.at(0).trouble, "too narrow");
  EXPECT_FALSE(map.at(0).allowed());
  EXPECT_TRUE(map.at(1).possible());
}

/// By a check of its own.
Verdict verdict_at(const File& file, const Varied& input, double value) {
  const Engine engine = file.engine({input}, {value});
  return run_check(engine, build_parts(engine, {}), stepping(10 * kDegree)).verdict;
}

void expect_brackets(const File& file, const Varied& input, const std::string& low, const std::string& high) {
  const Mapper mapper(file.text.engine(file.set));
  const MapResult map = mapper.map({input}, file.at({input}));
  const std::vector<AllowedRange> ranges = mapper.allowed(map, file.at({input}));
  ASSERT_EQ(ranges.size(), 1u);
  const AllowedRange& range = ranges.front();
  EXPECT_EQ(verdict_at(file, input, range.low.at), Verdict::holds);
  EXPECT_EQ(verdict_at(file, input, range.high.at), Verdict::holds);
  EXPECT_EQ(verdict_at(file, input, range.low.at - range.step), Verdict::short_);
  EXPECT_EQ(verdict_at(file, input, range.high.at + range.step), Verdict::short_);
  ASSERT_GE(range.low.gap, 0);
  ASSERT_GE(range.high.gap, 0);
  EXPECT_EQ(gap_name(map.gaps[static_cast<std::size_t>(range.low.gap)]), low);
  EXPECT_EQ(gap_name(map.gaps[static_cast<std::size_t>(range.high.gap)]), high);
  if (std::isnan(range.high.contact)) return;
  EXPECT_EQ(verdict_at(file, input, range.high.contact), Verdict::contact);
  EXPECT_EQ(verdict_at(file, input, range.high.contact - range.step), Verdict::short_);
}

TEST(Allowed, EndsBracketTheTruth) {
  expect_brackets(File("two_valve_wedge"), varied("cam.advance", "deg", -20, 20, 9), "exhaust.travel", "intake.travel");
}

// Where more radial gap is asked, that one ends the range instead.
TEST(Allowed, AnotherGapTakesItsTurnAsTheLimit) {
  expect_brackets(File("two_valve_wedge", {{"asked.intake.closest", "0.0565 in"}, {"asked.intake.travel", "0.020 in"}}),
                  varied("cam.advance", "deg", -20, 20, 9), "exhaust.travel", "intake.closest");
}

TEST(Allowed, AnEndOfTheMapIsNoLimit) {
  const File file("two_valve_wedge");
  const Varied input = varied("cam.advance", "deg", -2, 1, 4);
  const Mapper mapper(file.text.engine({}));
  const std::vector<AllowedRange> ranges = mapper.allowed(mapper.map({input}, file.at({input})), file.at({input}));
  ASSERT_EQ(ranges.size(), 1u);
  EXPECT_TRUE(ranges[0].low.open);
  EXPECT_TRUE(ranges[0].high.open);
}

TEST(TightestGap, PrefersWhatDoesNotHold) {
  MapCell cell;
  cell.found = {1, 2, NAN, 0.4};
  cell.margin = {0.5, -0.1, NAN, -0.3};
  cell.holds = {true, false, true, true};
  EXPECT_EQ(tightest_gap(cell), 1) << "the last one is held by another gap";
  cell.holds = {true, true, true, true};
  EXPECT_EQ(tightest_gap(cell), 3);
  cell.holds = {true, false, false, true};
  EXPECT_EQ(tightest_gap(cell), 2) << "none, and none holds it";
  EXPECT_EQ(tightest_gap({}), -1);
}

}  // namespace
}  // namespace eyebrow::study
