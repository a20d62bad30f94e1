// A corner seen from circles about a valve's axis: closed forms where the two axes are all but parallel, dense sampling
// of the definition where they are not.
#include "gap/hollow_face.hpp"

#include <gtest/gtest.h>

#include "gap/crossings.hpp"
#include "random_parts.hpp"

namespace eyebrow::gap {
namespace {

using random_parts::Dice;

struct Scene {
  Face corner;
  Vec3 up;
  OutlineCircle circle;
  Vec3 middle;
  double past;    // how far past the tube's middle the circle reaches, if the axes were parallel
  double height;  // over it
};

/// A circle that stands `aside`, so that a part of it lies past the middle of the corner's tube; of any length.
Scene scene(Dice& dice, double tilt) {
  Scene s;
  s.corner.kind = Surface::torus;
  s.corner.frame =
      frame_about({dice.between(-9, 9), dice.between(-9, 9), -4}, unit(Vec3{0, 0, 1} + 0.4 * dice.direction()));
  s.corner.radius = dice.between(10, 25);
  s.corner.radius2 = dice.between(0.2, 2);
  const double edge = dice.below(2) ? dice.between(0.1, 0.9) * s.corner.radius2 : 0, room = s.corner.radius2 - edge;
  s.past = std::max(1e-4, dice.decades(-3.5, -0.01) * room);
  s.height = -dice.between(0, 0.99) * std::sqrt(room * room - s.past * s.past);
  const double aside = dice.decades(-1, 0.7);
  s.circle = {s.corner.radius + s.past - aside, 0, edge, {0, -1}, {1, 0}};
  const Frame& f = s.corner.frame;
  const double way = dice.between(0, 2 * kPi), lean = dice.between(0, 2 * kPi);
  s.up = unit(f.z + tilt * (std::cos(lean) * f.x + std::sin(lean) * f.y));
  s.middle = f.origin + s.height * f.z + (aside * std::cos(way)) * f.x + (aside * std::sin(way)) * f.y;
  return s;
}

double least(const HollowFace::Nears& nears) {
  double gap = INFINITY;
  for (int i = 0; i < nears.count; ++i) gap = std::min(gap, nears.at[static_cast<std::size_t>(i)].gap);
  return gap;
}

// However short the stretch past the middle is, and wherever the circle is begun: closed form of parallel axes.
TEST(Corner, IsMetOnTheShortestStretch) {
  Dice dice(11);
  for (int i = 0; i < 5000; ++i) {
    const Scene s = scene(dice, 3e-9);
    const HollowFace face(0, s.corner, s.up);
    const double room = s.corner.radius2 - s.circle.offset;
    EXPECT_NEAR(least(face.nears(s.circle, s.middle, 10)), room - std::hypot(s.past, s.height), 1e-6) << i;
    const Vec3 above = s.middle + 3.0 * s.up;
    EXPECT_NEAR(least(face.exits(s.circle, above, 10)), 3 + s.height + std::sqrt(room * room - s.past * s.past), 1e-5)
        << i;
  }
}

/// Of a place: how far past the tube's middle, how deep, and how far down it leaves the tube by bisection.
struct Place {
  double past, depth;
};
Place place_of(const Scene& s, Vec3 p) {
  const Vec3 off = p - s.corner.frame.origin;
  const double h = dot(off, s.corner.frame.z), away = norm(off - h * s.corner.frame.z);
  return {away - s.corner.radius, std::hypot(away - s.corner.radius, h)};
}

/// How far down a place leaves the tube, past its middle; infinite where it does not.
double leaves_after(const Scene& s, Vec3 p, double end) {
  const Place here = place_of(s, p);
  if (here.past < 0 || here.depth > end) return INFINITY;
  double in = 0, out = 4 * s.corner.radius2;
  for (int half = 0; half < 45; ++half) {
    const double middle = 0.5 * (in + out);
    const Place at = place_of(s, p - middle * s.up);
    (at.past < 0 || at.depth < end ? in : out) = middle;
  }
  return place_of(s, p - in * s.up).past > 0 ? in : INFINITY;
}

/// The least of values around a circle that is less than its neighbours, which count as well.
double least_valley(const std::vector<double>& around) {
  double least = INFINITY;
  const std::size_t n = around.size();
  for (std::size_t i = 0; i < n; ++i) {
    const double before = around[(i + n - 1) % n], after = around[(i + 1) % n];
    if (before < INFINITY && after < INFINITY && around[i] < before && around[i] <= after)
      least = std::min(least, around[i]);
  }
  return least;
}

TEST(Corner, IsMetWhereDenseSamplesAre) {
  constexpr int kSamples = 4000;
  Dice dice(12);
  int met = 0, left = 0;
  for (int i = 0; i < 600; ++i) {
    Scene s = scene(dice, dice.decades(-6, -0.5));
    s.circle = {s.circle.r, 0, 0, {}, {}};  // sharp: an arc may be met with its end
    const HollowFace face(0, s.corner, s.up);
    const Frame f = frame_about(s.middle, s.up);
    std::vector<double> gaps, ways;
    for (int k = 0; k < kSamples; ++k) {
      const double turn = 2 * kPi * k / kSamples;
      const Vec3 p = s.middle + (s.circle.r * std::cos(turn)) * f.x + (s.circle.r * std::sin(turn)) * f.y;
      const Place here = place_of(s, p);
      gaps.push_back(here.past > 0 ? s.corner.radius2 - here.depth : INFINITY);
      ways.push_back(leaves_after(s, p, s.corner.radius2));
    }
    const double gap = least_valley(gaps), way = least_valley(ways);
    if (gap < INFINITY) {
      EXPECT_LE(least(face.nears(s.circle, s.middle, 1e9)), gap + 1e-9) << i;
      ++met;
    }
    if (way < INFINITY) {
      EXPECT_LE(least(face.exits(s.circle, s.middle, 1e9)), way + 1e-9) << i;
      ++left;
    }
  }
  EXPECT_GT(met, 100);
  EXPECT_GT(left, 100);
}

TEST(Crossings, AreFoundBetweenEndsOfOneSign) {
  const auto dip = [](double t) { return (t - 0.3) * (t - 0.3) - 1e-6; };
  double turns[4];
  int count = 0;
  crossings(dip, 0, dip(0), 1, dip(1), 2, 1e-9, [&](double a, double at_a, double b, double at_b) {
    turns[count++] = zero_between(dip, a, at_a, b, at_b, 1e-12, 0);
  });
  ASSERT_EQ(count, 2);
  EXPECT_NEAR(turns[0], 0.299, 1e-9);
  EXPECT_NEAR(turns[1], 0.301, 1e-9);
}

}  // namespace
}  // namespace eyebrow::gap
