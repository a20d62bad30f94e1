// One valve against another: exact faces of the second against a fine mesh of it, and against the same two the other
// way round, which shares no step with it but the outlines.
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/gap.hpp"
#include "random_parts.hpp"

namespace eyebrow {
namespace {

using random_parts::Dice;

constexpr double kMesh = 0.0005;

/// A valve at a place, as a target that others are measured against.
struct Placed {
  Profile profile;
  Vec3 centre, up;
  Frame frame = frame_about({}, up);

  Vec3 in(Vec3 v) const { return {dot(v, frame.x), dot(v, frame.y), dot(v, frame.z)}; }
  Gap from(const Placed& other, bool by_mesh) const {
    Crown surface = valve_surface(profile, kMesh);
    if (by_mesh) surface.edges.clear();
    const ValveToSolid query(make_target(std::move(surface)), other.profile, in(other.up));
    return query.closest(in(other.centre - centre), true);
  }
};

/// Two that lean apart, as an intake and an exhaust do.
std::pair<Placed, Placed> two(Dice& dice, int first, int second) {
  const Placed a{random_parts::valve(dice, first, dice.between(12, 20)),
                 {},
                 tilted_axis(dice.between(0, 0.4), dice.between(0, 0.3))};
  const Profile b = random_parts::valve(dice, second, dice.between(10, 18));
  const Vec3 up = tilted_axis(dice.between(0, 0.4), kPi + dice.between(0, 0.3));
  const double apart = a.profile.rim_radius + b.rim_radius;
  return {a, {b, {apart * dice.between(-1.05, -0.75), dice.between(-4, 4), dice.between(-9, 9)}, up}};
}

TEST(ValvePair, ExactFacesAgreeWithAFineMesh) {
  Dice dice(17);
  int clear = 0, overlapping = 0, exact = 0;
  for (int i = 0; i < 54; ++i) {
    const auto [a, b] = two(dice, i % 6, i / 6 % 6);
    const Gap by_faces = a.from(b, false), by_mesh = a.from(b, true);
    SCOPED_TRACE(std::string(random_parts::kValves[i % 6]) + " and " + random_parts::kValves[i / 6 % 6]);
    (by_faces.value > 0 ? clear : overlapping) += 1;
    EXPECT_LE(by_faces.low, by_mesh.high);
    EXPECT_GE(by_faces.high, by_mesh.low);
    EXPECT_NEAR(by_faces.value, by_mesh.value, 3 * kMesh);
    if (by_faces.value > 0 && by_faces.high - by_faces.low < 0.0011) ++exact;
  }
  std::printf("%d clear, %d of them by faces alone, %d overlapping\n", clear, exact, overlapping);
  EXPECT_GT(clear, 25);
  EXPECT_GT(overlapping, 8);
  EXPECT_GE(exact, 0.8 * clear) << "only what fills the first one's dish, where it is nearest, needs the mesh";
}

TEST(ValvePair, IsTheSameTheOtherWayRound) {
  Dice dice(23);
  int compared = 0;
  for (int i = 0; i < 72; ++i) {
    const auto [a, b] = two(dice, i % 6, i / 6 % 6);
    const Gap one = a.from(b, false);
    if (one.value <= 0) continue;
    const Gap other = b.from(a, false);
    const bool exact = one.high - one.low < 0.0011 && other.high - other.low < 0.0011;
    EXPECT_NEAR(one.value, other.value, exact ? 3e-5 : 2 * kMesh)
        << random_parts::kValves[i % 6] << " and " << random_parts::kValves[i / 6 % 6] << ", " << i;
    compared += exact;
  }
  EXPECT_GT(compared, 30);
}

// Closed form: two upright discs beside and over each other.
TEST(ValvePair, UprightDiscs) {
  Dice dice(1);
  Placed a{random_parts::valve(dice, 0, 15), {}, {0, 0, 1}}, b = a;
  const double rim = a.profile.rim_radius;
  b.centre = {2 * rim + 0.75, 0, 0.3};
  EXPECT_NEAR(a.from(b, false).value, 0.75, 1e-5);
  b.centre = {0.5, 0.2, -3};  // below, face up to face: its stem is far inside the other
  EXPECT_LT(a.from(b, false).value, 0);
}

}  // namespace
}  // namespace eyebrow
