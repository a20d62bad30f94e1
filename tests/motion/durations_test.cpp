// Lobes from durations at checking lifts.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "eyebrow/fault.hpp"
#include "motion/curve_checks.hpp"
#include "motion/example_lobes.hpp"

namespace eyebrow {
namespace {

using ::testing::HasSubstr;

TEST(Durations, ExampleLobesPassThroughEveryNumber) {
  for (const Lobe& lobe : examples::all_lobes()) {
    const LiftCurve curve = lift_curve(lobe);
    for (const Duration& at : lobe.durations) {
      EXPECT_NEAR(curve.lift(-at.duration / 2), at.lift, 1e-9);
      EXPECT_NEAR(curve.lift(at.duration / 2), at.lift, 1e-9);
    }
    EXPECT_NEAR(curve.lift(0), lobe.lift, 1e-12);
    EXPECT_EQ(curve.velocity(0), 0);
  }
}

TEST(Durations, ExampleLobesAreSmoothSymmetricAndHaveOneMaximum) {
  for (const Lobe& lobe : examples::all_lobes()) {
    const LiftCurve curve = lift_curve(lobe);
    checks::expect_continuous(curve);
    checks::expect_one_maximum(curve);
    checks::expect_speed_bound(curve);
    EXPECT_EQ(curve.begin(), -curve.end());
    for (double x = 0; x < curve.end(); x += 0.01) EXPECT_NEAR(curve.lift(x), curve.lift(-x), 1e-12 * lobe.lift);
    // One change from opening to nose: the flank speeds up, then slows down.
    EXPECT_EQ(checks::acceleration_sign_changes(curve, curve.begin(), 0), 1);
  }
}

TEST(Durations, RampEndsWhereTheParabolaThroughTheLowestPointsDoes) {
  // Closed form: a lobe with lifts (50 - x)^2 / 1000 at its two lowest points ends at 50.
  Lobe lobe = examples::lobe("made", Role::intake, 110, 8, 1, LiftAt::valve, {{0.1, 80}, {0.4, 60}, {1.6, 20}});
  EXPECT_NEAR(lift_curve(lobe).end(), 50 * kDegree, 1e-12);
}

TEST(Durations, RampIsNoLongerThanSixtyDegrees) {
  // 4 and 6 mm alone say nothing of the ramp: the parabola would end 76 degrees beyond.
  const Lobe lobe = examples::lobe("made", Role::intake, 110, 10, 1, LiftAt::valve, {{4, 172}, {6, 138}});
  EXPECT_NEAR(lift_curve(lobe).end(), (86 + 60) * kDegree, 1e-12);
  checks::expect_one_maximum(lift_curve(lobe));
}

TEST(Durations, RampStaysWithinTheCycle) {
  const Lobe lobe = examples::lobe("made", Role::intake, 110, 10, 1, LiftAt::valve, {{0.5, 700}, {6, 400}});
  const LiftCurve curve = lift_curve(lobe);
  EXPECT_NEAR(curve.end(), 355 * kDegree, 1e-12);
  checks::expect_one_maximum(curve);
}

TEST(Durations, ZeroCheckingLiftIsTheEndOfTheRamp) {
  const Lobe lobe = examples::lobe("made", Role::intake, 110, 10, 1, LiftAt::valve, {{0, 290}, {1, 230}, {4, 172}});
  const LiftCurve curve = lift_curve(lobe);
  EXPECT_EQ(curve.end(), 145 * kDegree);
  EXPECT_NEAR(curve.lift(115 * kDegree), 1, 1e-12);
  checks::expect_continuous(curve);
  checks::expect_one_maximum(curve);
}

TEST(Durations, AwkwardNumbersStillRiseAndFall) {
  // A flat nose, a sudden flank, a step in the flank, two lifts close together: the smoothest chain would turn back.
  const std::vector<Lobe> awkward = {
      examples::lobe("nose", Role::intake, 110, 8.01, 1, LiftAt::valve, {{0.5, 240}, {1, 230}, {8, 180}}),
      examples::lobe("sudden", Role::intake, 110, 10, 1, LiftAt::valve, {{0.5, 200}, {1, 199}, {9, 150}}),
      examples::lobe("step", Role::intake, 110, 10, 1, LiftAt::valve, {{0.5, 240}, {3, 230}, {3.01, 120}, {9, 100}}),
      examples::lobe("close", Role::intake, 110, 10, 1, LiftAt::valve, {{1, 230}, {1.001, 200}, {5, 190}}),
  };
  for (const Lobe& lobe : awkward) {
    SCOPED_TRACE(lobe.name);
    const LiftCurve curve = lift_curve(lobe);
    checks::expect_continuous(curve);
    checks::expect_one_maximum(curve);
    checks::expect_speed_bound(curve);
    for (const Duration& at : lobe.durations) EXPECT_NEAR(curve.lift(at.duration / 2), at.lift, 1e-9);
  }
}

TEST(Durations, SmoothestChainHasContinuousFourthDerivative) {
  // Closed form: the natural condition of the least integral of squared jerk through points is that the third and the
  // fourth derivative are continuous at inner points.
  const LiftCurve curve = lift_curve(examples::wedge_intake());
  const auto derivative = [&](double from, double to, int order) {
    // Exact from five or six samples of a quintic, by differences of its acceleration (a cubic) within one piece.
    const double h = (to - from) / 3;
    double a[4];
    for (int i = 0; i < 4; ++i) a[i] = curve.acceleration(from + h * i + (i == 0 ? 1e-13 : 0) - (i == 3 ? 1e-13 : 0));
    const double d1 = a[1] - a[0], d2 = a[2] - 2 * a[1] + a[0], d3 = a[3] - 3 * a[2] + 3 * a[1] - a[0];
    const auto jerk = [&](double t) { return (d1 + d2 * (2 * t - 1) / 2 + d3 * (3 * t * t - 6 * t + 2) / 6) / h; };
    const auto snap = [&](double t) { return (d2 + d3 * (t - 1)) / (h * h); };
    return order == 3 ? std::pair{jerk(0), jerk(3)} : std::pair{snap(0), snap(3)};
  };
  const std::vector<LiftKnot>& knots = curve.knots();
  for (int order : {3, 4}) {
    double scale = 0;
    for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
      scale = std::max(scale, std::fabs(derivative(knots[i].angle, knots[i + 1].angle, order).first));
    }
    for (std::size_t i = 1; i + 1 < knots.size(); ++i) {
      const double before = derivative(knots[i - 1].angle, knots[i].angle, order).second;
      const double after = derivative(knots[i].angle, knots[i + 1].angle, order).first;
      EXPECT_NEAR(before, after, 1e-6 * scale) << "order " << order << " at knot " << i;
    }
  }
}

std::vector<Fault> faults_of(const Lobe& lobe) {
  try {
    lift_curve(lobe);
  } catch (const InputError& error) {
    return error.faults();
  }
  return {};
}

TEST(Durations, NumbersThatGiveNoLobeAreNamed) {
  const auto lobe = [](double lift, const std::vector<std::pair<double, double>>& points) {
    return examples::lobe("intake", Role::intake, 110, lift, 1, LiftAt::valve, points);
  };
  std::vector<Fault> faults = faults_of(lobe(10, {{1, 230}, {2, 240}}));
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_EQ(faults[0].message,
            "lobe.intake: 240.00 deg at 2.000 mm (0.0787 in) does not go with 230.00 deg at 1.000 mm (0.0394 in): a "
            "higher checking lift has a shorter duration");
  EXPECT_TRUE(faults[0].file.empty());

  faults = faults_of(lobe(10, {{1, 230}, {1, 220}}));
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_THAT(faults[0].message, HasSubstr("does not go with"));

  faults = faults_of(lobe(4, {{1, 230}, {4, 170}}));
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_THAT(faults[0].message, HasSubstr("less than the greatest lift, 4.000 mm"));

  faults = faults_of(lobe(10, {{1, 230}}));
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_THAT(faults[0].message, HasSubstr("at least two"));

  EXPECT_THAT(faults_of(lobe(0, {{1, 230}, {2, 200}})).at(0).message, HasSubstr("greatest lift"));
  EXPECT_THAT(faults_of(lobe(NAN, {{1, 230}, {2, 200}})).at(0).message, HasSubstr("greatest lift"));
  EXPECT_THAT(faults_of(lobe(10, {{-1, 230}, {2, 200}})).at(0).message, HasSubstr("negative"));
  EXPECT_THAT(faults_of(lobe(10, {{1, 800}, {2, 200}})).at(0).message, HasSubstr("between 0 and 720"));
  EXPECT_THAT(faults_of(lobe(10, {{1, 230}, {2, 0}})).at(0).message, HasSubstr("between 0 and 720"));
  EXPECT_FALSE(faults_of(lobe(10, {{1, NAN}, {NAN, 200}})).empty());

  // All at once: too long, not falling, above the peak.
  EXPECT_EQ(faults_of(lobe(3, {{1, 800}, {2, 810}, {5, 200}})).size(), 4u);
}

TEST(Durations, ALobeNeedsExactlyOneDescription) {
  Lobe lobe = examples::wedge_intake();
  lobe.law = CamLaw::cycloidal;
  EXPECT_THAT(faults_of(lobe).at(0).message, HasSubstr("has 2 of durations, lift table and cam law"));
  lobe.law.reset();
  lobe.durations.clear();
  EXPECT_THAT(faults_of(lobe).at(0).message, HasSubstr("has 0 of"));
}

}  // namespace
}  // namespace eyebrow
