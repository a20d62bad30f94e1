// All bounds are common practice unless they say otherwise.
#include "motion/table_doubts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "motion/table_fit.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {
namespace {

using Points = std::vector<LiftPoint>;

/// From base circle to base circle, ramps included, lobes lift for 240 to 440 crank degrees; doubled ones for more.
constexpr double kLongestSpan = 500 * kDegree;
/// Angle 0 of a table "from centre" this far from the middle between the flanks is a slip: it is set to a cam degree.
constexpr double kCentreOff = 5 * kDegree;
/// A stated centre and the table's own agree to this.
constexpr double kCentresAgree = 1 * kDegree;
/// Ramps move the valve by 0.005 to 0.015 mm a crank degree; flanks where a lash ends, by more.
constexpr double kFastestRamp = 0.025 / kDegree;
/// The readings that tell how fast a valve leaves its seat: so far from the first that is off the base circle.
constexpr double kOpening = 10 * kDegree;
constexpr std::size_t kLeastOpening = 4;

/// A lift that spans too much, where the open time is still plausible: nothing to add where that is told.
void doubt_span(const Lobe& lobe, const TableFit& fit, std::vector<Fault>& doubts) {
  const double span = fit.curve.end() - fit.curve.begin();
  const std::string key = "lobe." + lobe.name + ".table_degrees";
  if (span <= kLongestSpan || std::any_of(doubts.begin(), doubts.end(), [&](const Fault& at) { return at.key == key; }))
    return;
  doubt(
      doubts, lobe, "table_degrees",
      fmt::format("lobe.{}: its table lifts off the base circle for {} of crank, ramps included; usual are 240 to 440 "
                  "(common practice): check that its angles were not doubled from crank degrees",
                  lobe.name, angle_text(span)));
}

void doubt_base(const Lobe& lobe, const TableFit& fit, std::vector<Fault>& doubts) {
  const BaseCircle& base = fit.base;
  const double error = lobe.table->reading_error;
  if (base.run_out() > 0) {
    doubt(
        doubts, lobe, "table",
        fmt::format("lobe.{}: the table's base circle runs out by {} once a turn of the cam, about {}; both are taken "
                    "off the readings ({} of them tell it): check the cam's straightness and the indicator",
                    lobe.name, length_text(2 * base.run_out()), length_text(base.level), base.readings));
  } else if (std::fabs(base.level) > error || base.spread > 2 * error) {
    doubt(doubts, lobe, "table",
          fmt::format("lobe.{}: the table's base circle stands at {}, its readings within {} of that; {} is taken off "
                      "the readings ({} of them tell it): check the indicator's zero, and the cam for run-out",
                      lobe.name, length_text(base.level), length_text(base.spread), length_text(base.level),
                      base.readings));
  }
  if (fit.reading_error > error * kLevelShare * (1 + kBoundSlack))
    doubt(
        doubts, lobe, "reading_error",
        fmt::format("lobe.{}: the table's readings scatter by more than their reading error, {}; the curve keeps to {} "
                    "of them: state the reading_error that they have, or read again",
                    lobe.name, length_text(error), length_text(fit.reading_error)));
}

void doubt_centre(const Lobe& lobe, const TableFit& fit, std::vector<Fault>& doubts) {
  const double centre = std::remainder(fit.centre, 4 * kPi);
  if (lobe.table->about_centre) {
    if (std::fabs(centre) <= kCentreOff) return;
    doubt(
        doubts, lobe, "table_angles",
        fmt::format("lobe.{}: angle 0 of its table is to be the lobe centre, but the middle between its flanks, {} "
                    "under the peak, stands at {} of crank, and the peak at {}; the flanks are taken: check the angles",
                    lobe.name, length_text(kFlankBelowPeak), angle_text(centre),
                    angle_text(std::remainder(fit.curve.peak_angle(), 4 * kPi))));
    return;
  }
  if (!lobe.table->stated_centre) return;
  const double own = lobe.role == Role::intake ? centre : -centre;
  const double apart = std::remainder(own - *lobe.table->stated_centre, 4 * kPi);
  if (std::fabs(apart) <= kCentresAgree) return;
  doubt(
      doubts, lobe, "centre",
      fmt::format("lobe.{}: its centre is stated at {} {} overlap TDC, but its table has it at {}, {} away; the table "
                  "is taken: check the TDC that its crank angles count from",
                  lobe.name, angle_text(*lobe.table->stated_centre), lobe.role == Role::intake ? "after" : "before",
                  angle_text(own), angle_text(std::fabs(apart))));
}

/// How fast the lift leaves the base circle, mm a radian: the velocity at zero of a parabola through the first readings
/// off it. Walked outward from the peak. Zero when the parabola does not come down to zero, or too few tell.
double opening_velocity(const Points& outward, double level) {
  std::size_t low = 0;
  while (low + 1 < outward.size() && outward[low].lift > level) ++low;
  double m[3][4] = {};
  std::size_t count = 0;
  for (std::size_t i = low; i-- > 0 && outward[low].angle - outward[i].angle <= kOpening;) {
    const double t = outward[low].angle - outward[i].angle;
    const double basis[4] = {1, t, t * t, outward[i].lift};
    ++count;
    for (int row = 0; row < 3; ++row)
      for (int column = 0; column < 4; ++column) m[row][column] += basis[row] * basis[column];
  }
  if (count < kLeastOpening) return 0;
  for (int i = 0; i < 3; ++i)
    for (int k = i + 1; k < 3; ++k)
      for (int j = 3; j >= i; --j) m[k][j] -= m[k][i] / m[i][i] * m[i][j];
  const double bend = m[2][3] / m[2][2], slope = (m[1][3] - m[1][2] * bend) / m[1][1];
  const double lift = (m[0][3] - m[0][1] * slope - m[0][2] * bend) / m[0][0];
  const double squared = slope * slope - 4 * bend * lift;
  return slope > 0 && squared > 0 ? std::sqrt(squared) : 0;
}

/// The readings from the peak outward; the angles count up that way.
Points outward(const Points& readings, bool before) {
  const auto lower = [](const LiftPoint& a, const LiftPoint& b) { return a.lift < b.lift; };
  const auto peak = std::max_element(readings.begin(), readings.end(), lower);
  if (!before) return {peak, readings.end()};
  Points walked(std::make_reverse_iterator(peak + 1), readings.rend());
  for (LiftPoint& point : walked) point.angle = -point.angle;
  return walked;
}

void doubt_ramps(const Lobe& lobe, const Valve& valve, const TableFit& fit, std::vector<Fault>& doubts) {
  const double level = std::max(lobe.table->reading_error, fit.base.spread);
  const Points before = outward(fit.readings, true), after = outward(fit.readings, false);
  for (const auto& [side, name] : {std::pair{&before, "begins"}, std::pair{&after, "ends"}}) {
    if (side->back().lift <= level) continue;
    doubt(doubts, lobe, "table",
          fmt::format(
              "lobe.{}: its table {} at a lift of {}, not on the base circle; the ramp below is a guess, to {} of "
              "crank from there: a table that begins at a checking lift, as an advertised duration does, lacks "
              "its ramps",
              lobe.name, name, length_text(side->back().lift),
              angle_text(std::fabs((side == &before ? -fit.curve.begin() : fit.curve.end()) - side->back().angle))));
  }
  const double opens = opening_velocity(before, level), closes = opening_velocity(after, level);
  if (!(opens > kFastestRamp && closes > kFastestRamp)) return;
  doubt(doubts, lobe, "table",
        fmt::format("lobe.{}: its table leaves the base circle at {:.3f} mm a crank degree and comes back at {:.3f}, "
                    "without a ramp; ramps go to 0.015 (common practice): readings over a lash show that. Read at zero "
                    "lash; the lash of valve \"{}\", {}, is taken off as well at running lash",
                    lobe.name, opens * kDegree, closes * kDegree, valve.name, length_text(valve.lash)));
}

}  // namespace

void doubt_table(const Lobe& lobe, const Valve& valve, std::vector<Fault>& doubts) {
  if (!lobe.table) return;
  std::vector<Fault> faults;
  const auto fit = fit_table(lobe, faults);
  if (!fit) return;  // refused elsewhere
  doubt_span(lobe, *fit, doubts);
  doubt_base(lobe, *fit, doubts);
  doubt_centre(lobe, *fit, doubts);
  doubt_ramps(lobe, valve, *fit, doubts);
}

}  // namespace eyebrow::motion
