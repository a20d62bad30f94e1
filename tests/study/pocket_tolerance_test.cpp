// Pockets that leave every asked gap within the tolerances: closed form, and stacks of the sized engine.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "eyebrow/pocket_sizing.hpp"
#include "study/pocket_cases.hpp"

namespace eyebrow::study {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using Shape = Tolerance::Shape;

constexpr double kRadial = 1.2;
/// By how much the 95 % interval of a share of some thousands short engines lets the quantile be on the safe side.
constexpr double kInterval = 0.15;

/// What a tolerance moves.
using Move = std::function<void(Engine&, double)>;

PocketTolerances within(const Engine& engine, const std::vector<std::pair<Tolerance, Move>>& moves,
                        std::optional<double> share = {}) {
  PocketTolerances out;
  for (const auto& [tolerance, move] : moves) out.tolerances.push_back(tolerance);
  out.engine_by = [engine, moves](const std::vector<double>& by) {
    Engine moved = engine;
    for (std::size_t i = 0; i < by.size(); ++i) moves[i].second(moved, by[i]);
    return moved;
  };
  out.share = share;
  return out;
}

void move_deck(Engine& engine, double by) {
  engine.cylinder.deck_clearance += by;
}

/// How deep the pocket under an upright valve is, by the motion alone.
double closed_depth(const Engine& engine, int valve) {
  const Parts parts = build_parts(engine, {}, 0.01);
  const study::Setup setup(engine, parts);
  return kTravel - lowest_rim(setup, valve);
}

/// The pockets that are least without tolerances, as if they stood in the file.
Engine with_pockets() {
  return size_pockets(upright(kTravel, kRadial), {}).engine;
}

bool holds_at_worst(const Engine& engine, const PocketTolerances& tolerances, const Engine& given) {
  const StackResult result = stack(Mapper(engine), tolerances.tolerances,
                                   [&](const std::vector<double>& by) {
                                     Engine moved = tolerances.engine_by(by);
                                     for (std::size_t i = 0; i < engine.piston.pockets.size(); ++i) {
                                       const Pocket change =
                                           i < given.piston.pockets.size() ? moved.piston.pockets[i] : Pocket{};
                                       Pocket sized = engine.piston.pockets[i];
                                       if (i < given.piston.pockets.size()) {
                                         sized.diameter += change.diameter - given.piston.pockets[i].diameter;
                                         sized.depth += change.depth - given.piston.pockets[i].depth;
                                       }
                                       if (i < moved.piston.pockets.size())
                                         moved.piston.pockets[i] = sized;
                                       else
                                         moved.piston.pockets.push_back(sized);
                                     }
                                     for (std::size_t i = 0; i < engine.valves.size(); ++i)
                                       moved.valves[i].pocket = engine.valves[i].pocket;
                                     return moved;
                                   },
                                   {1000, 1});
  return std::ranges::all_of(result.gaps, [](const StackGap& gap) {
    return gap.worst.holds || gap.gap.what == "valve to valve" || gap.gap.what == "valve to bore" ||
           gap.gap.what == "piston to head";
  });
}

// Closed form: deck clearance adds to every height over a flat crown one for one, so the worst case takes all of its
// tolerance from the travel and nothing from the radial gap. 5 um less depth is not enough.
TEST(PocketWithin, WorstCaseOfTheDeckClearance) {
  const Engine engine = upright(kTravel, kRadial);
  const double t = 0.2;
  const PocketTolerances tolerances = within(engine, {{{"deck", Shape::uniform, t, 0}, move_deck}});
  const PocketResult result = size_pockets(engine, {}, tolerances);
  EXPECT_TRUE(result.fits());
  ASSERT_TRUE(result.within);
  EXPECT_TRUE(result.within->holds) << result.within->why;
  for (const SizedPocket& one : result.pockets) {
    const Valve& valve = engine.valves[static_cast<std::size_t>(one.valve)];
    const double depth = closed_depth(engine, one.valve) + t;
    EXPECT_NEAR(one.pocket.depth, depth, kEase) << valve.name;
    EXPECT_GE(one.pocket.depth, depth - 0.001) << valve.name;
    EXPECT_NEAR(one.pocket.diameter, valve.head_diameter + 2 * kRadial, 2 * kEase) << valve.name;
    EXPECT_FALSE(holds_at_worst(eased(result, one, 0, -kEase), tolerances, engine)) << valve.name;
  }
  EXPECT_TRUE(holds_at_worst(result.engine, tolerances, engine));
  for (const GapWithin& gap : result.within->gaps)
    if (gap.gap.what == "travel") {
      EXPECT_NEAR(gap.kept, t, 0.002) << gap_name(gap.gap);
      EXPECT_NEAR(gap.nominal - gap.least, t, 0.001);
      ASSERT_EQ(gap.by.size(), 1u);
      EXPECT_EQ(gap.by.front().first, "deck");
      EXPECT_NEAR(gap.by.front().second, t, 0.001);
    }
}

// Closed form: of a uniform -+t the share S has at least -(2 S - 1) t.
TEST(PocketWithin, ShareOfAUniformTolerance) {
  const Engine engine = upright(kTravel, kRadial);
  const double t = 0.2;
  for (const double share : {0.9, 0.99}) {
    const PocketResult result =
        size_pockets(engine, {}, within(engine, {{{"deck", Shape::uniform, t, 0}, move_deck}}, share));
    EXPECT_TRUE(result.fits());
    ASSERT_TRUE(result.within);
    EXPECT_GE(result.within->low, share);
    EXPECT_LE(result.within->low, result.within->found);
    // A pocket is deeper by a step at most, and that lets another 5 um / 2t of engines pass.
    EXPECT_LE(result.within->found, share + kInterval * (1 - share) + kEase / (2 * t));
    for (const SizedPocket& one : result.pockets) {
      const double depth = closed_depth(engine, one.valve) + (2 * share - 1) * t;
      EXPECT_GE(one.pocket.depth, depth - 0.001);
      EXPECT_LE(one.pocket.depth, depth + kInterval * (1 - share) * 2 * t + kEase);
    }
  }
}

// Closed form: two upright valves whose heights are independent. All gaps hold where both do, in the product of the
// shares; the same share of each is the root of it, so each pocket grows by (2 root(S) - 1) t.
TEST(PocketWithin, ShareIsOfAllGapsTogether) {
  const Engine engine = upright(kTravel, kRadial);
  const double share = 0.8, t = 0.2;
  const auto height_of = [](std::size_t valve) {
    return [valve](Engine& moved, double by) { moved.valves[valve].rim_height += by; };
  };
  const PocketResult result = size_pockets(
      engine, {},
      within(engine, {{{"one", Shape::uniform, t, 0}, height_of(0)}, {{"other", Shape::uniform, t, 0}, height_of(1)}},
             share));
  EXPECT_TRUE(result.fits());
  const double grows = (2 * std::sqrt(share) - 1) * t, alone = (2 * share - 1) * t;
  ASSERT_GT(grows - alone, 4 * kEase) << "the test could not tell joint from single shares";
  for (const SizedPocket& one : result.pockets) {
    const double depth = closed_depth(engine, one.valve);
    EXPECT_GE(one.pocket.depth, depth + grows - kEase);
    EXPECT_LE(one.pocket.depth, depth + grows + kInterval * (1 - share) * 2 * t + kEase);
  }
}

// Closed form: a tolerance of the pocket's own diameter takes half of itself from the radial gap.
TEST(PocketWithin, WorstCaseOfThePocketsOwnDiameter) {
  const Engine engine = with_pockets();
  const double t = 0.103;  // not a whole step: what the searches leave open would decide between two
  const PocketTolerances tolerances =
      within(engine, {{{"pocket.intake.diameter", Shape::uniform, t, 0},
                       [](Engine& moved, double by) { moved.piston.pockets[0].diameter += by; }}});
  const PocketResult result = size_pockets(engine, {}, tolerances);
  EXPECT_TRUE(result.fits());
  const SizedPocket &intake = of_valve(result, "intake"), &exhaust = of_valve(result, "exhaust");
  EXPECT_NEAR(intake.pocket.diameter, 36 + 2 * kRadial + t, kEase);
  EXPECT_GE(intake.pocket.diameter, 36 + 2 * kRadial + t - 0.001);
  EXPECT_NEAR(exhaust.pocket.diameter, 30 + 2 * kRadial, kEase);
  EXPECT_NEAR(intake.pocket.depth, closed_depth(engine, intake.valve), kEase);
}

// The pocket that is there, made deeper and no more than that.
TEST(PocketWithin, DeepensWhatIsThere) {
  const Engine engine = with_pockets();
  PocketWish wish;
  wish.existing = true;
  const double t = 0.1;
  const PocketResult result = size_pockets(engine, wish, within(engine, {{{"deck", Shape::uniform, t, 0}, move_deck}}));
  EXPECT_TRUE(result.fits());
  for (const SizedPocket& one : result.pockets) {
    EXPECT_NEAR(one.pocket.depth, closed_depth(engine, one.valve) + t, kEase);
    EXPECT_EQ(one.pocket.x, one.before->x);
  }
}

// A valve that needs no pocket by the file's own numbers, and one within the tolerances.
TEST(PocketWithin, SeesThatOneIsNeeded) {
  Engine engine = upright(kTravel, kRadial);
  const Parts parts = build_parts(engine, {}, 0.01);
  const study::Setup setup(engine, parts);
  const double over = lowest_rim(setup, 0);
  for (auto& [role, asked] : engine.asked.valve) {
    asked.travel = asked.face = asked.closest = asked.reach = over - 0.05;
    asked.radial = 0.1;
  }
  ASSERT_GT(over, 0.1) << "the rim of this test must stay clear of the plain crown";
  EXPECT_FALSE(of_valve(size_pockets(engine, {}), "intake").needed);
  const PocketResult result = size_pockets(engine, {}, within(engine, {{{"deck", Shape::uniform, 0.2, 0}, move_deck}}));
  EXPECT_TRUE(result.fits());
  EXPECT_TRUE(of_valve(result, "intake").needed);
  EXPECT_NEAR(of_valve(result, "intake").pocket.depth, 0.2 - 0.05, kEase);
}

// A cutter that is wide enough by the file's own numbers, but not where the head is at its largest: told, not hidden.
TEST(PocketWithin, SaysWhereNoneIsWideEnough) {
  const Engine engine = upright(kTravel, kRadial);
  PocketWish wish;
  wish.diameters = {34, 38.5};
  ASSERT_TRUE(size_pockets(engine, wish).fits());
  const auto head = [](Engine& moved, double by) { moved.valves[0].head_diameter += by; };
  const PocketResult result = size_pockets(engine, wish, within(engine, {{{"head", Shape::uniform, 0.5, 0}, head}}));
  EXPECT_FALSE(result.fits());
  ASSERT_TRUE(result.within);
  EXPECT_FALSE(result.within->holds);
  EXPECT_THAT(result.within->why, Not(::testing::IsEmpty()));
  EXPECT_THAT(of_valve(result, "intake").misses,
              ::testing::Contains(::testing::Field(&Miss::what, "intake.radial within the tolerances")));
}

// Progress never falls and ends; an interrupt between the rounds is obeyed.
TEST(PocketWithin, TellsProgressAndStops) {
  const Engine engine = upright(kTravel, kRadial);
  const PocketTolerances tolerances = within(engine, {{{"deck", Shape::uniform, 0.2, 0}, move_deck}});
  CheckOptions options;
  double last = 0;
  bool falls = false;
  options.progress = [&](double share) {
    falls = falls || share < last;
    last = share;
  };
  size_pockets(engine, {}, tolerances, options);
  EXPECT_FALSE(falls);
  EXPECT_GT(last, 0.95);
  EXPECT_LE(last, 1);
  options.stop = [&] { return last > 0.5; };
  last = 0;
  EXPECT_THROW(size_pockets(engine, {}, tolerances, options), Interrupted);
}

}  // namespace
}  // namespace eyebrow::study
