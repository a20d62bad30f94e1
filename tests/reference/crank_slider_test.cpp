// Crank, rod and pin offset against published problems and closed form.
#include <gtest/gtest.h>

#include <cmath>

#include "eyebrow/motion.hpp"

namespace eyebrow {
namespace {

TEST(CrankSliderReference, PublishedOffsetProblem) {
  // Published: GATE 2025 Mechanical Engineering, question 60: crank 30 mm, rod 50 mm, offset 10 mm; far reach 79.37,
  // near reach 17.32, stroke 62.05 mm (printed to 0.01).
  for (double offset : {10.0, -10.0}) {
    const CrankSlider slider(60, 50, offset);
    EXPECT_NEAR(slider.reach(), 79.37, 0.005);
    EXPECT_NEAR(slider.reach() - slider.travel(), 17.32, 0.005);
    EXPECT_NEAR(slider.travel(), 62.05, 0.005);
    double least = 1e9, greatest = 0;
    for (double degrees = 0; degrees < 360; degrees += 0.01) {
      const double reach = slider.reach() - slider.drop(degrees * kDegree);
      least = std::min(least, reach);
      greatest = std::max(greatest, reach);
    }
    EXPECT_NEAR(greatest, 79.37, 0.005);
    EXPECT_NEAR(least, 17.32, 0.005);
  }
}

TEST(CrankSliderReference, PublishedSixCylinderProblem) {
  // Published problem (thermodynamics of IC engines, exercise collections): 3.1 litre six, bore = stroke, compression
  // ratio 9, rod 17.2 cm, 20 degrees after TDC. Results recomputed, not printed by the source: bore 8.697 cm, clearance
  // volume 64.58 cm3 a cylinder, piston 0.3267 cm below TDC, cylinder volume 83.99 cm3.
  const double swept = 3100.0 / 6;                 // cm3
  const double bore = std::cbrt(4 * swept / kPi);  // cm
  const double clearance = swept / (9 - 1);
  EXPECT_NEAR(bore, 8.697, 0.0005);
  EXPECT_NEAR(clearance, 64.58, 0.005);
  const CrankSlider slider(10 * bore, 172, 0);
  const double drop = slider.drop(20 * kDegree) / 10;
  EXPECT_NEAR(drop, 0.3267, 0.00005);
  EXPECT_NEAR(clearance + kPi / 4 * bore * bore * drop, 83.99, 0.005);
  // The whole travel is the swept volume.
  EXPECT_NEAR(kPi / 4 * bore * bore * slider.travel() / 10, swept, 1e-9);
}

TEST(CrankSliderReference, ClosedFormDrops) {
  // Closed form: drop = r + l - r cos p - sqrt(l^2 - r^2 sin^2 p), stroke 90, rod 150.
  const CrankSlider slider(90, 150, 0);
  EXPECT_NEAR(slider.drop(5 * kDegree), 0.2225, 0.00005);
  EXPECT_NEAR(slider.drop(10 * kDegree), 0.8873, 0.00005);
  EXPECT_NEAR(slider.drop(15 * kDegree), 1.9862, 0.00005);
  EXPECT_NEAR(slider.drop(20 * kDegree), 3.5055, 0.00005);
  EXPECT_NEAR(slider.travel(), 90, 1e-12);
}

TEST(CrankSliderReference, ClosedFormExactBesideAPrintedSlip) {
  // A web page prints 0.042 m for crank 0.1 m, rod 0.2 m, 68.5 degrees; its own (approximate) formula gives 0.0850. The
  // exact drop is 0.0863 m (closed form).
  EXPECT_NEAR(CrankSlider(200, 200, 0).drop(68.5 * kDegree), 86.3, 0.05);
}

TEST(CrankSliderReference, ClosedFormPinOffset) {
  // Closed form, stroke 90, rod 150, pin 1 mm toward the thrust side. With p the throw's angle from the bore axis and
  // the crankpin leaving to the other side, the pin is at r cos p + sqrt(l^2 - (e + r sin p)^2) above the crank's
  // centre: highest at p = -asin(e / (l + r)) = -0.294 degrees, before the throw lines up.
  const CrankSlider thrust(90, 150, 1), other(90, 150, -1);
  EXPECT_NEAR(thrust.top_angle() / kDegree, -0.294, 0.0005);
  EXPECT_NEAR(other.top_angle() / kDegree, 0.294, 0.0005);
  EXPECT_NEAR(thrust.reach() - 195, -0.0026, 0.00005);
  EXPECT_NEAR(thrust.travel(), 90.0022, 0.00005);

  // 10 degrees of throw either side of the line-up, which is crank angle 10 + 0.294 and -10 + 0.294: the piston has
  // fallen 0.940 after and 0.836 before when the offset is toward the thrust side; the other way round when it is not.
  EXPECT_NEAR(thrust.drop(10 * kDegree - thrust.top_angle()), 0.940, 0.0005);
  EXPECT_NEAR(thrust.drop(-10 * kDegree - thrust.top_angle()), 0.836, 0.0005);
  EXPECT_NEAR(other.drop(10 * kDegree - other.top_angle()), 0.836, 0.0005);
  EXPECT_NEAR(other.drop(-10 * kDegree - other.top_angle()), 0.940, 0.0005);

  // Counted from the piston's own highest place, as crank angles are here, next to nothing is left of the difference.
  EXPECT_NEAR(thrust.drop(10 * kDegree), 0.8876, 0.00005);
  EXPECT_NEAR(thrust.drop(-10 * kDegree), 0.8871, 0.00005);
}

}  // namespace
}  // namespace eyebrow
