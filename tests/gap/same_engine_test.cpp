// The same engine turned about the bore, seen in a mirror, with its pockets in another order or twice as large, built
// anew by the modeller each time: the same gaps. So what comes from exact faces and edges is asked too.
#include <gtest/gtest.h>

#include <algorithm>

#include "gap/tolerances.hpp"
#include "random_crowns.hpp"

namespace eyebrow {
namespace {

using random_parts::Dice;

constexpr double kDeflection = 0.002;
constexpr int kKinds[] = {0, 1, 2, 4, 0};  // of valve; dished ones take long in overlap

struct Built {
  Engine engine;
  ValvePlace place;
  int pocket;
  double scale = 1;
};

/// Turned about the bore's axis.
Built turned(Built b, double by) {
  const auto turn = [&](double& x, double& y) {
    const double u = std::cos(by) * x - std::sin(by) * y;
    y = std::sin(by) * x + std::cos(by) * y;
    x = u;
  };
  for (Pocket& p : b.engine.piston.pockets) {
    turn(p.x, p.y);
    p.lean += by;
  }
  if (b.engine.piston.dish) turn(b.engine.piston.dish->x, b.engine.piston.dish->y);
  if (b.engine.piston.roof_dome)
    for (auto& plane : b.engine.piston.roof_dome->planes) plane.toward += by;
  turn(b.place.closed.x, b.place.closed.y);
  turn(b.place.up.x, b.place.up.y);
  return b;
}

/// y to -y.
Built mirrored(Built b) {
  for (Pocket& p : b.engine.piston.pockets) {
    p.y = -p.y;
    p.lean = -p.lean;
  }
  if (b.engine.piston.dish) b.engine.piston.dish->y = -b.engine.piston.dish->y;
  if (b.engine.piston.roof_dome)
    for (auto& plane : b.engine.piston.roof_dome->planes) plane.toward = -plane.toward;
  b.place.closed.y = -b.place.closed.y;
  b.place.up.y = -b.place.up.y;
  return b;
}

Built reversed(Built b) {
  auto& pockets = b.engine.piston.pockets;
  std::reverse(pockets.begin(), pockets.end());
  b.pocket = static_cast<int>(pockets.size()) - 1 - b.pocket;
  b.engine.valves[0].pocket = b.pocket;
  return b;
}

Built scaled(Built b, double by) {
  b.scale = by;
  Piston& p = b.engine.piston;
  std::vector<double*> lengths{&b.engine.cylinder.bore,
                               &b.engine.cylinder.stroke,
                               &b.engine.cylinder.rod_length,
                               &p.crown_diameter,
                               &p.top_chamfer,
                               &b.place.closed.x,
                               &b.place.closed.y,
                               &b.place.closed.z};
  b.engine.gasket.thickness *= by;
  b.engine.gasket.bore *= by;
  if (p.dish)
    for (double* d : {&p.dish->diameter, &p.dish->depth, &p.dish->corner_radius, &p.dish->x, &p.dish->y})
      lengths.push_back(d);
  if (p.round_dome)
    for (double* d : {&p.round_dome->height, &p.round_dome->base_diameter, &p.round_dome->top_diameter})
      lengths.push_back(d);
  if (p.roof_dome) {
    lengths.push_back(&p.roof_dome->plateau);
    for (auto& plane : p.roof_dome->planes) lengths.push_back(&plane.meets);
  }
  for (Pocket& k : p.pockets)
    for (double* d : {&k.x, &k.y, &k.diameter, &k.depth, &k.corner_radius, &k.mouth_break}) lengths.push_back(d);
  Valve& v = b.engine.valves[0];
  for (double* d : {&v.head_diameter, &v.margin, &v.seat_width, &v.face_depth, &v.rim_radius, &v.stem_diameter, &v.x,
                    &v.y, &v.rim_height})
    lengths.push_back(d);
  for (double* d : lengths) *d *= by;
  return b;
}

TEST(SameEngine, TurnedMirroredReorderedOrLargerHasTheSameGaps) {
  int refused = 0, compared = 0;
  for (int c = 0; c < 5; ++c) {
    Dice dice(8400 + static_cast<unsigned long long>(c));
    std::vector<Built> all;
    std::vector<Parts> parts;
    while (parts.size() < 5) {
      const random_parts::Draw draw = random_parts::draw_crown(dice, c % 5, kKinds[c % 5]);
      const Built plain{draw.engine, draw.scene.place, draw.scene.pocket};
      all = {plain, turned(plain, 1.1), mirrored(plain), reversed(plain), scaled(plain, 2)};
      parts.clear();
      for (const Built& b : all)
        if (std::optional<Parts> p = random_parts::try_parts(b.engine, kDeflection * b.scale, refused))
          parts.push_back(std::move(*p));
    }
    std::vector<std::shared_ptr<const Target>> targets;
    for (const Parts& p : parts) targets.push_back(make_target(p.crown));
    for (int k = 0; k < 6; ++k) {
      const Pose pose{dice.between(-6, 0), dice.between(-1, 1)};
      std::vector<PoseGaps> gaps;
      for (std::size_t i = 0; i < all.size(); ++i) {
        const double s = all[i].scale;
        const ValveToPiston pair(targets[i], parts[i].profiles.front(), all[i].place, all[i].pocket);
        gaps.push_back(pair.gaps({s * pose.height, s * pose.lift}, {true, true, true, true, true, 2 * s}));
      }
      for (std::size_t i = 1; i < all.size(); ++i)
        for (const GapKind kind : kGapKinds) {
          const char* const kHow[] = {"", "turned", "mirrored", "reordered", "twice as large"};
          SCOPED_TRACE("crown " + std::to_string(c) + ", pose " + std::to_string(k) + ", " + kHow[i] + ", " +
                       to_string(kind));
          const Gap &a = gaps[0][kind], &b = gaps[i][kind];
          const double s = all[i].scale;
          if (a.status == GapStatus::jump || b.status == GapStatus::jump) continue;
          ASSERT_EQ(a.status, b.status);
          if (!a.measured()) continue;
          ++compared;
          // Both intervals hold the exact gap; the ball of displacements is not twice as large.
          EXPECT_LE(s * a.low, b.high + 1e-9);
          EXPECT_LE(b.low, s * a.high + 1e-9);
          if (kind == GapKind::closest && a.value > 0) {
            EXPECT_NEAR(b.value / s, a.value, kDeflection + gap::kSearch);
          }
        }
    }
  }
  EXPECT_GT(compared, 250);
  std::printf("%d gaps compared, %d draws refused\n", compared, refused);
}

}  // namespace
}  // namespace eyebrow
