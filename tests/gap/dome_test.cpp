// Valves over and in a domed crown of the modeller: closed form, and no gap left to the mesh.
#include <gtest/gtest.h>

#include "eyebrow/parts.hpp"
#include "gap/target.hpp"
#include "gap/tolerances.hpp"
#include "random_parts.hpp"
#include "shapes.hpp"

namespace eyebrow {
namespace {

using random_parts::Dice;

constexpr double kHeight = 6, kBase = 80, kTop = 40;  // mm

Crown domed(DomeShape shape, double top = kTop) {
  Engine engine;
  engine.name = "domed crown (invented)";
  engine.cylinder.bore = 100.6;
  engine.cylinder.stroke = 90;
  engine.cylinder.rod_length = 150;
  engine.gasket = {1.0, 102};
  engine.piston.crown_diameter = 100;
  engine.piston.round_dome = RoundDome{kHeight, kBase, shape, shape == DomeShape::cone ? top : 0};
  return build_parts(engine, {}, 0.002).crown;
}

std::string name_of(const Crown& crown, const Gap& gap) {
  return gap.other_face < 0 ? "none" : to_string(crown.faces[static_cast<std::size_t>(gap.other_face)].group);
}

/// How far a point is outside a cone whose axis is the bore's.
double off_cone(Vec3 p) {
  const double run = (kBase - kTop) / 2, size = std::hypot(kHeight, run);
  return (kHeight * (std::hypot(p.x, p.y) - kBase / 2) + run * p.z) / size;
}

// A valve leans over the cone's side. Of its rim, a circle, the point is nearest that is least outside the cone, which
// is no more than a sum of its distances from the axis and from the crown flat; square to the cone it is the face gap,
// and nothing else is nearer.
TEST(Dome, AValveBesideACone) {
  const auto target = make_target(domed(DomeShape::cone));
  const Profile profile = shapes::outline(8, 1.4);
  Dice dice(41);
  int compared = 0;
  for (int i = 0; i < 300; ++i) {
    SCOPED_TRACE(i);
    const Vec3 up = tilted_axis(dice.between(0, 0.2), dice.between(0, 2 * kPi));
    const double turn = dice.between(0, 2 * kPi), out = dice.between(29, 31);
    const Vec3 at{out * std::cos(turn), out * std::sin(turn), 0};
    const Frame frame = frame_about(at, up);
    double least = 1e9, angle = 0;
    const auto rim = [&](double t) { return at + 8 * (std::cos(t) * frame.x + std::sin(t) * frame.y); };
    const auto take = [&](double t) {
      if (const double off = off_cone(rim(t)); off < least) least = off, angle = t;
    };
    for (int k = 0; k < 720; ++k) take(k * kPi / 360);
    for (double step = kPi / 360; step > 1e-12; step /= 2) {
      const double middle = angle;
      take(middle - step);
      take(middle + step);
    }
    // Raised along the bore axis until the gap is what it shall be.
    const double gap = dice.decades(-3, 0.3), run = (kBase - kTop) / 2;
    const Vec3 lifted{0, 0, (gap - least) * std::hypot(kHeight, run) / run};
    const Vec3 point = rim(angle) + lifted;
    const double foot = std::hypot(point.x, point.y) - gap * kHeight / std::hypot(kHeight, run);
    if (foot < kTop / 2 + 0.1 || foot > kBase / 2 - 0.1) continue;
    ++compared;
    const ValveToPiston pair(target, profile, {at + lifted, up}, -1);
    const PoseGaps gaps = pair.gaps({0, 0}, GapRequest{});
    for (const Gap* of : {&gaps.face, &gaps.closest}) {
      ASSERT_TRUE(of->measured());
      EXPECT_NEAR(of->value, gap, 2 * gap::kEdgeSearch);
      EXPECT_LE(of->low, gap);
      EXPECT_GE(of->high, gap);
      EXPECT_EQ(name_of(target->crown(), *of), to_string(Group::dome));
      EXPECT_LT(norm(of->on_valve - point), 0.03) << "it is flat there";
    }
    // Down into the cone's side, over none of its edges.
    const double deep = dice.between(0.02, 0.4);
    const Vec3 sunk = lifted - Vec3{0, 0, (gap + deep) * std::hypot(kHeight, run) / run};
    GapRequest request;
    request.face = request.radial = false;
    const PoseGaps within = ValveToPiston(target, profile, {at + sunk, up}, -1).gaps({0, 0}, request);
    ASSERT_TRUE(within.travel.measured() && within.closest.measured());
    EXPECT_LT(within.closest.value, 0);
    EXPECT_GE(within.closest.value, -deep - gap::kSearch) << "the rim is no deeper";
    EXPECT_LT(within.travel.value, within.closest.value + gap::kSearch);
  }
  EXPECT_GT(compared, 150);
}

// A cone without a flat top: its point is on no edge.
TEST(Dome, ThePointOfAConeCounts) {
  const auto target = make_target(domed(DomeShape::cone, 0));
  Dice dice(43);
  for (int i = 0; i < 60; ++i) {
    SCOPED_TRACE(i);
    const Vec3 up = tilted_axis(dice.between(0, 0.12), dice.between(0, 2 * kPi));
    const double turn = dice.between(0, 2 * kPi), out = dice.between(0, 10),
                 gap = dice.between(0.05, 2) * (i % 3 ? 1 : -1);
    const Vec3 point{0, 0, kHeight};
    // The face's plane is `gap` from the point, which is under the face.
    const Frame frame = frame_about({}, up);
    const Vec3 at = point + gap * up + out * (std::cos(turn) * frame.x + std::sin(turn) * frame.y);
    const ValveToPiston pair(target, shapes::outline(18, 3), {at, up}, -1);
    const PoseGaps gaps = pair.gaps({0, 0}, GapRequest{});
    ASSERT_TRUE(gaps.travel.measured() && gaps.closest.measured());
    EXPECT_NEAR(gaps.travel.value, gap, gap::kSearch);
    EXPECT_NEAR(gaps.closest.value, gap, gap::kSearch);
    if (gap < 0) continue;
    // Square to the cone beside its point: of all ways that begin there the one that leans most the way the face does.
    const double run = kBase / 2, size = std::hypot(kHeight, run), lean = std::sqrt(std::max(0.0, 1 - up.z * up.z));
    ASSERT_TRUE(gaps.face.measured());
    EXPECT_NEAR(gaps.face.value, gap * size / (run * up.z + kHeight * lean), 2 * gap::kEdgeSearch);
  }
}

// Upright, deep in a ball: the top of the dome is as deep as it stands over the rim plane, for every measure.
TEST(Dome, AValveDownOnABall) {
  const auto target = make_target(domed(DomeShape::sphere));
  const Profile profile = shapes::outline(18, 1.4);
  for (const double deep : {0.001, 0.02, 0.3, 1.0, 1.3}) {
    SCOPED_TRACE(deep);
    const ValveToPiston pair(target, profile, {{6, -4, kHeight - deep}, {0, 0, 1}}, -1);
    const PoseGaps gaps = pair.gaps({0, 0}, GapRequest{});
    for (const Gap* of : {&gaps.travel, &gaps.face, &gaps.closest}) {
      ASSERT_TRUE(of->measured());
      EXPECT_NEAR(of->value, -deep, gap::kSearch);
      EXPECT_EQ(name_of(target->crown(), *of), to_string(Group::dome));
    }
  }
}

// A dome's surface runs through the head, whose depth has ridges between its sides, into the stem and off its back:
// none of it makes the search give up, after which the mesh would answer and its error be in the bounds. (Where it runs
// through the stem's foot, deeper than any valve is told to be, the search may still follow a ridge for too long.)
TEST(Dome, DeepInItNothingIsLeftToTheMesh) {
  for (const DomeShape shape : {DomeShape::sphere, DomeShape::cone}) {
    const auto target = make_target(domed(shape));
    ASSERT_GT(target->crown().error, 1e-4);
    Dice dice(42);
    int deep = 0, wide = 0;
    for (int i = 0; i < 300; ++i) {
      SCOPED_TRACE(i);
      const Profile profile =
          shapes::outline(dice.between(12, 22), dice.between(0.8, 2), i % 3 == 0 ? dice.between(0.1, 0.6) : 0,
                          i % 5 == 0 ? -dice.between(0.3, 1) : 0);
      const Vec3 up = tilted_axis(dice.between(0, 0.5), dice.between(0, 2 * kPi));
      const double out = shape == DomeShape::cone ? dice.between(18, 36) : dice.between(0, 28);
      const double turn = dice.between(0, 2 * kPi), down = shape == DomeShape::cone ? 2 : 3;
      const Vec3 at{out * std::cos(turn), out * std::sin(turn), dice.between(-down, kHeight)};
      const ValveToPiston pair(target, profile, {at, up}, -1);
      GapRequest request;
      request.face = request.radial = false;
      const PoseGaps gaps = pair.gaps({0, 0}, request);
      if (gaps.closest.value > -0.01 || (shape == DomeShape::cone && gaps.closest.value < -2.5)) continue;
      ++deep;
      wide += gaps.closest.high - gaps.closest.low > 2 * (gap::kPoseBall + gap::kArcOff) + gap::kSearch + 1e-9;
      if (!gaps.travel.measured()) continue;  // the stem is in it
      EXPECT_LE(gaps.travel.value, gaps.closest.value + 2 * gap::kSearch) << "out along the axis is no shorter way";
    }
    EXPECT_GT(deep, 50);
    EXPECT_LE(wide, 1 + deep / 100);
  }
}

}  // namespace
}  // namespace eyebrow
