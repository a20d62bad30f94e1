// What is said of a sheet seen from an axis, against samples of it: arcs, cones, tubes; axes through and beside their
// own.
#include "gap/sheet.hpp"

#include <gtest/gtest.h>

#include "gap/valve_frame.hpp"
#include "random_parts.hpp"

namespace eyebrow::gap {
namespace {

using random_parts::Dice;

/// An arc, a cone (or cylinder), a torus or a sheared cone about an axis near z.
SheetForm random_form(Dice& dice, int kind) {
  const Frame frame = frame_about({dice.between(-2, 2), dice.between(-2, 2), dice.between(-2, 2)},
                                  unit(Vec3{0, 0, 1} + dice.decades(-6, 0) * dice.direction()));
  SheetForm form{frame.origin, frame.x, frame.y, frame.z};
  form.ring = dice.between(5, 30);
  if (kind == 1) {
    form.slope = dice.below(2) ? 0 : dice.between(-1, 1);
    form.rise = 1;
  }
  if (kind == 2) form.tube = dice.between(0.5, 3);
  if (kind == 3) {
    Face face;
    face.kind = Surface::sheared_cone;
    face.frame = frame;
    face.radius = form.ring;
    face.radius2 = dice.between(-1, 1);
    EXPECT_TRUE(form_of(face, form));
  }
  return form;
}

Sheet random_sheet(Dice& dice, const SheetForm& form, int kind) {
  const double u = dice.between(-3, 3), v = dice.between(-1, 1), du = dice.decades(-4, -0.5),
               dv = dice.decades(-4, -0.3);
  return kind == 0 ? Sheet(form, Turn(u), Turn(u + du), Turn(0), Turn(0))
                   : Sheet(form, Turn(u), Turn(u + du), Turn(v), Turn(v + dv));
}

TEST(Sheet, BoundsAboutAnAxisHold) {
  Dice dice(7);
  int said = 0, close = 0;
  for (int i = 0; i < 8000; ++i) {
    const int kind = i % 4;
    const SheetForm form = random_form(dice, kind);
    const Sheet sheet = random_sheet(dice, form, kind);
    const Vec3 c = form.origin + dice.decades(-6, 0.5) * dice.direction();
    const AboutAxis about(sheet, c);
    const Vec3 g = dice.between(-1, 1) * dice.direction();
    const double a = dice.between(-1, 1);
    const Sheet::Least least = about.least(g, a);
    const Vec3 middle = sheet.centre - c;
    double lowest = INFINITY, aside = 0;
    for (int k = 0; k <= 10; ++k)
      for (int m = 0; m <= 10; ++m) {
        const Turn s(sheet.u[0].angle + k * 0.1 * (sheet.u[1].angle - sheet.u[0].angle));
        const Turn t(sheet.v[0].angle + m * 0.1 * (sheet.v[1].angle - sheet.v[0].angle));
        const Vec3 q = sheet.at(s, t) - c;
        lowest = std::min(lowest, dot(g, q) + a * radius_of(q));
        EXPECT_LE(norm(q - middle), sheet.radius + 1e-12) << i;
        aside = std::max(aside, diagonal(radius_of(q) - radius_of(middle), q.z - middle.z));
      }
    EXPECT_LE(least.value, lowest + 1e-10) << i;
    EXPECT_LE(aside, about.aside() + 1e-10) << i;
    said += std::isfinite(least.value);
    close += least.value > lowest - 0.02 * sheet.radius;
  }
  EXPECT_GT(said, 7850);
  EXPECT_GT(close, 5300);  // most sheets here are small beside their distance from the axis
}

}  // namespace
}  // namespace eyebrow::gap
