// Cam laws as lift laws, and lobes by them. Their peak factors against handbooks: tests/reference/cam_law_test.cpp.
#include "motion/cam_law.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/fault.hpp"
#include "motion/curve_checks.hpp"
#include "motion/known_tables.hpp"

namespace eyebrow {
namespace {

using motion::cam_law;
using motion::LawPoint;

Lobe law_lobe(CamLaw law) {
  Lobe lobe;
  lobe.name = "intake";
  lobe.lift = 9;
  lobe.law = law;
  lobe.law_duration = 270 * kDegree;
  return lobe;
}

TEST(CamLaw, RisesByOneOverOne) {
  for (CamLaw law : known::kLaws) {
    SCOPED_TRACE(motion::to_string(law));
    EXPECT_NEAR(cam_law(law, 0).value, 0, 1e-15);
    EXPECT_NEAR(cam_law(law, 0.5).value, 0.5, 1e-14);
    EXPECT_NEAR(cam_law(law, 1).value, 1, 1e-15);
    EXPECT_NEAR(cam_law(law, 0).velocity, 0, 1e-15);
    EXPECT_NEAR(cam_law(law, 1).velocity, 0, 1e-15);
    const double end = law == CamLaw::harmonic ? kPi * kPi / 2 : 0;
    EXPECT_NEAR(cam_law(law, 0).acceleration, end, 1e-14);
    EXPECT_NEAR(cam_law(law, 1).acceleration, -end, 1e-14);
    EXPECT_EQ(cam_law(law, -0.1).value, cam_law(law, 0).value);
    EXPECT_EQ(cam_law(law, 1.1).value, cam_law(law, 1).value);
  }
}

TEST(CamLaw, VelocityAndAccelerationAreItsDerivativesAndDoNotJump) {
  constexpr double kStep = 1e-6;
  for (CamLaw law : known::kLaws) {
    SCOPED_TRACE(motion::to_string(law));
    // The joints of the modified laws and of the mirrored halves are on this grid.
    for (int i = 1; i < 1600; ++i) {
      const double u = i / 1600.0;
      const LawPoint before = cam_law(law, u - kStep), at = cam_law(law, u), after = cam_law(law, u + kStep);
      EXPECT_NEAR((after.value - before.value) / (2 * kStep), at.velocity, 1e-8);
      EXPECT_NEAR((after.velocity - before.velocity) / (2 * kStep), at.acceleration, 1e-4);
      EXPECT_NEAR(after.acceleration, before.acceleration, 1.1 * 2 * kStep * 8 * kPi * kPi);
    }
  }
}

TEST(CamLaw, LobeFollowsTheLaw) {
  for (CamLaw law : known::kLaws) {
    SCOPED_TRACE(motion::to_string(law));
    const LiftCurve curve = lift_curve(law_lobe(law));
    EXPECT_DOUBLE_EQ(curve.end(), 135 * kDegree);
    EXPECT_DOUBLE_EQ(curve.peak(), 9);
    for (double d = -135; d <= 135; d += 0.13) {
      EXPECT_NEAR(curve.lift(d * kDegree), 9 * cam_law(law, 1 - std::fabs(d) / 135).value, 1e-11);
      EXPECT_NEAR(curve.lift(d * kDegree), curve.lift(-d * kDegree), 1e-13);
    }
    checks::expect_one_maximum(curve);
    checks::expect_speed_bound(curve);
  }
}

TEST(CamLaw, LobesAreContinuousInAccelerationExceptHarmonicAtItsEnds) {
  for (CamLaw law : known::kLaws) {
    SCOPED_TRACE(motion::to_string(law));
    const LiftCurve curve = lift_curve(law_lobe(law));
    if (law == CamLaw::harmonic) {
      EXPECT_NEAR(checks::acceleration_jump(curve), 1, 1e-3);  // from nothing to the greatest
    } else {
      checks::expect_continuous(curve);
    }
  }
}

Lobe ramped(CamLaw law) {
  Lobe lobe = law_lobe(law);
  lobe.ramp_lift = 0.3;
  lobe.ramp_duration = 30 * kDegree;
  return lobe;
}

// Closed form: the velocity rises to v over the first quarter as 3 s^2 - 2 s^3, whose mean is a half; so the ramp lifts
// v (d - d / 8), and what is left of the ramp is a straight line.
TEST(CamLaw, RampsHaveTheirLiftAtConstantVelocity) {
  for (CamLaw law : known::kLaws) {
    SCOPED_TRACE(motion::to_string(law));
    const LiftCurve curve = lift_curve(ramped(law));
    EXPECT_NEAR(curve.begin(), -165 * kDegree, 1e-12);
    EXPECT_NEAR(curve.end(), 165 * kDegree, 1e-12);
    EXPECT_NEAR(curve.lift(-135 * kDegree), 0.3, 1e-12);
    EXPECT_NEAR(curve.lift(135 * kDegree), 0.3, 1e-12);
    EXPECT_NEAR(curve.peak(), 9, 1e-12);
    EXPECT_NEAR(curve.peak_angle(), 0, 1e-9);
    const double speed = 0.3 / (30 * kDegree * 7 / 8);
    for (double d = 135.01; d <= 157.5; d += 0.5) {
      EXPECT_NEAR(curve.velocity(-d * kDegree), speed, 1e-9) << d;
      EXPECT_NEAR(curve.acceleration(-d * kDegree), 0, 1e-9) << d;
      EXPECT_NEAR(curve.lift(-d * kDegree), 0.3 - speed * (d - 135) * kDegree, 1e-9) << d;
    }
    for (double d = 157.5; d <= 165; d += 0.1) {
      const double s = (165 - d) / 7.5;
      EXPECT_NEAR(curve.velocity(-d * kDegree), speed * s * s * (3 - 2 * s), 1e-9) << d;
    }
    for (double d = 0; d <= 165; d += 0.37) EXPECT_NEAR(curve.lift(d * kDegree), curve.lift(-d * kDegree), 1e-12);
    checks::expect_one_maximum(curve);
    checks::expect_speed_bound(curve);
    // One change of sign on the flank: no wiggle where ramp and law join.
    EXPECT_EQ(checks::acceleration_sign_changes(curve, curve.begin() + 7.6 * kDegree, 0), 1);
  }
}

TEST(CamLaw, RampsJoinInVelocityAndAccelerationExceptHarmonics) {
  for (CamLaw law : known::kLaws) {
    SCOPED_TRACE(motion::to_string(law));
    const LiftCurve curve = lift_curve(ramped(law));
    if (law != CamLaw::harmonic) {
      checks::expect_continuous(curve);
      continue;
    }
    // From none to the law's own: pi^2 / 2 of the lift that is the law's, which is what the ramp's velocity leaves.
    const double half = 135 * kDegree, speed = 0.3 / (30 * kDegree * 7 / 8);
    const double jump = kPi * kPi / 2 * (9 - 0.3 - speed * half / 2) / (half * half);
    for (double side : {-1.0, 1.0}) {
      EXPECT_NEAR(curve.acceleration(side * (half + 1e-4)), 0, 1e-9);
      EXPECT_NEAR(curve.acceleration(side * (half - 1e-9)), jump, 1e-5);
      EXPECT_NEAR(curve.velocity(side * (half + 1e-4)), -side * speed, 1e-9);
      EXPECT_NEAR(curve.velocity(side * (half - 1e-9)), -side * speed, 1e-5);
    }
  }
}

TEST(CamLaw, RampsThatDoNotFitAreNamed) {
  const auto message = [](double lift, double duration) {
    Lobe lobe = law_lobe(CamLaw::poly345);
    lobe.ramp_lift = lift;
    lobe.ramp_duration = duration * kDegree;
    try {
      lift_curve(lobe);
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  using ::testing::HasSubstr;
  EXPECT_THAT(message(0.3, 0), HasSubstr("a ramp has both"));
  EXPECT_THAT(message(0, 30), HasSubstr("a ramp has both"));
  EXPECT_THAT(message(-0.3, 30), HasSubstr("a ramp has both"));
  EXPECT_THAT(message(0.3, 230), HasSubstr("must lie below 720 deg together"));
  EXPECT_THAT(message(3, 20), HasSubstr("leaves nothing of the greatest lift"));
  EXPECT_EQ(message(0.3, 30), "");
}

TEST(CamLaw, BadNumbersAreNamed) {
  Lobe lobe = law_lobe(CamLaw::poly345);
  lobe.law_duration = 0;
  lobe.lift = -1;
  try {
    lift_curve(lobe);
    FAIL();
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults().size(), 2u);
  }
  lobe = law_lobe(CamLaw::poly345);
  lobe.law_duration = 721 * kDegree;
  EXPECT_THROW(lift_curve(lobe), InputError);
}

}  // namespace
}  // namespace eyebrow
