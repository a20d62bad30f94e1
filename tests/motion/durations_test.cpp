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

TEST(Durations, WithoutALowCheckingLiftItEndsAsOtherLobesDo) {
  // 4 and 6 of 10 mm alone say nothing of the ramp; the parabola through them would end 76 degrees beyond, at 162.
  // Cards of such lobes that state more close some 60 to 90 degrees after 4 mm (common practice).
  const Lobe lobe = examples::lobe("made", Role::intake, 110, 10, 1, LiftAt::valve, {{4, 172}, {6, 138}});
  EXPECT_GT(lift_curve(lobe).end(), (86 + 55) * kDegree);
  EXPECT_LT(lift_curve(lobe).end(), (86 + 95) * kDegree);
  checks::expect_one_maximum(lift_curve(lobe));
}

TEST(Durations, OneDurationIsEnough) {
  const Lobe lobe = examples::lobe("made", Role::intake, 110, 10, 1, LiftAt::valve, {{1, 230}});
  const LobeCurves curves = lobe_curves(lobe);
  EXPECT_NEAR(curves.middle.lift(-115 * kDegree), 1, 1e-9);
  EXPECT_NEAR(curves.middle.peak(), 10, 1e-9);
  checks::expect_continuous(curves.middle);
  checks::expect_one_maximum(curves.middle);
  ASSERT_TRUE(curves.band);
  // Least and greatest have the card's numbers too.
  for (const LiftCurve* curve : {&curves.band->least, &curves.band->greatest}) {
    EXPECT_NEAR(curve->lift(-115 * kDegree), 1, 1e-6);
    EXPECT_NEAR(curve->peak(), 10, 1e-6);
    for (double x = curve->begin(); x < curve->end(); x += 0.01)
      EXPECT_LE(std::fabs(curve->velocity(x)), curve->velocity_bound());
  }
}

TEST(Durations, AStatedRampEndsTheLobe) {
  Lobe lobe = examples::pent_roof_intake();
  lobe.ramp = 40 * kDegree;
  const LobeCurves curves = lobe_curves(lobe);
  EXPECT_NEAR(curves.middle.end(), (122.5 + 40) * kDegree, 1e-12);
  EXPECT_NEAR(curves.band->greatest.end(), (122.5 + 40) * kDegree, 1e-12);
  EXPECT_NEAR(curves.middle.lift(122.5 * kDegree), 0.5, 1e-9);
  checks::expect_continuous(curves.middle);
}

TEST(Durations, LiftAtTdcIsOneMorePoint) {
  // Two durations leave the lift at TDC open; a reading closes the band there, and the nearer to it the more.
  Lobe lobe = examples::lobe("intake", Role::intake, 106, 10, 1, LiftAt::valve, {{1, 230}, {6, 138}});
  const LobeCurves open = lobe_curves(lobe);
  const double tdc = -106 * kDegree;
  const double width = open.band->greatest.lift(tdc) - open.band->least.lift(tdc);
  EXPECT_GT(width, 0.1);
  lobe.tdc_lift = open.middle.lift(tdc) + 0.3 * width;
  const LobeCurves closed = lobe_curves(lobe);
  EXPECT_NEAR(closed.middle.lift(tdc), *lobe.tdc_lift, 1e-9);
  EXPECT_NEAR(closed.middle.lift(-tdc), *lobe.tdc_lift, 1e-9);
  EXPECT_NEAR(closed.band->greatest.lift(tdc), *lobe.tdc_lift, 1e-6);
  EXPECT_NEAR(closed.band->least.lift(tdc), *lobe.tdc_lift, 1e-6);
  const double beside = tdc + 10 * kDegree;
  EXPECT_LT(closed.band->greatest.lift(beside) - closed.band->least.lift(beside),
            0.6 * (open.band->greatest.lift(beside) - open.band->least.lift(beside)));
  // Read with the cam 4 degrees advanced it is a point of the flank 4 degrees further in.
  lobe.tdc_advance = 4 * kDegree;
  lobe.tdc_lift = open.middle.lift(tdc + 4 * kDegree);
  EXPECT_NEAR(lobe_curves(lobe).middle.lift(tdc + 4 * kDegree), *lobe.tdc_lift, 1e-9);
  // On an exhaust it is on the closing flank, and advance takes it outward.
  lobe.role = Role::exhaust;
  lobe.tdc_lift = open.middle.lift(110 * kDegree);
  EXPECT_NEAR(lobe_curves(lobe).middle.lift(110 * kDegree), *lobe.tdc_lift, 1e-9);
}

TEST(Durations, EventsMakeAnUnevenLobe) {
  // The workshop's example: opens 20 before, closes 60 after = 260 degrees, middle 110 after TDC; with the centre at
  // 106 the closing flank is the longer one by 8 degrees.
  Lobe lobe = examples::lobe("intake", Role::intake, 106, 10, 1, LiftAt::valve, {{1, 260}, {6, 150}});
  lobe.durations[0].late = 4 * kDegree;
  lobe.durations[1].late = 2 * kDegree;
  const LobeCurves curves = lobe_curves(lobe);
  EXPECT_NEAR(curves.middle.lift(-126 * kDegree), 1, 1e-9);
  EXPECT_NEAR(curves.middle.lift(134 * kDegree), 1, 1e-9);
  EXPECT_NEAR(curves.middle.lift(-73 * kDegree), 6, 1e-9);
  EXPECT_NEAR(curves.middle.lift(77 * kDegree), 6, 1e-9);
  EXPECT_NEAR(flank_centre(curves.middle, 1.27), 0, 1e-3 * kDegree);
  EXPECT_NEAR(curves.middle.peak(), 10, 1e-9);
  checks::expect_continuous(curves.middle);
  checks::expect_one_maximum(curves.middle);
  ASSERT_TRUE(curves.band);
  EXPECT_NEAR(curves.band->greatest.lift(-126 * kDegree), 1, 1e-6);
  EXPECT_NEAR(curves.band->least.lift(77 * kDegree), 6, 1e-6);
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

  // The lift at TDC, 110 degrees from the centre, against 2 mm at 100.
  Lobe tdc = lobe(10, {{1, 230}, {2, 200}});
  tdc.tdc_lift = 2.1;
  EXPECT_THAT(faults_of(tdc).at(0).message,
              HasSubstr("the lift at TDC, 2.100 mm (0.0827 in) at 110.00 deg from the lobe "
                        "centre, does not go with 2.000 mm"));
  tdc.tdc_lift = 11;
  EXPECT_THAT(faults_of(tdc).at(0).message, HasSubstr("must lie between zero and the greatest lift"));
  Lobe early = lobe(10, {{1, 230}, {2, 200}});
  early.durations[0].late = 120 * kDegree;
  EXPECT_THAT(faults_of(early).at(0).message, HasSubstr("does not lie between opening and closing"));
  early.durations[0].late = 16 * kDegree;
  EXPECT_THAT(faults_of(early).at(0).message, HasSubstr("on one flank"));

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
