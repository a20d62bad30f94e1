// Block and gasket around the bore, and the valves. Block frame.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/surface_checks.hpp"

namespace eyebrow {
namespace {

using testing::Contains;
using testing::Not;

const Face& face_of(const Crown& c, const std::string& name) {
  const int face = test::face_named(c, name);
  EXPECT_GE(face, 0) << name;
  return c.faces.at(static_cast<std::size_t>(std::max(face, 0)));
}

void expect_closed(const Crown& c) {
  EXPECT_EQ(test::open_edges(c), 0);
  EXPECT_NEAR(test::mesh_volume(c), c.volume, c.error * test::total_area(c));
  EXPECT_LE(c.error, 0.0005);
}

TEST(Bore, GasketWiderThanTheBore) {
  const Engine e = test::wedge();
  const Crown c = build_parts(e, {}).bore;
  expect_closed(c);
  const double bore = 4.030 * kInch / 2, gasket = 4.100 * kInch / 2, thick = 0.041 * kInch;
  EXPECT_EQ(face_of(c, "bore wall").group, Group::bore);
  EXPECT_NEAR(face_of(c, "bore wall").radius, bore, 1e-12);
  EXPECT_NEAR(face_of(c, "deck face").area, kPi * (gasket * gasket - bore * bore), 1e-6);
  EXPECT_GT(face_of(c, "deck face").frame.z.z, 0);
  EXPECT_EQ(face_of(c, "gasket edge").group, Group::gasket);
  EXPECT_NEAR(face_of(c, "gasket edge").area, 2 * kPi * gasket * thick, 1e-6);
  EXPECT_NEAR(face_of(c, "gasket top").frame.origin.z, thick, 1e-12);
  EXPECT_THAT(test::names_of(c), Not(Contains("gasket underside")));
  // The wall goes down past the piston's lowest place.
  EXPECT_GT(face_of(c, "bore wall").area, 2 * kPi * bore * e.cylinder.stroke);
}

TEST(Bore, GasketNarrowerThanTheBoreOverhangs) {
  Engine e = test::wedge();
  e.gasket.bore = e.cylinder.bore - 2;
  const Crown c = build_parts(e, {}).bore;
  expect_closed(c);
  const double bore = e.cylinder.bore / 2;
  EXPECT_NEAR(face_of(c, "gasket underside").area, kPi * (bore * bore - (bore - 1) * (bore - 1)), 1e-6);
  EXPECT_LT(face_of(c, "gasket underside").frame.z.z, 0);
  EXPECT_THAT(test::names_of(c), Not(Contains("deck face")));
}

TEST(Bore, GasketAsWideAsTheBore) {
  Engine e = test::wedge();
  e.gasket.bore = e.cylinder.bore;
  const Crown c = build_parts(e, {}).bore;
  expect_closed(c);
  EXPECT_LT(test::face_named(c, "deck face"), 0);
  EXPECT_LT(test::face_named(c, "gasket underside"), 0);
}

TEST(Bore, NotchesAreCutFromTheBlockOnly) {
  Engine e = test::wedge();
  e.cylinder.notches = {{"intake", 0, 48, 30, 4}, {"exhaust", 3, -50, 20, 3}};
  const Crown c = build_parts(e, {}).bore;
  expect_closed(c);
  EXPECT_NEAR(face_of(c, "bore notch intake").radius, 15, 1e-12);
  EXPECT_NEAR(face_of(c, "bore notch exhaust floor").frame.origin.z, -3, 1e-12);
  // Closed form: what of a circle of radius r lies outside one of radius R, their centres d apart.
  const double bore = e.cylinder.bore / 2, d = 48, r = 15;
  const double lens = r * r * std::acos((d * d + r * r - bore * bore) / (2 * d * r)) +
                      bore * bore * std::acos((d * d + bore * bore - r * r) / (2 * d * bore)) -
                      std::sqrt((-d + r + bore) * (d + r - bore) * (d - r + bore) * (d + r + bore)) / 2;
  EXPECT_NEAR(face_of(c, "bore notch intake floor").area, kPi * r * r - lens, 1e-5);
  // The gasket's edge is untouched.
  EXPECT_NEAR(face_of(c, "gasket edge").area, kPi * e.gasket.bore * e.gasket.thickness, 1e-6);
}

TEST(Valves, OneProfileEachWithALongStem) {
  const Engine e = test::pent_roof();
  const Parts parts = build_parts(e, {}, 0.01);
  ASSERT_EQ(parts.profiles.size(), 4u);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(parts.profiles[i].rim_radius, e.valves[i].head_diameter / 2);
    EXPECT_GE(parts.profiles[i].top, 4 * e.valves[i].head_diameter + 9.5 + 4);
  }
}

}  // namespace
}  // namespace eyebrow
