#include "eyebrow/profile.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/fault.hpp"
#include "solid/engines.hpp"
#include "solid/outline_volume.hpp"

namespace eyebrow {
namespace {

using testing::HasSubstr;

Valve plain_valve() {
  return test::valve("intake", Role::intake, 0, 40, 1.5, 0, 0, 0, 0, 5, 8);
}

void expect_connected(const Profile& profile) {
  ASSERT_FALSE(profile.elements.empty());
  EXPECT_EQ(profile.elements.front().from.r, 0);
  EXPECT_EQ(profile.elements.back().to.r, 0);
  for (std::size_t i = 1; i < profile.elements.size(); ++i) {
    EXPECT_EQ(profile.elements[i].from.r, profile.elements[i - 1].to.r) << i;
    EXPECT_EQ(profile.elements[i].from.w, profile.elements[i - 1].to.w) << i;
  }
  for (const ProfileElement& e : profile.elements) {
    if (e.radius == 0) continue;
    EXPECT_NEAR(std::hypot(e.from.r - e.centre.r, e.from.w - e.centre.w), e.radius, 1e-12);
    EXPECT_NEAR(std::hypot(e.to.r - e.centre.r, e.to.w - e.centre.w), e.radius, 1e-12);
  }
}

TEST(ValveProfile, FlatFaceWithSharpRim) {
  const Profile p = valve_profile(plain_valve(), 160);
  expect_connected(p);
  EXPECT_EQ(p.rim_radius, 20);
  EXPECT_EQ(p.margin, 1.5);
  EXPECT_EQ(p.lowest, 0);
  EXPECT_EQ(p.top, 160);
  ASSERT_EQ(p.elements.size(), 6u);
  EXPECT_EQ(p.elements[0].part, ValvePart::face);
  EXPECT_EQ(p.elements[1].part, ValvePart::margin);
  EXPECT_EQ(p.elements[2].part, ValvePart::seat);
  EXPECT_EQ(p.elements[3].part, ValvePart::underhead);
  EXPECT_EQ(p.elements[4].part, ValvePart::stem);
  EXPECT_EQ(p.elements[5].part, ValvePart::stem);
  // Closed form: a 45 degree seat 3.6 wide goes in and up by 3.6 / sqrt 2.
  EXPECT_NEAR(p.elements[2].to.r, 20 - 3.6 / std::sqrt(2.0), 1e-12);
  EXPECT_NEAR(p.elements[2].to.w, 1.5 + 3.6 / std::sqrt(2.0), 1e-12);
  // Closed form: then at 25 degrees from square to the stem up to the stem's radius.
  EXPECT_NEAR(p.elements[3].to.r, 4, 1e-12);
  EXPECT_NEAR(p.elements[3].to.w - p.elements[3].from.w, (p.elements[3].from.r - 4) * std::tan(25 * kDegree), 1e-12);
}

TEST(ValveProfile, RimRadiusIsTangentToFaceAndMargin) {
  Valve v = plain_valve();
  v.rim_radius = 0.4;
  const Profile p = valve_profile(v, 160);
  expect_connected(p);
  ASSERT_EQ(p.elements[1].part, ValvePart::rim_edge);
  EXPECT_TRUE(p.elements[1].bulges);
  EXPECT_NEAR(p.elements[1].centre.r, 19.6, 1e-12);
  EXPECT_NEAR(p.elements[1].centre.w, 0.4, 1e-12);
  EXPECT_EQ(p.edge_radius, 0.4);
}

TEST(ValveProfile, EdgeRadiusMayTakeUpTheWholeMargin) {
  Valve v = plain_valve();
  v.rim_radius = v.margin;
  const Profile p = valve_profile(v, 160);
  expect_connected(p);
  for (const ProfileElement& e : p.elements) EXPECT_NE(e.part, ValvePart::margin);
}

TEST(ValveProfile, DomedFaceReachesBelowTheRimPlane) {
  Valve v = plain_valve();
  v.face = FaceShape::domed;
  v.face_depth = 2;
  const Profile p = valve_profile(v, 160);
  expect_connected(p);
  EXPECT_EQ(p.lowest, -2);
  EXPECT_TRUE(p.elements[0].bulges);
  // Published (any book of mensuration): sphere through a cap of height h on a base of radius a, R = (a^2 + h^2) / 2h.
  EXPECT_NEAR(p.elements[0].radius, (400 + 4) / 4.0, 1e-12);
}

// Closed form: of two circles that touch from within the centres are as far apart as the radii differ, and the place
// lies on the line through both; there the tangents are one.
TEST(ValveProfile, ADomeTouchesTheRoundedRim) {
  Valve v = plain_valve();
  v.face = FaceShape::domed;
  v.face_depth = 2;
  v.rim_radius = 0.6;
  const Profile p = valve_profile(v, 160);
  expect_connected(p);
  const ProfileElement &dome = p.elements[0], &edge = p.elements[1];
  ASSERT_EQ(edge.part, ValvePart::rim_edge);
  EXPECT_EQ(p.lowest, -2);
  EXPECT_NEAR(dome.centre.w - dome.radius, -2, 1e-12);
  EXPECT_NEAR(edge.centre.r, 19.4, 1e-12);
  EXPECT_NEAR(edge.centre.w, 0.6, 1e-12);
  EXPECT_NEAR(std::hypot(edge.centre.r, edge.centre.w - dome.centre.w), dome.radius - 0.6, 1e-10);
  EXPECT_NEAR(std::hypot(dome.to.r, dome.to.w - dome.centre.w), dome.radius, 1e-10);
  EXPECT_NEAR(std::hypot(dome.to.r - 19.4, dome.to.w - 0.6), 0.6, 1e-10);
  const Point2 from_dome{dome.to.r / dome.radius, (dome.to.w - dome.centre.w) / dome.radius},
      from_edge{(dome.to.r - 19.4) / 0.6, (dome.to.w - 0.6) / 0.6};
  EXPECT_NEAR(from_dome.r, from_edge.r, 1e-10);
  EXPECT_NEAR(from_dome.w, from_edge.w, 1e-10);
  EXPECT_LT(dome.to.r, 20);
}

TEST(ValveProfile, DishedFaceIsHollow) {
  Valve v = plain_valve();
  v.face = FaceShape::dished;
  v.face_depth = 2;
  const Profile p = valve_profile(v, 160);
  expect_connected(p);
  EXPECT_EQ(p.lowest, 0);
  EXPECT_EQ(p.elements[0].from.w, 2);
  EXPECT_FALSE(p.elements[0].bulges);
}

// Closed form: disc, cone frustums and cylinder; the cap by pi h (3 a^2 + h^2) / 6 (published in books of mensuration).
TEST(ValveProfile, VolumeAddsUpFromItsParts) {
  const auto frustum = [](double h, double a, double b) { return kPi * h * (a * a + a * b + b * b) / 3; };
  Valve v = plain_valve();
  const double in = 3.6 / std::sqrt(2.0), rise = (20 - in - 4) * std::tan(25 * kDegree);
  const double flat =
      kPi * 400 * 1.5 + frustum(in, 20, 20 - in) + frustum(rise, 20 - in, 4) + kPi * 16 * (160 - 1.5 - in - rise);
  EXPECT_NEAR(outline_volume(valve_profile(v, 160)), flat, 1e-9 * flat);
  const double cap = kPi * 2 * (3 * 400 + 4) / 6;
  v.face_depth = 2;
  v.face = FaceShape::domed;
  EXPECT_NEAR(outline_volume(valve_profile(v, 160)), flat + cap, 1e-9 * flat);
  v.face = FaceShape::dished;
  EXPECT_NEAR(outline_volume(valve_profile(v, 160)), flat - cap, 1e-9 * flat);
}

struct BadValve {
  const char* what;
  void (*spoil)(Valve&);
  const char* message;
};

class BadValves : public testing::TestWithParam<BadValve> {};

TEST_P(BadValves, AreRefusedWithTheReason) {
  Valve v = plain_valve();
  GetParam().spoil(v);
  try {
    valve_profile(v, 160);
    FAIL() << "was accepted: " << GetParam().what;
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("valve intake"));
    EXPECT_THAT(error.what(), HasSubstr(GetParam().message));
  }
}

INSTANTIATE_TEST_SUITE_P(
    Each, BadValves,
    testing::Values(BadValve{"no head", [](Valve& v) { v.head_diameter = 0; }, "head_diameter"},
                    BadValve{"not a number", [](Valve& v) { v.margin = NAN; }, "margin"},
                    BadValve{"no margin", [](Valve& v) { v.margin = 0; }, "margin"},
                    BadValve{"edge radius beyond margin", [](Valve& v) { v.rim_radius = 1.6; },
                             "does not fit in the margin"},
                    BadValve{"seat to the stem", [](Valve& v) { v.seat_width = 30; }, "inside the stem"},
                    BadValve{"seat upright", [](Valve& v) { v.seat_angle = kPi / 2; }, "seat_angle"},
                    BadValve{"underhead downward", [](Valve& v) { v.underhead_angle = -0.1; }, "underhead_angle"},
                    BadValve{"underhead beyond the stem", [](Valve& v) { v.underhead_angle = 86 * kDegree; },
                             "beyond the end of the stem"},
                    BadValve{"stem as wide as the head", [](Valve& v) { v.stem_diameter = 40; }, "inside the stem"},
                    BadValve{"dish through the back",
                             [](Valve& v) { v.face = FaceShape::dished, v.face_depth = 12, v.underhead_angle = 0; },
                             "breaks through the back"},
                    BadValve{"dome of more than a ball", [](Valve& v) { v.face = FaceShape::domed, v.face_depth = 25; },
                             "half a ball"},
                    BadValve{"dish without depth", [](Valve& v) { v.face = FaceShape::dished; }, "face_depth"}),
    [](const auto& each) {
      std::string name = each.param.what;
      std::replace_if(
          name.begin(), name.end(), [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); }, '_');
      return name;
    });

TEST(ValveProfile, TellsAllFaultsAtOnce) {
  Valve v = plain_valve();
  v.margin = -1;
  v.seat_angle = 2;
  v.stem_diameter = 0;
  try {
    valve_profile(v, 160);
    FAIL();
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults().size(), 3u);
  }
}

}  // namespace
}  // namespace eyebrow
