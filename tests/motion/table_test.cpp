// Lobes from lift readings.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "eyebrow/fault.hpp"
#include "motion/cam_law.hpp"
#include "motion/curve_checks.hpp"

namespace eyebrow {
namespace {

using ::testing::HasSubstr;

constexpr double kHalf = 130;  // degrees
constexpr double kPeak = 10;

/// Closed form: 3-4-5 rise and fall, 10 mm, 130 degrees each way, its peak at `peak`.
double truth(double degrees, double peak) {
  return kPeak * motion::cam_law(CamLaw::poly345, 1 - std::fabs(degrees - peak) / kHalf).value;
}

/// The same with a fall that takes 150 degrees.
double lopsided(double degrees) {
  return kPeak * motion::cam_law(CamLaw::poly345, 1 - std::fabs(degrees) / (degrees < 0 ? 130 : 150)).value;
}

Lobe table(double from, double to, double step, const std::function<double(double)>& lift, bool about_centre = true) {
  Lobe lobe;
  lobe.name = "intake";
  lobe.measured = LiftAt::valve;
  lobe.table.emplace();
  lobe.table->about_centre = about_centre;
  for (int i = 0; from + i * step <= to + 1e-9; ++i) {
    lobe.table->angle.push_back((from + i * step) * kDegree);
    lobe.table->lift.push_back(lift(from + i * step));
  }
  return lobe;
}

TEST(Table, PassesThroughEveryReadingAndIsSmooth) {
  for (double step : {0.5, 1.0, 2.0, 5.0}) {
    SCOPED_TRACE(step);
    const Lobe lobe = table(-150, 150, step, [](double d) { return truth(d, 0); });
    const LiftCurve curve = lift_curve(lobe);
    for (std::size_t i = 0; i < lobe.table->angle.size(); ++i) {
      EXPECT_NEAR(curve.lift(lobe.table->angle[i]), lobe.table->lift[i], 1e-9);
    }
    checks::expect_continuous(curve);
    checks::expect_one_maximum(curve);
    checks::expect_speed_bound(curve);
    EXPECT_EQ(checks::acceleration_sign_changes(curve, curve.begin(), 0), 1);
  }
}

TEST(Table, LiftBetweenReadingsIsTheLobesOwn) {
  // Refinement: between readings a smooth lobe is followed to 1 um at 5 degrees, and far closer as the step halves.
  double last = 1;
  for (double step : {5.0, 2.5, 1.25}) {
    const LiftCurve curve = lift_curve(table(-150, 150, step, [](double d) { return truth(d, 0); }));
    double worst = 0;
    for (double d = -135; d <= 135; d += 0.1) worst = std::max(worst, std::fabs(curve.lift(d * kDegree) - truth(d, 0)));
    EXPECT_LT(worst, 1e-3);
    EXPECT_LT(worst, last / 6) << step;
    last = worst;
  }
}

TEST(Table, BaseCircleStaysExactlyZero) {
  const LiftCurve curve = lift_curve(table(-360, 360, 1, [](double d) { return truth(d, 0); }));
  EXPECT_NEAR(curve.begin(), -130 * kDegree, 1e-9);
  EXPECT_NEAR(curve.end(), 130 * kDegree, 1e-9);
  for (double d = 130.001; d <= 360; d += 0.37) {
    EXPECT_EQ(curve.lift(d * kDegree), 0);
    EXPECT_EQ(curve.lift(-d * kDegree), 0);
  }
}

TEST(Table, IsRecentredOnItsFlanks) {
  // Read from an arbitrary zero of the degree wheel, 7.3 degrees off.
  const LiftCurve curve = lift_curve(table(-160, 160, 1, [](double d) { return truth(d, 7.3); }));
  EXPECT_NEAR(flank_centre(curve, 1.27), 0, 1e-9);
  for (double d = -135; d <= 135; d += 0.5) EXPECT_NEAR(curve.lift(d * kDegree), truth(d, 0), 1e-4) << d;
}

TEST(Table, ALopsidedLobeIsCentredBetweenItsFlanks) {
  // Closed form: the fall is 150/130 times as long as the rise, so the middle of the flanks lies after the peak by half
  // of the difference of their widths.
  double rise = 0;
  while (lopsided(-rise) > kPeak - 1.27) rise += 1e-5;
  const double centre = rise * (150.0 / 130 - 1) / 2;
  const LiftCurve curve = lift_curve(table(-160, 160, 1, lopsided));
  EXPECT_NEAR(flank_centre(curve, 1.27), 0, 1e-9);
  for (double d = -135; d <= 155; d += 0.5) {
    EXPECT_NEAR(curve.lift((d - centre) * kDegree), lopsided(d), 2e-4) << d;
  }
}

TEST(Table, CrankAnglesAreKeptWhenTheTablePlacesTheLobe) {
  const LiftCurve curve = lift_curve(table(
      -60, 300, 1, [](double d) { return truth(d, 106); }, false));
  EXPECT_NEAR(curve.peak_angle() / kDegree, 106, 1e-3);
  EXPECT_NEAR(flank_centre(curve, 1.27) / kDegree, 106, 1e-4);
  EXPECT_NEAR(curve.lift(0), truth(0, 106), 1e-4);
}

TEST(Table, ReadingsRoundedToTheIndicatorStillGiveOneMaximum) {
  // Read to 0.01 mm every degree: equal readings on the ramps and over the nose.
  const Lobe lobe = table(-150, 150, 1, [](double d) { return std::round(truth(d, 0.2) * 100) / 100; });
  const LiftCurve curve = lift_curve(lobe);
  checks::expect_continuous(curve);
  checks::expect_speed_bound(curve);
  double wrong_way = 0, worst = 0, last = 0;
  for (double d = -140; d <= 140; d += 0.05) {
    const double lift = curve.lift(d * kDegree);
    if (d < -1) wrong_way = std::max(wrong_way, last - lift);
    if (d > 1) wrong_way = std::max(wrong_way, lift - last);
    last = lift;
    worst = std::max(worst, std::fabs(lift - truth(d + 0.2, 0.2)));
  }
  EXPECT_LT(wrong_way, 1e-12);
  EXPECT_LT(worst, 0.025);  // rounding 0.005, and what half a step of the flat nose displaces the centre by
}

TEST(Table, OneBadReadingIsFeltNearByOnly) {
  // A reading 0.015 mm low near the nose, within reading noise: the far flank keeps its acceleration.
  const auto with_slip = [](double d) { return truth(d, 0) - (std::fabs(d - 8) < 0.1 ? 0.015 : 0); };
  Lobe lobe = table(-150, 150, 1, with_slip, false);
  const LiftCurve curve = lift_curve(lobe), clean = lift_curve(table(
                                                -150, 150, 1, [](double d) { return truth(d, 0); }, false));
  double scale = checks::greatest_magnitude(clean, [&](double x) { return clean.acceleration(x); });
  for (double d = -125; d <= -10; d += 0.5) {
    EXPECT_NEAR(curve.acceleration(d * kDegree), clean.acceleration(d * kDegree), 1e-3 * scale) << d;
  }
  EXPECT_NEAR(curve.lift(8 * kDegree), truth(8, 0) - 0.015, 1e-9);
}

TEST(Table, EqualGreatestReadingsEnclosingThePeakDoNotCutItOff) {
  // Readings at +-2.5 degrees straddle the peak: the nose rises between them.
  const LiftCurve curve = lift_curve(table(-152.5, 152.5, 5, [](double d) { return truth(d, 0); }));
  EXPECT_NEAR(curve.peak(), kPeak, 1e-3);
  EXPECT_GT(curve.peak(), truth(2.5, 0));
  EXPECT_NEAR(curve.peak_angle(), 0, 1e-6);
  checks::expect_one_maximum(curve);
}

TEST(Table, AMillionReadingsAreNoTrouble) {
  const LiftCurve curve = lift_curve(table(-150, 150, 3e-4, [](double d) { return truth(d, 0); }));
  EXPECT_NEAR(curve.lift(0), kPeak, 1e-9);
  EXPECT_NEAR(curve.lift(-65 * kDegree), 5, 1e-6);
}

std::string message_of(const Lobe& lobe) {
  try {
    lift_curve(lobe);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

TEST(Table, ReadingsThatGiveNoLobeAreNamed) {
  const auto lobe = [](std::vector<double> degrees, std::vector<double> lift) {
    Lobe made;
    made.name = "exhaust";
    made.table.emplace();
    for (double d : degrees) made.table->angle.push_back(d * kDegree);
    made.table->lift = std::move(lift);
    return made;
  };
  EXPECT_THAT(message_of(lobe({0, 10, 5, 20}, {0, 1, 2, 0})),
              HasSubstr("not in rising order of angle: 5.00 deg after 10.00"));
  EXPECT_THAT(message_of(lobe({0, 10, 10, 20}, {0, 1, 2, 0})), HasSubstr("not in rising order"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0, -1, 0})), HasSubstr("-1.000 mm (-0.0394 in) at 10.00 deg"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0, NAN, 0})), HasSubstr("a lift is zero or more"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0, 0, 0})), HasSubstr("no lift"));
  EXPECT_THAT(message_of(lobe({}, {})), HasSubstr("no lift"));
  EXPECT_THAT(message_of(lobe({0}, {1})), HasSubstr("no base circle at its start"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0.5, 5, 0})), HasSubstr("no base circle at its start"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0, 5, 0.5})), HasSubstr("no base circle at its end"));
  EXPECT_THAT(message_of(lobe({0, 10, 40, 50}, {0, 5, 5, 0})),
              HasSubstr("gap of 30.00 deg from 10.00 deg to 40.00 deg"));
  EXPECT_THAT(message_of(lobe({0, 10, 20, 30, 40, 50}, {0, 5, 3, 4, 6, 0})), HasSubstr("two maxima"));
  EXPECT_THAT(message_of(lobe({0, 10, 20, 30, 40, 50}, {0, 6, 4, 3, 5, 0})), HasSubstr("two maxima"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0, 1, 0})), HasSubstr("greatest lift is 1.000 mm"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0, 1})), HasSubstr("3 angles and 2 lifts"));
  EXPECT_THAT(message_of(lobe({0, 10, 20}, {0, 5, 0})), "");
  // No further apart than readings, but more than a turn from the centre.
  std::vector<double> degrees, lifts;
  for (int i = 0; i <= 46; ++i) {
    degrees.push_back(15.0 * i);
    lifts.push_back(i == 46 ? 0 : std::min(i * 0.2, 46.0 - i));
  }
  EXPECT_THAT(message_of(lobe(degrees, lifts)), HasSubstr("more than 360 deg of crank from its centre"));
  EXPECT_THAT(message_of(lobe({0, 10, 20, 30, 730}, {0, 5, 2, 0, 0})),
              HasSubstr("the table spans 730.00 deg of crank"));
  EXPECT_THAT(message_of(lobe({0, 10, 20, 720}, {0, 5, 0, 0.1})),
              HasSubstr("reads 0.000 mm (0.0000 in) at 0.00 deg, then 0.100 mm (0.0039 in) at 720.00 deg"));
}

}  // namespace
}  // namespace eyebrow
