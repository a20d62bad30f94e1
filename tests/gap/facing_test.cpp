// How much it may change over a sheet whether a side looks at the rim: against places of the sheet, for faces and edges
// of every kind that a pocket's sides have.
#include "gap/facing.hpp"

#include <gtest/gtest.h>

#include <array>

#include "gap/valve_frame.hpp"
#include "random_parts.hpp"

namespace eyebrow::gap {
namespace {

using random_parts::Dice;

/// A face about an axis near the valve's (z), whose own axis is anywhere.
Face random_face(Dice& dice, int kind) {
  Face face;
  face.kind = std::array{Surface::torus, Surface::cylinder, Surface::cone, Surface::sheared_cone,
                         Surface::sphere}[static_cast<std::size_t>(kind)];
  face.frame = frame_about({dice.between(-30, 30), dice.between(-30, 30), dice.between(-5, 5)},
                           unit(Vec3{0, 0, 1} + dice.decades(-6, -0.3) * dice.direction()));
  face.radius = dice.between(10, 25);
  face.radius2 = face.kind == Surface::torus ? dice.between(0.2, 2) : dice.between(-1, 1);
  return face;
}

Turn between(Dice& dice, const std::array<Turn, 2>& ends) {
  return Turn(dice.between(ends[0].angle, ends[1].angle));
}

double turned(const Face& face, Vec3 p) {
  return turned_away(p, off_surface_gradient(face, p));
}

TEST(Facing, ChangesNoMoreOverASheet) {
  Dice dice(21);
  double tightest = 0;
  for (int i = 0; i < 40000; ++i) {
    const Face face = random_face(dice, i % 4);
    SheetForm form;
    ASSERT_TRUE(form_of(face, form));
    const double u = dice.between(-3, 3),
                 v = face.kind == Surface::torus ? dice.between(-1.7, 0.2) : dice.between(-4, 8),
                 du = dice.decades(-6, -0.7), dv = dice.decades(-6, -0.7);
    const Sheet sheet(form, Turn(u - du), Turn(u + du), Turn(v - dv), Turn(v + dv));
    const double most = turn_over(sheet, sheet.centre, off_surface_gradient(face, sheet.centre), face).both(),
                 middle = turned(face, sheet.centre);
    double seen = 0;
    for (int k = 0; k < 20; ++k) {
      const Turn a = k < 4 ? sheet.u[static_cast<std::size_t>(k % 2)] : between(dice, sheet.u),
                 b = k < 4 ? sheet.v[static_cast<std::size_t>(k / 2)] : between(dice, sheet.v);
      seen = std::max(seen, std::fabs(turned(face, sheet.at(a, b)) - middle));
    }
    EXPECT_LE(seen, most + 1e-10) << i << ": " << static_cast<int>(face.kind);
    tightest = std::max(tightest, seen / most);
  }
  EXPECT_GT(tightest, 0.99) << "a bound that is never reached says little";
}

TEST(Facing, ChangesNoMoreAlongAnEdge) {
  Dice dice(22);
  int around = 0;
  for (int i = 0; i < 8000; ++i) {
    const Face face = random_face(dice, i % 4);
    SheetForm of_face;
    ASSERT_TRUE(form_of(face, of_face));
    const double v = face.kind == Surface::torus ? dice.between(-1.7, 0.2) : dice.between(-4, 8),
                 u = dice.between(-3, 3);
    // Round the face's axis through a place of it, of a cone where it is not much narrower than it is said to be.
    if (face.kind == Surface::sheared_cone) {  // level lines of how wide it is are ellipses
      if (face.radius + v < 0.6 * face.radius || std::fabs(face.radius2) < 0.01) continue;
      const double r = face.radius + v;
      const Vec3 x = r * of_face.x, y = r * of_face.y;
      const Arc arc{face.frame.origin + v * face.frame.z, std::cos(u) * x + std::sin(u) * y,
                    std::cos(u) * y - std::sin(u) * x, dice.decades(-5, -0.5)};
      EXPECT_FALSE(circles({arc.centre, arc.a, arc.b, 0.3}, face));
      const SheetForm form = form_of(arc, 0);
      const Sheet sheet(form, Turn(-arc.half), Turn(arc.half), Turn(), Turn());
      const double most = turn_over(sheet, sheet.centre, off_surface_gradient(face, sheet.centre), face).both();
      for (int k = 0; k < 10; ++k) {
        const Vec3 there = arc.at(dice.between(-arc.half, arc.half));
        EXPECT_LE(std::fabs(turned(face, there) - turned(face, sheet.centre)), most + 1e-9) << i;
      }
      continue;
    }
    const Vec3 p = Sheet(of_face, Turn(u), Turn(u), Turn(v), Turn(v)).centre, off = p - face.frame.origin;
    const double w = dot(off, face.frame.z);
    const Vec3 a = off - w * face.frame.z;
    const Arc arc{face.frame.origin + w * face.frame.z, a, cross(face.frame.z, a), dice.decades(-5, -0.5)};
    if (norm(a) < 0.6 * face.radius) continue;
    ASSERT_TRUE(circles(arc, face));
    ++around;
    SheetForm form = form_of(arc, 0);
    form.circles = dice.below(2) == 0;
    const Sheet sheet(form, Turn(-arc.half), Turn(arc.half), Turn(), Turn());
    const double most = turn_over(sheet, sheet.centre, off_surface_gradient(face, sheet.centre), face).both();
    for (int k = 0; k < 10; ++k) {
      const Vec3 there = arc.at(dice.between(-arc.half, arc.half));
      EXPECT_LE(std::fabs(turned(face, there) - turned(face, sheet.centre)), most + 1e-9) << i;
    }
  }
  EXPECT_GT(around, 5000);
}

/// A rim with a rounded edge or none: beside faces that lie anywhere, faces about nearly its own axis, and faces that
/// it is nearest to within the sheet.
TEST(Facing, WhatSlopesThroughoutIsLeastOnASheetsBorder) {
  Dice dice(23);
  int slopes = 0, least_within = 0;
  for (int i = 0; i < 20000; ++i) {
    Face face = random_face(dice, i % 5);
    if (i % 2) face.frame.origin = {dice.between(-1, 1), dice.between(-1, 1), face.frame.origin.z};
    const double du = dice.decades(-3, -0.5), dv = dice.decades(-3, -0.5);
    double u = dice.between(-3, 3), v = face.kind == Surface::torus || face.kind == Surface::sphere
                                            ? dice.between(-1.7, 0.2)
                                            : dice.between(-4, 8);
    if (i % 5 == 0 ||
        (i % 5 == 4 &&
         dice.below(2))) {  // its normal there is level and goes through the valve's axis, but for a little
      const double level = std::atan2(-face.frame.x.z, face.frame.y.z);
      const Vec3 out = std::cos(level) * face.frame.x + std::sin(level) * face.frame.y;
      const double to = face.radius + (face.kind == Surface::torus ? face.radius2 : 0) + dice.between(1, 20);
      face.frame.origin = -to * out;
      u = level + 0.5 * dice.between(-du, du);
      v = 0.5 * dice.between(-dv, dv);
    }
    SheetForm form;
    ASSERT_TRUE(form_of(face, form));
    const Sheet sheet(form, Turn(u - du), Turn(u + du), Turn(v - dv), Turn(v + dv));
    const double edge = dice.below(2) ? dice.between(0.05, 1) : 0, foot = sheet.centre.z - dice.between(0, 2);
    const auto dip = [&](double w) { return edge > 0 ? std::asin(std::clamp((foot + edge - w) / edge, 0.0, 1.0)) : 0; };
    const auto far = [&](Vec3 p) { return radius_of(p) + (edge > 0 ? edge * (1 - std::cos(dip(p.z))) : 0); };
    if (edge > 0 && sheet.centre.z - sheet.radius < foot) continue;
    const bool said = slopes_throughout(sheet, sheet.centre, off_surface_gradient(face, sheet.centre),
                                        dip(sheet.centre.z - sheet.radius), dip(sheet.centre.z + sheet.radius));
    constexpr int kGrid = 12;
    double border = 1e300, within = 1e300;
    for (int a = 0; a <= kGrid; ++a)
      for (int b = 0; b <= kGrid; ++b) {
        const double value = far(sheet.at(Turn(u + du * (2.0 * a / kGrid - 1)), Turn(v + dv * (2.0 * b / kGrid - 1))));
        double& least = a % kGrid == 0 || b % kGrid == 0 ? border : within;
        least = std::min(least, value);
      }
    slopes += said;
    least_within += within < border - 1e-9;
    if (said) {
      EXPECT_LE(border, within + 1e-9) << i;
    }
  }
  EXPECT_GT(slopes, 5000) << "a bound that never says so says little";
  EXPECT_GT(least_within, 300) << slopes;
}

TEST(Facing, AnEdgeThatIsAskewGoesNotRound) {
  Face face;
  face.kind = Surface::cylinder;
  face.frame = frame_about({}, {0, 0, 1});
  face.radius = 10;
  EXPECT_TRUE(circles({{0, 0, 2}, {10, 0, 0}, {0, 10, 0}, 1}, face));
  EXPECT_FALSE(circles({{0, 0, 2}, {10, 0, 0}, {0, 10, 0.01}, 1}, face));
  EXPECT_FALSE(circles({{1, 0, 2}, {9, 0, 0}, {0, 9, 0}, 0.2}, face)) << "it leaves the face";
  EXPECT_FALSE(circles({{10, 0, 2}, {}, {0, 0, 1}, 1, true}, face)) << "straight";
}

}  // namespace
}  // namespace eyebrow::gap
