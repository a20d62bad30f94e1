// What moved inputs do to least gaps: closed form over a flat crown, and differences of separate checks.
#include "eyebrow/effects.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/reading.hpp"
#include "eyebrow/spec.hpp"
#include "study/disc_engine.hpp"

namespace eyebrow::study {
namespace {

std::size_t gap_of(const Engine& engine, const std::string& name) {
  const std::vector<MapGap> gaps = map_gaps(engine);
  const auto at = std::ranges::find(gaps, name, gap_name);
  EXPECT_NE(at, gaps.end()) << name;
  return static_cast<std::size_t>(at - gaps.begin());
}

// Closed form: a gasket lifts a valve along the bore, so that its travel to a flat crown grows by 1 / cos(tilt); lash
// is taken from the lift one for one.
TEST(Effects, OfGasketAndLashOverAFlatCrown) {
  Engine engine = disc_engine();
  engine.valves[0].tilt = 12 * kDegree;
  engine.running_lash = true;
  engine.valves[0].lash = 0.2;
  const Mapper mapper(engine);
  const std::vector<Effect> found =
      effects(mapper, {{"gasket", 0.05}, {"lash", 0.05}}, [&](const std::string& key, double by) {
        Engine moved = engine;
        (key == "gasket" ? moved.gasket.thickness : moved.valves[0].lash) += by;
        return moved;
      });
  const std::size_t travel = gap_of(engine, engine.valves[0].name + ".travel");
  ASSERT_EQ(found.size(), 2u);
  EXPECT_NEAR(slope(found[0], travel), 1 / std::cos(12 * kDegree), 0.005);
  EXPECT_NEAR(slope(found[1], travel), 1, 0.005);
  EXPECT_NEAR(slope(found[0], gap_of(engine, "piston.head")), 1, 1e-9);
  EXPECT_NEAR(slope(found[1], gap_of(engine, "piston.head")), 0, 1e-9);
}

TEST(Effects, AreTheDifferencesOfSeparateChecks) {
  const EngineText text = EngineText::of_file(EYEBROW_MODELS "/two_valve_wedge.toml");
  const EngineFile file = text.read();
  const EngineMoved engine_moved = [&](const std::string& key, double by) {
    return text.engine({moved(key, file.origins.at(key), by)});
  };
  const std::vector<InputMove> moves{
      {"pocket.intake.diameter", 0.05}, {"valve.intake.tilt", 0.5 * kDegree}, {"cam.advance", 0.5 * kDegree}};
  const std::vector<Effect> found = effects(Mapper(file.engine), moves, engine_moved);
  const std::vector<MapGap> gaps = map_gaps(file.engine);
  const auto check = [&](const std::string& key, double by) {
    const Engine engine = engine_moved(key, by);
    return run_check(engine, build_parts(engine, {}), stepping(10 * kDegree)).asked;
  };
  for (std::size_t i = 0; i < moves.size(); ++i) {
    const std::vector<AskedRow> more = check(moves[i].key, moves[i].by), less = check(moves[i].key, -moves[i].by);
    for (std::size_t gap = 0; gap < gaps.size(); ++gap)
      EXPECT_NEAR(slope(found[i], gap) * 2 * moves[i].by, more[gap].found - less[gap].found, 0.002)
          << moves[i].key << " on " << gap_name(gaps[gap]);
  }
  // Half of what a pocket's diameter gains is the rim's.
  EXPECT_NEAR(slope(found[0], gap_of(file.engine, "intake.radial")), 0.5, 0.01);
}

TEST(Effects, AreToldOfTheOneSideThatThereIs) {
  Engine engine = disc_engine();
  const std::vector<Effect> found = effects(Mapper(engine), {{"gasket", 0.05}}, [&](const std::string&, double by) {
    if (by < 0) throw InputError({{"", 0, 0, "no thinner one is made"}});
    Engine moved = engine;
    moved.gasket.thickness += by;
    return moved;
  });
  const std::size_t head = gap_of(engine, "piston.head");
  EXPECT_TRUE(std::isnan(found[0].less[head]));
  EXPECT_NEAR(slope(found[0], head), 1, 1e-9);
}

TEST(ReadingErrors, AddAsTheRootOfTheSumOfSquares) {
  const std::vector<Effect> effects{{"a", 1, {0.03, 0, NAN}, {-0.02, 0, 0.01}}, {"b", 1, {-0.01, 0, 0}, {0.04, 0, 0}}};
  const std::vector<ReadingError> errors = reading_errors(effects, 3);
  EXPECT_NEAR(errors[0].plus_minus, 0.05, 1e-12);
  EXPECT_EQ(errors[0].most, "b");
  EXPECT_NEAR(errors[0].most_by, 0.04, 1e-12);
  EXPECT_EQ(errors[1].plus_minus, 0);
  EXPECT_EQ(errors[1].most, "");
  EXPECT_NEAR(errors[2].plus_minus, 0.01, 1e-12);
}

}  // namespace
}  // namespace eyebrow::study
