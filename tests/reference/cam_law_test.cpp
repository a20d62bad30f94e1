// Peak factors of the cam laws: greatest velocity and acceleration of a rise of 1 over an angle of 1.
#include "motion/cam_law.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "eyebrow/motion.hpp"

namespace eyebrow {
namespace {

struct Row {
  CamLaw law;
  double velocity, acceleration;
};

// Closed form; handbooks of cam design (Rothbart; Norton) print the same table (memory), some with 5.777 and 7.526 for
// the two polynomials.
constexpr Row kTable[] = {
    {CamLaw::harmonic, 1.5708, 4.9348},      {CamLaw::cycloidal, 2, 6.2832},   {CamLaw::modified_sine, 1.7596, 5.5280},
    {CamLaw::modified_trapezoid, 2, 4.8881}, {CamLaw::poly345, 1.875, 5.7735}, {CamLaw::poly4567, 2.1875, 7.5132},
};

TEST(CamLawReference, PeakFactors) {
  for (const Row& row : kTable) {
    SCOPED_TRACE(motion::to_string(row.law));
    double velocity = 0, acceleration = 0, deceleration = 0;
    for (int i = 0; i <= 100000; ++i) {
      const motion::LawPoint at = motion::cam_law(row.law, i / 100000.0);
      velocity = std::max(velocity, at.velocity);
      acceleration = std::max(acceleration, at.acceleration);
      deceleration = std::max(deceleration, -at.acceleration);
    }
    EXPECT_NEAR(velocity, row.velocity, 0.00005);
    EXPECT_NEAR(acceleration, row.acceleration, 0.00005);
    EXPECT_NEAR(deceleration, row.acceleration, 0.00005);
  }
}

TEST(CamLawReference, PeakFactorsOfAWholeLobe) {
  // The same through a lift curve: 8 mm in half of 240 degrees of crank.
  for (const Row& row : kTable) {
    SCOPED_TRACE(motion::to_string(row.law));
    Lobe lobe;
    lobe.lift = 8;
    lobe.law = row.law;
    lobe.law_duration = 240 * kDegree;
    const LiftCurve curve = lift_curve(lobe);
    const double half = 120 * kDegree;
    double velocity = 0, acceleration = 0;
    for (int i = 1; i < 100000; ++i) {
      const double x = -half + half * i / 100000;
      velocity = std::max(velocity, curve.velocity(x));
      acceleration = std::max(acceleration, curve.acceleration(x));
    }
    EXPECT_NEAR(velocity * half / 8, row.velocity, 0.00005);
    EXPECT_NEAR(acceleration * half * half / 8, row.acceleration, 0.0002);  // harmonic: sampled beside its end
  }
}

}  // namespace
}  // namespace eyebrow
