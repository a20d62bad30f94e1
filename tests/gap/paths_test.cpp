// The closest gap along random paths over the modeller's crowns, by the public interface: it changes no faster than the
// parts move, whatever face or edge it goes over to, in contact and in overlap (1-Lipschitz: the distance and the depth
// of each point are, so the least of them is).
#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>

#include "gap/tolerances.hpp"
#include "random_crowns.hpp"

namespace eyebrow {
namespace {

using random_parts::Dice;
using random_parts::Scene;

constexpr double kDeflection = 0.002;
constexpr int kKinds[] = {0, 1, 2, 4};  // of valve; one in eight is dished
constexpr long kSteps = 160000;
constexpr int kCrowns = 16, kPlaces = 10;  // places of a valve over one crown
constexpr double kDeepest = 0.1;           // mm; deeper the search over the mesh takes long: back to where it was clear
/// Two answers from exact faces, or one from a face that only the mesh knows.
constexpr double kExactSlack = gap::kEdgeSearch + gap::kArcOff, kSlack = gap::kSearch + kExactSlack;

TEST(Paths, ClosestMovesNoFurtherThanTheParts) {
  long steps = 0, overlapping = 0, beyond_exact = 0;
  double steepest = 0, worst = -1;
  int refused = 0;
  const long each = kSteps / (kCrowns * kPlaces);
  for (int c = 0; c < kCrowns; ++c) {
    Dice dice(8200 + static_cast<unsigned long long>(c));
    const int kind = c % 8 == 7 ? 3 : kKinds[c % 4];
    const Scene scene = random_parts::crown_scene(dice, c % 5, kind, kDeflection, refused, false);
    const auto target = make_target(scene.crown);
    for (int p = 0; p < kPlaces; ++p) {
      const Vec3 aside{dice.between(-6, 6), dice.between(-6, 6), 0};
      const ValveToPiston pair(target, scene.profile, {scene.place.closed + (p ? 1 : 0) * aside, scene.place.up},
                               scene.pocket);
      const auto closest = [&](const Pose& pose) {
        const Gap gap = pair.gaps(pose, {false, false, false, true, false, 0}).closest;
        EXPECT_TRUE(gap.measured());
        return gap.value;
      };
      // Up until it is clear, then along straight ways of many small steps, back from what is too deep.
      Pose pose{-2, 0};
      double before = closest(pose);
      while (before < 0.5) {
        pose.height -= 1;
        before = closest(pose);
      }
      Pose clear = pose;
      double way = 0, step = 0;
      for (long i = 0; i < each; ++i) {
        if (i % 50 == 0) {
          way = dice.between(0, 2 * kPi);
          step = dice.decades(-4, -0.7);
        }
        // Toward the crown when it has gone far.
        if (before > 4) way = dice.between(0, kPi / 2);
        const Pose next{pose.height + step * std::cos(way), pose.lift + step * std::sin(way)};
        const double moved = norm(pair.rim_centre(next) - pair.rim_centre(pose)), now = closest(next);
        const double over = std::fabs(now - before) - moved;
        worst = std::max(worst, over);
        beyond_exact += over > kExactSlack;
        // Through contact the mesh takes over, with its own error.
        const double handed_over = std::min(before, now) < kDeflection ? kDeflection : 0;
        EXPECT_LE(over, kSlack + handed_over)
            << "crown " << c << " (" << scene.kind << ", " << scene.valve << "), place " << p << ", step " << i
            << ": from " << before << " to " << now << " by " << moved;
        if (moved > 0.01) steepest = std::max(steepest, std::fabs(now - before) / moved);
        ++steps;
        overlapping += now < 0;
        pose = next;
        before = now;
        if (now > 0.05) clear = pose;
        if (now < -kDeepest) {
          pose = clear;
          before = closest(pose);
          way += kPi / 2 + dice.between(0, kPi);
        }
      }
    }
  }
  std::printf("%ld steps, %ld of them in overlap; steepest %.4f; most beyond the move %.1e mm, beyond %.0e in %ld\n",
              steps, overlapping, steepest, worst, kExactSlack, beyond_exact);
  EXPECT_EQ(steps, kSteps);
  EXPECT_GT(overlapping, kSteps / 200);
  EXPECT_GT(steepest, 0.9) << "a gap that hardly changes says nothing here";
}

// Less deck clearance takes away from travel, and from closest while it is clear: where no wall overhangs a raised
// crown holds all of itself lowered. (Under a lip that overhangs a raised crown may let pass what would have landed on
// it.)
TEST(Paths, LessDeckClearanceLeavesNoMore) {
  int refused = 0;
  long compared = 0;
  for (int c = 0; c < 10; ++c) {
    Dice dice(8300 + static_cast<unsigned long long>(c));
    const int kind = kKinds[c % 4];
    std::optional<Parts> parts;
    random_parts::Draw draw;
    while (!parts) {
      draw = random_parts::draw_crown(dice, c % 5, kind);
      for (Pocket& p : draw.engine.piston.pockets) p.tilt = 0;
      parts = random_parts::try_parts(draw.engine, kDeflection, refused);
    }
    const auto target = make_target(parts->crown);
    for (int p = 0; p < 3; ++p) {
      const Vec3 aside{dice.between(-6, 6), dice.between(-6, 6), 0};
      const ValveToPiston pair(target, parts->profiles.front(),
                               {draw.scene.place.closed + (p ? 1 : 0) * aside, draw.scene.place.up}, draw.scene.pocket);
      Gap travel, closest;
      double height = -14;
      for (int i = 0; i < 40; ++i, height += dice.decades(-3, 0)) {
        const PoseGaps gaps = pair.gaps({height, 1}, {true, false, false, true, true, 0});
        SCOPED_TRACE("crown " + std::to_string(c) + ", place " + std::to_string(p) + ", height " +
                     std::to_string(height));
        if (i > 0) {
          EXPECT_LE(gaps.travel.low, travel.high);
          if (gaps.closest.value > 0) {
            EXPECT_LE(gaps.closest.value, closest.value + kSlack + kDeflection);
          }
          ++compared;
        }
        if (gaps.closest.value < -1) break;
        travel = gaps.travel;
        closest = gaps.closest;
      }
    }
  }
  EXPECT_GT(compared, 250);
}

}  // namespace
}  // namespace eyebrow
