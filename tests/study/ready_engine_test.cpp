// An engine kept ready while its numbers change, against checks of the same engines from the beginning.
#include <gtest/gtest.h>

#include "eyebrow/quick.hpp"
#include "eyebrow/spec.hpp"
#include "study/refine.hpp"

namespace eyebrow {
namespace {

EngineText model(const std::string& name) {
  return EngineText::of_file(EYEBROW_MODELS "/" + name + ".toml");
}

void expect_same_numbers(const std::vector<double>& got, const std::vector<double>& expected, double off) {
  ASSERT_EQ(got.size(), expected.size());
  for (std::size_t i = 0; i < got.size(); ++i) {
    EXPECT_EQ(std::isnan(got[i]), std::isnan(expected[i])) << i;
    if (!std::isnan(expected[i])) {
      EXPECT_NEAR(got[i], expected[i], off) << i;
    }
  }
}

void expect_as_checked(const ReadyEngine& ready, const EngineFile& file) {
  const CheckResult check = run_check(file.engine, build_parts(file.engine, file.origins));
  const JudgedRows judged = ready.judged();
  EXPECT_EQ(judged.verdict, check.verdict);
  ASSERT_EQ(judged.rows.size(), check.asked.size());
  for (std::size_t i = 0; i < judged.rows.size(); ++i) {
    EXPECT_EQ(judged.rows[i].what, check.asked[i].what);
    EXPECT_EQ(judged.rows[i].valve, check.asked[i].valve);
    EXPECT_EQ(judged.rows[i].running, check.asked[i].running);
    EXPECT_EQ(judged.rows[i].holds, check.asked[i].holds);
    EXPECT_EQ(judged.rows[i].required, check.asked[i].required);
    // Twice what a search may be above the least: refine's 0.2 um, 0.3 for pairs and bore.
    if (!std::isnan(check.asked[i].found)) {
      EXPECT_NEAR(judged.rows[i].found, check.asked[i].found, 6e-4);
    }
  }
  const std::vector<Series> series = ready.series(study::cycle_grid(kDegree));
  ASSERT_EQ(series.size(), check.valves.size());
  for (std::size_t valve = 0; valve < series.size(); ++valve) {
    const Series &got = series[valve], &expected = check.valves[valve].series;
    expect_same_numbers(got.crank, expected.crank, 0);
    expect_same_numbers(got.lift, expected.lift, 0);
    // A valve moved by `moved` shares what was made ready: the same queries.
    expect_same_numbers(got.travel, expected.travel, 1e-9);
    expect_same_numbers(got.face, expected.face, 1e-9);
    expect_same_numbers(got.radial, expected.radial, 1e-9);
    expect_same_numbers(got.closest, expected.closest, 1e-9);
  }
}

TEST(ReadyEngine, FollowsEveryKindOfChange) {
  const EngineText text = model("two_valve_wedge");
  const EngineFile file = text.read();
  ReadyEngine ready(file.engine, file.origins);
  std::vector<Override> changes;
  for (const auto& [key, value, same] : {std::tuple("cam.advance", "3", true),
                                         {"valve.intake.x", "0.102", true},
                                         {"gasket.thickness", "0.050", false},
                                         {"pocket.intake.depth", "0.2", false},
                                         {"valve.exhaust.head_diameter", "1.61", false}}) {
    changes.push_back({key, value});
    const EngineFile changed = text.read(changes);
    const auto before = ready.parts();
    ready = ready.changed(changed.engine, changed.origins);
    EXPECT_EQ(ready.parts() == before, same) << key;
    EXPECT_EQ(ready.engine()->gasket.thickness, changed.engine.gasket.thickness);
  }
  expect_as_checked(ready, text.read(changes));
}

TEST(ReadyEngine, JudgesTheRunningEngineToo) {
  const EngineFile file = model("two_valve_wedge").read({{"running.rod_stretch.stretch", "0.004"}});
  ASSERT_TRUE(file.engine.running);
  expect_as_checked(ReadyEngine(file.engine, file.origins), file);
}

TEST(ReadyEngine, MovesAtOnceWhereCrownAndValvesAreTheSame) {
  const EngineText text = model("two_valve_wedge");
  const EngineFile file = text.read(), thicker = text.read({{"gasket.thickness", "0.060"}});
  const ReadyEngine ready(file.engine, file.origins);
  const auto moved = ready.moved(thicker.engine);
  ASSERT_TRUE(moved);
  EXPECT_EQ(moved->parts(), ready.parts());
  const std::vector<double> cranks = {-0.3, 0, 0.2};
  const ReadyEngine anew(thicker.engine, thicker.origins);
  for (std::size_t valve = 0; valve < 2; ++valve) {
    expect_same_numbers(moved->series(cranks)[valve].travel, anew.series(cranks)[valve].travel, 1e-9);
    EXPECT_NEAR(moved->gaps(static_cast<int>(valve), 0.2).travel.value, anew.series(cranks)[valve].travel[2], 1e-12);
  }
  EXPECT_FALSE(ready.moved(text.read({{"pocket.intake.depth", "0.2"}}).engine));
  EXPECT_FALSE(ready.moved(text.read({{"valve.intake.margin", "0.06"}}).engine));
}

TEST(ReadyEngine, StopsWhenAsked) {
  const EngineFile file = model("two_valve_wedge").read();
  const ReadyEngine ready(file.engine, file.origins);
  CheckOptions options;
  options.stop = [] { return true; };
  EXPECT_THROW(ready.judged(options), Interrupted);
  EXPECT_THROW(ready.series({0, 0.1}, options), Interrupted);
}

}  // namespace
}  // namespace eyebrow
