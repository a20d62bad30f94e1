// Lift tables as a bench reads them: noise, rounding, uneven steps, any start, run-out, of lobes known in closed form.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "eyebrow/fault.hpp"
#include "motion/curve_checks.hpp"
#include "motion/known_tables.hpp"
#include "motion/smoothing.hpp"
#include "motion/table_fit.hpp"

namespace eyebrow {
namespace {

using known::kLaws;
using known::read_table;
using known::Reading;
using known::TrueLobe;

constexpr double kThou = 0.001 * kInch;

/// In whichever cycle the curve lies.
double lift_of(const LiftCurve& curve, double angle) {
  return curve.lift(curve.peak_angle() + std::remainder(angle - curve.peak_angle(), 4 * kPi));
}

motion::TableFit fit_of(const Lobe& lobe) {
  std::vector<Fault> faults;
  auto fit = motion::fit_table(lobe, faults);
  for (const Fault& fault : faults) ADD_FAILURE() << fault.message;
  if (!fit) throw InputError(faults);
  return *std::move(fit);
}

/// Over a set of lobes: what differs from the truth, at most.
struct Worst {
  double lift = 0;         ///< anywhere
  double flank = 0;        ///< from 1 mm to four fifths of the lift
  double mean_square = 0;  ///< over the cycle
  double gap = 0;          ///< of the least travel to a flat crown, see below
  int wiggly = 0;          ///< curves with more than a clean flank's changes of the acceleration's sign
  int scattered = 0;       ///< tables that the curve keeps to a reading error of that is greater by more than 5 %
};

/// Travel to a flat crown with the valve square to it: contact lift (drop + 4 mm here) less lift. Closed form but for
/// the drop, which is CrankSlider's.
double least_travel(const std::function<double(double)>& lift) {
  static const CrankSlider slider(88, 150, 0);
  double least = 100;
  for (double crank = -60; crank <= 60; crank += 0.25)
    least = std::min(least, slider.drop(crank * kDegree) + 4 - lift(crank * kDegree));
  return least;
}

Worst worst_of(const Reading& how, int lobes, unsigned seed) {
  Worst worst;
  std::mt19937 random(seed);
  for (int trial = 0; trial < lobes; ++trial) {
    for (CamLaw law : kLaws) {
      const TrueLobe truth = known::random_lobe(random, law);
      Reading reading = how;
      if (how.to - how.from < 4 * kPi - 1e-9) reading.from += truth.peak, reading.to += truth.peak;
      reading.run_out_angle = trial;
      const Lobe lobe = read_table(truth, reading, random);
      SCOPED_TRACE(testing::Message() << motion::to_string(law) << " " << trial);
      const motion::TableFit fit = fit_of(lobe);
      if (fit.reading_error > 1.051 * lobe.table->reading_error) ++worst.scattered;
      for (const auto& point : fit.readings) {
        if (point.angle <= fit.curve.begin() || point.angle >= fit.curve.end()) continue;
        const double read = std::max(point.lift, -fit.reading_error);  // no lift is negative
        EXPECT_LE(std::fabs(fit.curve.lift(point.angle) - read), fit.reading_error * (1 + 1e-9));
      }
      checks::expect_one_maximum(fit.curve);
      // A clean flank has up to 3: its own and a ramp's.
      const int wiggles = motion::flank_wiggles(fit.curve.knots());
      EXPECT_LE(wiggles, 7);
      if (wiggles > 3) ++worst.wiggly;
      double squares = 0;
      for (int i = 0; i < 1440; ++i) {
        const double angle = i * 0.5 * kDegree, is = truth.at(angle), off = lift_of(fit.curve, angle) - is;
        worst.lift = std::max(worst.lift, std::fabs(off));
        if (is > 1 && is < 0.8 * truth.lift) worst.flank = std::max(worst.flank, std::fabs(off));
        squares += off * off / 1440;
      }
      worst.mean_square = std::max(worst.mean_square, std::sqrt(squares));
      const double to_centre = truth.peak - 106 * kDegree;
      worst.gap = std::max(
          worst.gap, std::fabs(least_travel([&](double crank) { return truth.at(crank + to_centre); }) -
                               least_travel([&](double crank) { return lift_of(fit.curve, crank + to_centre); })));
    }
  }
  return worst;
}

// Scatter up to 0.0005 in or 0.01 mm either way, read all the way round from anywhere, 540 lobes in all. Bounds: the
// gap's is the one wanted, 0.02 mm (seen: 0.012). A lift is off by its reading's error and by the curve's distance from
// the reading, the same at most, and a little between readings up to 6 degrees apart (seen: 0.021, at the ends of
// ramps). On the flanks 0.01 mm is wanted: reached with 0.01 mm of scatter every 2 degrees and with 0.0005 in every
// degree (seen: 0.0092, 0.0096); fewer readings for their noise leave more (seen: 0.011 to 0.0143).
TEST(NoisyTable, LobesAreFoundWithinTheNoise) {
  const struct {
    Reading how;
    double flank, mean_square;
  } cases[] = {{{.error = kThou / 2}, 0.0127, 0.005},
               {{.error = 0.01}, 0.010, 0.004},
               {{.step = 1 * kDegree, .error = kThou / 2}, 0.0105, 0.004},
               {{.uneven = true, .error = kThou / 2}, 0.014, 0.005},
               {{.step = 4 * kDegree, .uneven = true, .error = 0.01}, 0.014, 0.005},
               {{.from = -190 * kDegree, .to = 190 * kDegree, .error = kThou / 2}, 0.015, 0.005}};
  for (const auto& each : cases) {
    SCOPED_TRACE(testing::Message() << "step " << each.how.step / kDegree << ", error " << each.how.error);
    const Worst worst = worst_of(each.how, 15, 5);
    RecordProperty("lift", std::to_string(worst.lift));
    EXPECT_LT(worst.flank, each.flank);
    EXPECT_LT(worst.mean_square, each.mean_square);
    EXPECT_LT(worst.lift, 2 * each.how.error + 0.0015);
    EXPECT_LT(worst.gap, 0.02);
    // A known weakness: of tables whose scatter fills the stated error to its edges one in a hundred or so is not
    // fitted within it, but within a quarter more, and told as scattering (4 of these 540).
    EXPECT_LE(worst.scattered, 1) << "of 90";
    EXPECT_LE(worst.wiggly, 9) << "of 90";
  }
}

// Rounding alone: half of the last digit is the reading error. A lift is then off by a digit at most, half by its
// reading and half by the curve, and by what 2 degrees between readings leave open where a law's jerk jumps.
TEST(NoisyTable, RoundedReadingsAreFoundWithinTheirLastDigit) {
  for (const double digit : {kThou, 0.01, kThou / 10, 0.001}) {
    SCOPED_TRACE(digit);
    const Worst worst = worst_of({.digit = digit}, 10, 7);
    EXPECT_LT(worst.lift, digit + 0.0005);
    EXPECT_LT(worst.gap, digit / 2 + 0.0005);
    EXPECT_EQ(worst.scattered, 0);
  }
}

TEST(NoisyTable, IsContinuousAndItsBoundsHold) {
  std::mt19937 random(3);
  for (CamLaw law : kLaws) {
    const LiftCurve curve = fit_of(read_table(known::random_lobe(random, law), {.error = 0.01}, random)).curve;
    checks::expect_continuous(curve);
    checks::expect_speed_bound(curve);
  }
}

TEST(NoisyTable, WhereItBeginsDoesNotMatter) {
  std::mt19937 random(8);
  const TrueLobe truth = known::random_lobe(random, CamLaw::cycloidal);
  const Lobe whole = read_table(truth, {.error = 0.01}, random);
  const LiftCurve curve = lift_curve(whole);
  for (const std::size_t start : {40u, 90u, 180u, 181u, 250u, 359u}) {
    SCOPED_TRACE(start);
    std::vector<double> angle = whole.table->angle, lift = whole.table->lift;
    for (std::size_t i = 0; i < start; ++i) angle[i] += 4 * kPi;
    std::rotate(angle.begin(), angle.begin() + static_cast<long>(start), angle.end());
    std::rotate(lift.begin(), lift.begin() + static_cast<long>(start), lift.end());
    angle.push_back(angle.front() + 4 * kPi);  // the first reading again, as the second time round reads it
    lift.push_back(lift.front());
    Lobe other = whole;
    other.table->angle = angle;
    other.table->lift = lift;
    const LiftCurve turned = lift_curve(other);
    for (double x = 0; x < 4 * kPi; x += 0.01) ASSERT_NEAR(lift_of(turned, x), lift_of(curve, x), 1e-8);
  }
}

TEST(NoisyTable, TheLevelOfTheBaseCircleIsTakenOff) {
  for (const double level : {-0.05, 0.03}) {
    const Worst worst = worst_of({.error = 0.01, .level = level}, 5, 5);
    EXPECT_LT(worst.flank, 0.0125);
    EXPECT_LT(worst.gap, 0.02);
  }
}

// 0.06 mm from least to greatest reading, once a turn of the cam, at every angle to the lobe.
TEST(NoisyTable, RunOutOnceATurnIsTakenOff) {
  std::mt19937 random(5);
  for (const double error : {0.005, kThou / 2}) {
    for (int trial = 0; trial < 60; ++trial) {
      const TrueLobe truth = known::random_lobe(random, kLaws[trial % 6]);
      const double angle = trial;
      const motion::TableFit fit =
          fit_of(read_table(truth, {.error = error, .run_out = 0.03, .run_out_angle = angle}, random));
      EXPECT_NEAR(fit.base.run_out(), 0.03, error / 2);
      for (double x = 0; x < 4 * kPi; x += 0.1)
        EXPECT_NEAR(fit.base.at(x), 0.03 * std::sin(x / 2 + angle), 0.6 * error);
    }
  }
  // As well where readings scatter by more than the error that is stated, as half of the last digit is.
  for (int trial = 0; trial < 30; ++trial) {
    const TrueLobe truth = known::random_lobe(random, kLaws[trial % 6]);
    Lobe lobe = read_table(truth, {.error = 0.004, .run_out = 0.04, .run_out_angle = 0.2 * trial}, random);
    lobe.table->reading_error = 0.00127;
    EXPECT_NEAR(fit_of(lobe).base.run_out(), 0.04, 0.003);
  }
  // Noise alone is not taken for run-out.
  for (int trial = 0; trial < 60; ++trial) {
    const TrueLobe truth = known::random_lobe(random, kLaws[trial % 6]);
    EXPECT_EQ(fit_of(read_table(truth, {.error = kThou / 2}, random)).base.run_out(), 0);
  }
}

/// A lobe of 3-4-5 law with ramps of 0.0002 in a cam degree, 30 cam degrees long on either side: 0.15 mm.
double slow_ramp(double angle) {
  constexpr double kRamp = 0.0002 * kInch / (2 * kDegree), kHalf = 120 * kDegree, kLong = 60 * kDegree;
  const double x = std::fabs(std::remainder(angle, 4 * kPi));
  const double ramp = kRamp * std::clamp(kHalf + kLong - x, 0.0, kLong);
  return ramp + 9 * motion::cam_law(CamLaw::poly345, 1 - x / kHalf).value;
}

TEST(NoisyTable, ALongSlowRampIsKept) {
  std::mt19937 random(2);
  for (const double half : {360.0, 200.0, 185.0}) {
    for (const double error : {0.001, 0.005, kThou / 2}) {
      SCOPED_TRACE(testing::Message() << half << " " << error);
      std::uniform_real_distribution<double> noise(-error, error);
      Lobe lobe;
      lobe.table.emplace();
      lobe.table->reading_error = error;
      for (double d = -half; d < half + (half == 360 ? -1 : 1); d += 2) {
        lobe.table->angle.push_back(d * kDegree);
        lobe.table->lift.push_back(slow_ramp(d * kDegree) + noise(random));
      }
      const motion::TableFit fit = fit_of(lobe);
      // Readings from 175 to 180 degrees may be taken for flat where there are few beyond: 0.0127 mm of ramp, the
      // median of which with the zeros beside is far less.
      EXPECT_LT(std::fabs(fit.base.level), std::max(error, 0.0025));
      EXPECT_EQ(fit.base.run_out(), 0);
      for (double d = 125; d < 178; d += 1) {
        EXPECT_NEAR(fit.curve.lift(d * kDegree), slow_ramp(d * kDegree), 2 * error + std::fabs(fit.base.level)) << d;
        EXPECT_NEAR(fit.curve.lift(-d * kDegree), slow_ramp(d * kDegree), 2 * error + std::fabs(fit.base.level)) << -d;
      }
    }
  }
}

// Readings that scatter by 0.008 mm, told to be good to half of 0.001: the curve follows the lobe, not the noise.
TEST(NoisyTable, ScatterBeyondTheReadingErrorIsSmoothedAndTold) {
  std::mt19937 random(4);
  for (CamLaw law : kLaws) {
    Lobe lobe = read_table(known::random_lobe(random, law), {.error = 0.008}, random);
    lobe.table->reading_error = 0.0005;
    const motion::TableFit fit = fit_of(lobe);
    EXPECT_GT(fit.reading_error, 0.002);
    EXPECT_LE(fit.reading_error, 0.02);
    EXPECT_LE(motion::flank_wiggles(fit.curve.knots()), 7);
    checks::expect_one_maximum(fit.curve);
  }
}

}  // namespace
}  // namespace eyebrow
