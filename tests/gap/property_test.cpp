// What must hold of the gaps at any pose, whatever the parts: checks that need no reference. Random parts of
// random_parts.hpp and random_crowns.hpp, and a post on a plate made by hand. The mesh counts as the exact crown.
#include <gtest/gtest.h>

#include <array>
#include <bit>
#include <cstdint>
#include <limits>
#include <thread>

#include "changed_crowns.hpp"
#include "dense_sampling.hpp"
#include "gap/tolerances.hpp"
#include "property_scenes.hpp"

namespace eyebrow {
namespace {

using gap::kPoseBall;
using gap::kSearch;
using random_parts::Dice;
using random_parts::every_scene;
using random_parts::kDeflection;
using random_parts::kRough;
using random_parts::made_by_hand;
using random_parts::off_exact;
using random_parts::Scene;

constexpr double kRounding = 2e-6;
constexpr int kPoses = 4;

ValveToPiston pair_of(const Scene& scene) {
  return {make_target(scene.crown), scene.profile, scene.place, scene.pocket};
}

GapRequest all_gaps(const Scene& scene, bool bounds = true) {
  return {true, true, true, true, bounds, scene.reach};
}

Pose any_pose(Dice& dice) {
  return {dice.between(-2, 1), dice.between(-2, 2)};
}

/// Calls check(scene, its pair, a pose, the gaps there) for every scene and some poses of it.
template <class Check>
void at_poses(const std::vector<Scene>& scenes, unsigned long long seed, const Check& check) {
  for (std::size_t i = 0; i < scenes.size(); ++i) {
    const Scene& scene = scenes[i];
    const ValveToPiston pair = pair_of(scene);
    Dice dice(seed * 1000 + i);
    for (int k = 0; k < kPoses; ++k) {
      const Pose pose = any_pose(dice);
      SCOPED_TRACE("scene " + std::to_string(i) + ", " + scene.kind + ", " + scene.valve + ", pose " +
                   std::to_string(k));
      check(scene, pair, pose, pair.gaps(pose, all_gaps(scene)), dice);
    }
  }
}

TEST(GapProperty, IntervalHoldsTheValue) {
  int measured = 0, jumps = 0;
  at_poses(made_by_hand(), 1, [&](const Scene&, const ValveToPiston&, Pose, const PoseGaps& gaps, Dice&) {
    for (const GapKind kind : kGapKinds) {
      const Gap& gap = gaps[kind];
      if (!gap.measured()) {
        EXPECT_TRUE(std::isnan(gap.value) && std::isnan(gap.low) && std::isnan(gap.high)) << to_string(kind);
        continue;
      }
      ++measured;
      jumps += gap.status == GapStatus::jump;
      EXPECT_LE(gap.low, gap.value) << to_string(kind);
      EXPECT_LE(gap.value, gap.high) << to_string(kind);
    }
  });
  EXPECT_GT(measured, 150);
  EXPECT_LT(jumps, measured / 4);
}

// The interval's own definition: the gap at any displacement within half a micrometre lies in it.
TEST(GapProperty, IntervalHoldsTheValuesAround) {
  at_poses(every_scene(), 2,
           [](const Scene& scene, const ValveToPiston& pair, Pose pose, const PoseGaps& gaps, Dice& dice) {
             // The offset outline is right to the order of grow^2 / radius; no radius here is below 0.1 mm.
             constexpr double kSlack = kPoseBall * kPoseBall / 0.1 + kRounding;
             const auto target = make_target(pair.crown());
             for (int i = 0; i < 2; ++i) {
               const Vec3 aside = kPoseBall * (i == 0 ? 1 : dice.between(0, 1)) * dice.direction();
               const PoseGaps there =
                   ValveToPiston(target, scene.profile, {scene.place.closed + aside, scene.place.up}, scene.pocket)
                       .gaps(pose, all_gaps(scene, false));
               for (const GapKind kind : kGapKinds) {
                 const Gap &here = gaps[kind], &near = there[kind];
                 if (!here.measured()) {
                   EXPECT_FALSE(near.measured()) << to_string(kind);
                 } else if (!near.measured()) {
                   EXPECT_EQ(here.high, std::numeric_limits<double>::infinity()) << to_string(kind);
                 } else {
                   EXPECT_GE(near.value, here.low - kSlack) << to_string(kind);
                   EXPECT_LE(near.low, here.high + kSlack) << to_string(kind);
                 }
               }
             }
           });
}

// Both distance and depth of a point change by no more than the move; so does the least of them.
TEST(GapProperty, ClosestMovesNoFurtherThanTheParts) {
  double steepest = 0;
  for (std::size_t i = 0; i < made_by_hand().size(); ++i) {
    const Scene& scene = made_by_hand()[i];
    const ValveToPiston pair = pair_of(scene);
    Dice dice(3000 + i);
    Pose pose = any_pose(dice);
    GapRequest request = all_gaps(scene);
    request.travel = request.face = request.radial = false;
    double before = pair.gaps(pose, request).closest.value;
    for (int k = 0; k < 30; ++k) {
      const double way = dice.between(0, 2 * kPi), step = dice.decades(-4, 0.3);
      const Vec3 from = pair.rim_centre(pose);
      // Toward the middle of the range when it would leave it.
      const double toward = pose.height + step * std::cos(way) > 2 || pose.height + step * std::cos(way) < -5 ? -1 : 1;
      pose = {pose.height + toward * step * std::cos(way), pose.lift + step * std::sin(way)};
      if (pose.lift > 2 || pose.lift < -4) pose.lift = -1;
      const double moved = norm(pair.rim_centre(pose) - from);
      const double now = pair.gaps(pose, request).closest.value;
      EXPECT_LE(std::fabs(now - before), moved + kSearch + kRounding)
          << "scene " << i << ", " << scene.kind << ", " << scene.valve << ", step " << k;
      if (moved > 0.1) steepest = std::max(steepest, std::fabs(now - before) / moved);
      before = now;
    }
  }
  EXPECT_GT(steepest, 0.9) << "a gap that hardly changes says nothing here";
}

/// How far (r, w) is from what the rim sweeps along the axis by `reach`: closed form, a cylinder that ends in the
/// edge's quarter circle. Negative: inside.
double off_path(const Scene& scene, double r, double w) {
  const double edge = scene.profile.edge_radius, across = scene.profile.rim_radius - edge;
  const double full =
      scene.profile.elements[1].to.w - scene.reach;  // where the edge ends, which is as high as its centre
  if (edge == 0 || w >= full) return r - scene.profile.rim_radius;
  return std::hypot(std::max(r - across, 0.0), full - w) - edge;
}

TEST(GapProperty, PointsLieWhereTheyAreSaidTo) {
  at_poses(every_scene(), 4, [](const Scene& scene, const ValveToPiston& pair, Pose pose, const PoseGaps& gaps, Dice&) {
    const Frame frame = frame_about(pair.rim_centre(pose), scene.place.up);
    const dense::Sampling mesh(scene.crown, scene.profile, scene.pocket, 1e3);
    for (const GapKind kind : kGapKinds) {
      const Gap& gap = gaps[kind];
      if (!gap.measured()) continue;
      SCOPED_TRACE(to_string(kind));
      // A jump is told where a valve larger by the pose ball meets, at a sharp corner a diagonal off.
      const double doubt = gap.status == GapStatus::jump ? 2 * kPoseBall : 0;
      const Face& face = scene.crown.faces.at(gap.other_face);
      EXPECT_LT(mesh.off_mesh(gap.on_other, gap.other_face), 1e-8) << face.name;
      EXPECT_LE(off_exact(face, gap.on_other), scene.kind == "one pocket" ? kRough : kDeflection) << face.name;
      EXPECT_NEAR(norm(gap.on_valve - gap.on_other), std::fabs(gap.value), 1e-5 + doubt);
      const Vec3 d = gap.on_valve - frame.origin;
      const double r = std::hypot(dot(d, frame.x), dot(d, frame.y)), w = dot(d, frame.z);
      const ProfileElement& element = scene.profile.elements.at(gap.valve_part);
      if (kind == GapKind::radial) {  // wherever on its path the rim's margin or edge passes the point
        EXPECT_EQ(element.part, ValvePart::margin);
        EXPECT_LE(std::fabs(off_path(scene, r, w)), 1e-5 + doubt);
        EXPECT_GE(w, -scene.reach - 1e-5 - doubt);
        EXPECT_LE(w, scene.profile.margin + 1e-5 + doubt);
      } else {
        Profile only;
        only.elements = {element};
        EXPECT_LE(std::fabs(dense::Outline(only).signed_distance(r, w)), 3 * dense::kSagitta + doubt)
            << to_string(element.part);
      }
    }
  });
}

// Along a line it is at least as far as by the shortest way, and to clear an overlap takes at least its depth.
TEST(GapProperty, NothingIsLessThanTheClosest) {
  int clear = 0, overlapping = 0;
  at_poses(made_by_hand(), 5, [&](const Scene&, const ValveToPiston&, Pose, const PoseGaps& gaps, Dice&) {
    const double closest = gaps.closest.value;
    (closest > 0 ? clear : overlapping) += 1;
    for (const GapKind kind : {GapKind::travel, GapKind::face}) {
      const Gap& gap = gaps[kind];
      if (!gap.measured()) continue;
      const double doubt = kSearch + kRounding + (gap.status == GapStatus::jump ? 2 * kPoseBall : 0);
      if (closest > 0 && gap.value > doubt) {
        EXPECT_GE(gap.value, closest - doubt) << to_string(kind);
      }
      if (gap.value < -doubt) {
        EXPECT_LE(closest, doubt) << to_string(kind);
      }
    }
    if (closest < -kSearch) {
      ASSERT_TRUE(gaps.travel.measured());
      EXPECT_LE(gaps.travel.value, closest + kSearch + kRounding);
    }
  });
  EXPECT_GT(clear, 20);
  EXPECT_GT(overlapping, 20);
}

// At a fixed height contact comes at one lift: travel is that lift less the present one, on to a little past contact.
TEST(GapProperty, TravelFallsOneForOneWithLift) {
  int followed = 0;
  at_poses(made_by_hand(), 6,
           [&](const Scene& scene, const ValveToPiston& pair, Pose pose, const PoseGaps& gaps, Dice& dice) {
             if (gaps.travel.status != GapStatus::measured || gaps.travel.value <= 0) return;
             ++followed;
             const GapRequest request{true, false, false, false, false, 0};
             const double contact = pose.lift + gaps.travel.value;
             // Withdrawing from further than the thinnest place of the rim might find a way out behind it.
             const double past = 0.5 * (scene.profile.margin - scene.profile.edge_radius);
             for (const double left :
                  {dice.between(0, gaps.travel.value), dice.decades(-4, -1), -dice.between(0, 1) * past}) {
               if (left > gaps.travel.value) continue;
               const Gap there = pair.gaps({pose.height, contact - left}, request).travel;
               ASSERT_TRUE(there.measured());
               EXPECT_NEAR(there.value, left, kSearch + kRounding);
             }
           });
  EXPECT_GT(followed, 30);
}

// Negative travel is the least withdrawal that clears: no metal is left inside, and the valve then all but touches.
TEST(GapProperty, WithdrawnByItsTravelTheValveIsClear) {
  int withdrawn = 0;
  at_poses(made_by_hand(), 9,
           [&](const Scene&, const ValveToPiston& pair, Pose pose, const PoseGaps& gaps, Dice& dice) {
             if (!gaps.travel.measured()) return;
             pose.lift += gaps.travel.value + dice.decades(-3, 0.5);
             const Gap travel = pair.gaps(pose, {true, false, false, false, true, 0}).travel;
             if (travel.status != GapStatus::measured || travel.value >= 0) return;
             ++withdrawn;
             const double spare = kSearch + kRounding;  // by as much the search may tell too little
             const PoseGaps clear =
                 pair.gaps({pose.height, pose.lift + travel.value - spare}, {true, false, false, true, false, 0});
             EXPECT_GE(clear.closest.value, 0);
             EXPECT_GE(clear.travel.value, 0);
             EXPECT_LE(clear.travel.value, spare + kSearch);
           });
  EXPECT_GT(withdrawn, 36) << "of 72 poses, all pushed into the metal";
}

/// The least that two searches bracket is the same.
void expect_same(const PoseGaps& a, const PoseGaps& b, const PoseGaps& interval, const char* what) {
  for (const GapKind kind : kGapKinds) {
    if (interval[kind].status == GapStatus::jump) continue;
    ASSERT_EQ(a[kind].status, b[kind].status) << what << ", " << to_string(kind);
    if (!a[kind].measured()) continue;
    EXPECT_NEAR(a[kind].value, b[kind].value, kSearch + kRounding) << what << ", " << to_string(kind);
    EXPECT_LE(a[kind].low, b[kind].high + kRounding) << what << ", " << to_string(kind);
    EXPECT_LE(b[kind].low, a[kind].high + kRounding) << what << ", " << to_string(kind);
  }
  if (std::isnan(a.entry))
    EXPECT_TRUE(std::isnan(b.entry)) << what;
  else
    EXPECT_NEAR(a.entry, b.entry, kRounding) << what;
}

TEST(GapProperty, TurnMoveMirrorAndOrderChangeNothing) {
  at_poses(every_scene(), 7,
           [](const Scene& scene, const ValveToPiston& pair, Pose pose, const PoseGaps& gaps, Dice& dice) {
             const PoseGaps plain = pair.gaps(pose, all_gaps(scene, false));
             const Vec3 move{dice.between(-9, 9), dice.between(-9, 9), 0};
             const random_parts::Change turned{false, dice.between(0, 2 * kPi), move}, mirrored{true, 0, {}};
             const std::pair<const char*, Scene> others[] = {{"turned and moved", random_parts::changed(scene, turned)},
                                                             {"mirrored", random_parts::changed(scene, mirrored)},
                                                             {"reordered", random_parts::reordered(scene, dice)}};
             for (const auto& [what, other] : others)
               expect_same(plain, pair_of(other).gaps(pose, all_gaps(other, false)), gaps, what);
           });
}

/// Every bit of an answer.
std::vector<std::uint64_t> bits(const PoseGaps& gaps) {
  std::vector<std::uint64_t> all{std::bit_cast<std::uint64_t>(gaps.entry)};
  for (const GapKind kind : kGapKinds) {
    const Gap& g = gaps[kind];
    for (const double d :
         {g.value, g.low, g.high, g.on_valve.x, g.on_valve.y, g.on_valve.z, g.on_other.x, g.on_other.y, g.on_other.z})
      all.push_back(std::bit_cast<std::uint64_t>(d));
    for (const int n : {static_cast<int>(g.status), g.valve_part, g.other_face})
      all.push_back(static_cast<std::uint64_t>(static_cast<std::int64_t>(n)));
  }
  return all;
}

TEST(GapProperty, SameBitsAgainAndFromThreads) {
  for (std::size_t i = 0; i < made_by_hand().size(); i += 2) {
    const Scene& scene = made_by_hand()[i];
    const ValveToPiston pair = pair_of(scene);
    Dice dice(8000 + i);
    std::array<Pose, 3> poses;
    for (Pose& pose : poses) pose = any_pose(dice);
    const auto answer = [&](const ValveToPiston& asked) {
      std::vector<std::vector<std::uint64_t>> all;
      for (const Pose& pose : poses) all.push_back(bits(asked.gaps(pose, all_gaps(scene))));
      return all;
    };
    const auto first = answer(pair);
    EXPECT_EQ(first, answer(pair_of(scene))) << "built again, scene " << i;
    std::array<std::vector<std::vector<std::uint64_t>>, 2> both;
    std::thread one([&] { both[0] = answer(pair); }), two([&] { both[1] = answer(pair); });
    one.join();
    two.join();
    for (const auto& own : both) EXPECT_EQ(first, own) << "from a thread, scene " << i;
  }
}

}  // namespace
}  // namespace eyebrow
