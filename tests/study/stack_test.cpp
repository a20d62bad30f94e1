// Tolerance stacks: closed form over a flat crown, an independent search over the motion alone, and what must not
// change.
#include "eyebrow/stack.hpp"

#include <gtest/gtest.h>
#include <tbb/global_control.h>

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/triangular.hpp>
#include <cmath>
#include <cstdlib>
#include <map>
#include <random>

#include "eyebrow/motion.hpp"
#include "eyebrow/reading.hpp"
#include "eyebrow/spec.hpp"
#include "eyebrow/stack_report.hpp"
#include "study/disc_engine.hpp"
#include "study/stack_draw.hpp"
#include "study/stack_share.hpp"

namespace eyebrow::study {
namespace {

using Shape = Tolerance::Shape;

const StackGap& gap_of(const StackResult& result, const std::string& name) {
  const auto at = std::ranges::find_if(result.gaps, [&](const StackGap& gap) { return gap_name(gap.gap) == name; });
  EXPECT_NE(at, result.gaps.end()) << name;
  return *at;
}

double normal_cdf(double x) {
  return boost::math::cdf(boost::math::normal(), x);
}

Engine with_gasket_and_deck(Engine engine, const std::vector<double>& by) {
  engine.gasket.thickness += by[0];
  engine.cylinder.deck_clearance += by[1];
  return engine;
}

StackResult of_gasket_and_deck(const Engine& engine, const std::vector<Tolerance>& tolerances,
                               const StackOptions& options = {}) {
  return stack(
      Mapper(engine), tolerances, [&](const std::vector<double>& by) { return with_gasket_and_deck(engine, by); },
      options);
}

// Reference: Boost.Math's distributions.
TEST(StackDraw, QuantilesAreThoseOfTheShapes) {
  const Tolerance uniform{"a", Shape::uniform, 0.3, 0}, triangular{"b", Shape::triangular, 0.3, 0},
      normal{"c", Shape::normal, 0, 0.1}, cut{"d", Shape::normal, 0.3, 0.1};
  const boost::math::triangular_distribution<> reference(-0.3, 0, 0.3);
  const double tail = normal_cdf(-3);
  for (const double q : {1e-6, 0.01, 0.3, 0.5, 0.77, 0.999}) {
    EXPECT_NEAR(quantile(uniform, q), 0.6 * q - 0.3, 1e-12);
    EXPECT_NEAR(quantile(triangular, q), boost::math::quantile(reference, q), 1e-12);
    EXPECT_NEAR(quantile(normal, q), 0.1 * boost::math::quantile(boost::math::normal(), q), 1e-12);
    // Cut off at both ends, closed form: what is within them, scaled up.
    EXPECT_NEAR((normal_cdf(quantile(cut, q) / 0.1) - tail) / (1 - 2 * tail), q, 1e-12);
    for (const Tolerance& of : {uniform, triangular, normal, cut})
      EXPECT_NEAR(share_up_to(of, quantile(of, q)), q, 1e-12);
  }
}

// Over 60 seeds the 95 % interval misses the true share three times on average; ten times or more by chance once in
// 1000 (binomial).
TEST(StackShare, IntervalsHoldTheTrueShare) {
  const StackDrivers drivers({{"a", Shape::normal, 0, 1}});
  int missed = 0;
  StackPoint point(1);
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    std::size_t below = 0;
    for (std::uint64_t i = 0; i < 5000; ++i) {
      draw(drivers, seed, StackStream::samples, i, point);
      below += point[0] * 3 < -2;
    }
    const auto [low, high] = share_interval(below, below, 5000);
    missed += !(low <= normal_cdf(-2) && normal_cdf(-2) <= high);
  }
  EXPECT_LT(missed, 10);
  // Clopper and Pearson's ends for none and all of n, closed form: 1 - 0.025^(1/n).
  EXPECT_NEAR(share_interval(0, 0, 20).second, 1 - std::pow(0.025, 1.0 / 20), 1e-12);
  EXPECT_NEAR(share_interval(20, 20, 20).first, std::pow(0.025, 1.0 / 20), 1e-12);
  EXPECT_EQ(share_interval(0, 0, 20).first, 0);
}

// Closed form: gasket and deck clearance add to every height over a flat crown one for one.
TEST(Stack, OfNormalTolerancesIsClosedForm) {
  Engine engine = disc_engine();
  engine.asked.piston_to_head = 1.1;
  const double one = 0.05, other = 0.03, both = std::hypot(one, other);
  const StackResult result =
      of_gasket_and_deck(engine, {{"gasket", Shape::normal, 0, one}, {"deck", Shape::normal, 0, other}}, {200000, 7});
  EXPECT_TRUE(result.endless);
  for (const std::string name : {"piston.head", "intake.travel"}) {
    const StackGap& gap = gap_of(result, name);
    EXPECT_NEAR(gap.worst.value, gap.nominal - 3 * (one + other), kMicrometre) << name;
    EXPECT_NEAR(gap.rss, gap.nominal - 3 * both, kMicrometre) << name;
    EXPECT_NEAR(gap.p50, gap.nominal, 0.001) << name;
    EXPECT_NEAR(gap.deviation, both, 0.01 * both) << name;
    EXPECT_NEAR(gap.p1, gap.nominal - 2.3263 * both, 0.02 * both) << name;
    ASSERT_EQ(gap.parts.size(), 2u) << name;
    EXPECT_EQ(gap.parts[0].driver, 0u);
    EXPECT_NEAR(gap.parts[0].share, one * one / (both * both), 0.04) << name;
  }
  const StackGap& head = gap_of(result, "piston.head");
  EXPECT_NEAR(head.nominal, 1.2, 1e-9);
  const double below = normal_cdf((1.1 - 1.2) / both);
  EXPECT_LE(head.low, below);
  EXPECT_GE(head.high, below);
  EXPECT_LT(head.high - head.low, 0.005);
  EXPECT_EQ(gap_of(result, "intake/exhaust").parts.size(), 0u) << "two valves do not know of the piston";
}

TEST(Stack, SharedNamesMoveTogether) {
  Engine engine = disc_engine();
  engine.asked.piston_to_head = 1.1;
  const StackGap alike = gap_of(of_gasket_and_deck(engine, {{"gasket", Shape::uniform, 0.1, 0, "press"},
                                                            {"deck", Shape::uniform, 0.05, 0, "press"}}),
                                "piston.head");
  // One number from -1 to 1 takes 0.15 either way: 1.1 is a sixth of the way up.
  EXPECT_NEAR(alike.share, 1.0 / 6, 0.004);
  EXPECT_LE(alike.low, 1.0 / 6);
  EXPECT_GE(alike.high, 1.0 / 6);
  EXPECT_NEAR(alike.worst.value, 1.05, 1e-6);
  EXPECT_NEAR(alike.rss, 1.05, 1e-6);
  ASSERT_EQ(alike.parts.size(), 1u);

  // Of two shapes each stands at the same share of its own.
  const Tolerance uniform{"gasket", Shape::uniform, 0.1, 0, "press"},
      triangular{"deck", Shape::triangular, 0.05, 0, "press"};
  const StackDrivers drivers({uniform, triangular});
  ASSERT_EQ(drivers.size(), 1u);
  for (const double q : {0.02, 0.4, 0.9}) {
    const std::vector<double> by = drivers.by({drivers.place(0, q)});
    EXPECT_NEAR(by[0], quantile(uniform, q), 1e-12);
    EXPECT_NEAR(by[1], quantile(triangular, q), 1e-12);
  }
  EXPECT_NEAR(drivers.by({-1})[1], -0.05, 1e-12);
  EXPECT_NEAR(drivers.by({1})[1], 0.05, 1e-12);
}

/// Least travel of the intake over the flat crown by the motion alone: its rim's height over the crown.
double travel_by_motion(const Engine& engine) {
  const Motion motion(engine);
  const double rim = engine.valves[0].rim_height;
  double least = INFINITY, at = 0;
  const auto height = [&](double crank) { return rim - motion.lift(0, crank) - motion.height(crank); };
  for (double crank = -20 * kDegree; crank <= 60 * kDegree; crank += 2 * kDegree)
    if (const double here = height(crank); here < least) {
      least = here;
      at = crank;
    }
  for (double step = kDegree; step > 0.01 * kDegree; step *= 0.5)
    for (const double way : {-step, step})
      if (const double here = height(at + way); here < least) {
        least = here;
        at += way;
      }
  return least;
}

class Moving : public ::testing::Test {
 protected:
  Moving() {
    base_.running_lash = true;
    base_.valves[0].lash = 0.2;
    base_.asked.valve[Role::intake].travel = gap_nominal() - 0.15;
  }
  double gap_nominal() const { return travel_by_motion(base_); }
  Engine moved(const std::vector<double>& by) const {
    Engine engine = base_;
    engine.cams[0].advance += by[0];
    engine.cylinder.deck_clearance += by[1];
    engine.valves[0].rim_height += by[2];
    engine.lobes[0].lift += by[3];
    engine.valves[0].lash += by[4];
    engine.cylinder.rod_length += by[5];
    return engine;
  }
  StackResult run(const StackOptions& options = {}) const {
    return stack(
        Mapper(base_), tolerances_, [this](const std::vector<double>& by) { return moved(by); }, options);
  }

  Engine base_ = disc_engine();
  std::vector<Tolerance> tolerances_{
      {"advance", Shape::uniform, 4 * kDegree, 0}, {"deck", Shape::triangular, 0.1, 0},
      {"rim_height", Shape::normal, 0.15, 0.05},   {"lift", Shape::uniform, 0.1, 0, "cam"},
      {"lash", Shape::uniform, 0.05, 0, "cam"},    {"rod", Shape::uniform, 2.0, 0}};
};

// A search that shares nothing with the stack but the motion: 100 starts, each input in turn to the best of five
// places until none betters it.
TEST_F(Moving, WorstIsWhatAnIndependentSearchFindsAndNoSampleIsBelow) {
  const StackResult result = run({1000000, 3});
  const StackGap& travel = gap_of(result, "intake.travel");
  EXPECT_NEAR(travel.nominal, gap_nominal(), kMicrometre);
  const StackDrivers drivers(tolerances_);
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> anywhere(-1, 1);
  double least = INFINITY;
  for (int start = 0; start < 100; ++start) {
    StackPoint point(drivers.size());
    for (double& place : point) place = anywhere(random);
    double value = travel_by_motion(moved(drivers.by(point)));
    EXPECT_GE(value, travel.worst.value - kMicrometre) << "a random engine";
    for (bool better = true; better;) {
      better = false;
      for (std::size_t driver = 0; driver < point.size(); ++driver)
        for (const double place : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
          StackPoint other = point;
          other[driver] = place;
          if (const double there = travel_by_motion(moved(drivers.by(other))); there < value - 1e-6) {
            value = there;
            point = other;
            better = true;
          }
        }
    }
    least = std::min(least, value);
  }
  EXPECT_NEAR(travel.worst.value, least, 10 * kMicrometre);
  EXPECT_NEAR(travel.worst.value, travel_by_motion(moved(travel.worst.by)), kMicrometre);
  ASSERT_FALSE(travel.edges.empty());
  EXPECT_GE(travel.edges.front(), travel.worst.value - 1e-6) << "the lowest of a million";
  EXPECT_LE(travel.worst.bound, travel.worst.value);
  EXPECT_LT(travel.residual, 0.003);
}

/// A model's engines within tolerances that only move parts.
struct OfModel {
  EngineText text = EngineText::of_file(EYEBROW_MODELS "/two_valve_wedge_stack.toml");
  EngineFile file = text.read();
  Mapper mapper{file.engine};
  std::vector<Tolerance> tolerances{{"gasket.thickness", Shape::uniform, 0.05, 0},
                                    {"cylinder.deck_clearance", Shape::triangular, 0.08, 0},
                                    {"cam.advance", Shape::uniform, 2 * kDegree, 0}};

  Engine moved_by(const std::vector<double>& by) const {
    std::vector<Override> overrides;
    for (std::size_t i = 0; i < by.size(); ++i)
      overrides.push_back(moved(tolerances[i].key, file.origins.at(tolerances[i].key), by[i]));
    return text.engine(overrides);
  }
  /// What a check judges of all gaps at each of these places, which are made to differ.
  std::map<StackPoint, MapCell> cells(const StackDrivers& drivers, std::vector<StackPoint> points) const {
    std::ranges::sort(points);
    points.erase(std::ranges::unique(points).begin(), points.end());
    Varied number;
    number.key = "engine";
    for (std::size_t i = 0; i < points.size(); ++i) number.values.push_back(static_cast<double>(i));
    const MapResult map = mapper.map({number}, [&](const std::vector<double>& at) {
      return moved_by(drivers.by(points[static_cast<std::size_t>(at.front())]));
    });
    std::map<StackPoint, MapCell> known;
    for (std::size_t i = 0; i < points.size(); ++i) known.emplace(points[i], map.cells[i]);
    return known;
  }
};

// Pockets, walls and mouths: the worst of every gap is no less low than where a local search from many starts ends,
// each time to the best of five places of any one driver until none betters it, all by what a check judges; and none of
// a million samples is below. EYEBROW_STACK_STARTS=100 by hand.
TEST(Stack, WorstOfAModelIsWhatALocalSearchFinds) {
  const char* asked = std::getenv("EYEBROW_STACK_STARTS");
  const OfModel model;
  const StackDrivers drivers(model.tolerances);
  const StackResult result = stack(model.mapper, model.tolerances,
                                   [&](const std::vector<double>& by) { return model.moved_by(by); }, {1000000, 4});
  std::mt19937_64 random(12);
  std::uniform_real_distribution<double> anywhere(-1, 1);
  std::vector<std::size_t> gaps;
  for (std::size_t gap = 0; gap < result.gaps.size(); ++gap) {
    const StackGap& told = result.gaps[gap];
    if (told.edges.empty() || told.parts.empty()) continue;  // no input moves it
    gaps.push_back(gap);
    EXPECT_GE(told.edges.front(), told.worst.value - 1e-6) << gap_name(told.gap) << ": the lowest of a million";
  }
  EXPECT_GE(gaps.size(), 8u);
  /// One start of one gap's search.
  struct Walk {
    std::size_t gap;
    StackPoint at;
    double value = INFINITY;
    bool ended = false;
  };
  std::vector<Walk> walks;
  for (int start = 0; start < (asked ? std::atoi(asked) : 2); ++start) {
    StackPoint point(drivers.size());
    for (double& place : point) place = anywhere(random);
    for (const std::size_t gap : gaps) walks.push_back({gap, point});
  }
  const auto places_from = [&](const StackPoint& at) {
    std::vector<StackPoint> places{at};
    for (std::size_t driver = 0; driver < at.size(); ++driver)
      for (const double place : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
        places.push_back(at);
        places.back()[driver] = place;
      }
    return places;
  };
  for (bool any = true; any;) {
    std::vector<StackPoint> tried;
    for (const Walk& walk : walks)
      if (!walk.ended)
        for (StackPoint& place : places_from(walk.at)) tried.push_back(std::move(place));
    const std::map<StackPoint, MapCell> cells = model.cells(drivers, tried);
    any = false;
    for (Walk& walk : walks) {
      if (walk.ended) continue;
      const double before = walk.value;
      for (const StackPoint& place : places_from(walk.at))
        if (const double there = cells.at(place).found[walk.gap]; there < walk.value - 1e-6) {
          walk.value = there;
          walk.at = place;
        }
      walk.ended = !(walk.value < before);
      any = any || !walk.ended;
    }
  }
  for (const std::size_t gap : gaps) {
    SCOPED_TRACE(gap_name(result.gaps[gap].gap));
    double least = INFINITY;
    for (const Walk& walk : walks)
      if (walk.gap == gap) least = std::min(least, walk.value);
    EXPECT_LE(result.gaps[gap].worst.value, least + 3 * kMicrometre);
    EXPECT_GE(result.gaps[gap].worst.value, least - 10 * kMicrometre);
  }
}

// The share that is short, by engines drawn with another generator and computed by the motion alone.
TEST_F(Moving, ShareBelowIsThatOfEnginesDrawnOtherwise) {
  const StackGap travel = gap_of(run(), "intake.travel");
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> share(0, 1);
  const StackDrivers drivers(tolerances_);
  constexpr int kCount = 3000;
  int below = 0;
  for (int i = 0; i < kCount; ++i) {
    StackPoint point(drivers.size());
    for (std::size_t driver = 0; driver < point.size(); ++driver) point[driver] = drivers.place(driver, share(random));
    below += travel_by_motion(moved(drivers.by(point))) < travel.gap.required;
  }
  ASSERT_GT(below, 40) << "else nothing is compared";
  const auto [low, high] =
      share_interval(static_cast<std::size_t>(below), static_cast<std::size_t>(below), std::size_t{kCount});
  EXPECT_LE(travel.low, high);
  EXPECT_GE(travel.high, low);
  EXPECT_NEAR(travel.share, static_cast<double>(below) / kCount, 3 * (high - low) / 4);
}

TEST_F(Moving, SameBytesOnAnyNumberOfThreads) {
  std::string first;
  for (const std::size_t threads : {1u, 3u}) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    const std::string told = stack_json(run({20000, 9}));
    if (first.empty()) first = told;
    EXPECT_TRUE(told == first);
  }
  StackPoint one(1), other(1);
  const StackDrivers drivers({tolerances_[0]});
  draw(drivers, 9, StackStream::samples, 0, one);
  draw(drivers, 10, StackStream::samples, 0, other);
  EXPECT_NE(one, other) << "another seed draws others";
}

TEST(Stack, EnginesThatCannotBeAreCounted) {
  const Engine engine = disc_engine();
  const StackResult result =
      stack(Mapper(engine), {{"gasket", Shape::uniform, 0.05, 0}, {"deck", Shape::uniform, 0.01, 0}},
            [&](const std::vector<double>& by) {
              if (by[0] > 0.02) throw InputError({{"", 0, 0, "no thicker one is made"}});
              return with_gasket_and_deck(engine, by);
            },
            {20000, 1});
  EXPECT_GT(result.refused, 0u);
  EXPECT_EQ(result.trouble, "no thicker one is made");
  EXPECT_NEAR(static_cast<double>(result.none) / 20000, 0.3, 0.015);
  const StackGap& head = gap_of(result, "piston.head");
  EXPECT_NEAR(head.worst.value, 1.2 - 0.06, 1e-6);
  EXPECT_NEAR(head.mean, 1.2 - 0.015, 0.001) << "of gaskets from -0.05 to 0.02";
}

}  // namespace
}  // namespace eyebrow::study
