#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "motion/least_jerk.hpp"
#include "motion/lift_from.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {
namespace {

std::string reading(const LiftPoint& point) {
  return fmt::format("{} at {}", length_text(point.lift), angle_text(point.angle));
}

/// The first reading of a flank, walked upward, that lies more than reading noise below one before it.
template <typename Walk>
void check_flank(const Lobe& lobe, Walk from, Walk peak, std::vector<Fault>& faults) {
  for (Walk highest = from; from != peak; ++from) {
    if (from->lift > highest->lift) highest = from;
    if (from->lift >= highest->lift - kReadingNoise) continue;
    add_fault(faults, lobe,
              fmt::format("the table has two maxima: {}, then {}, then {}; a lobe rises to one greatest lift and falls",
                          reading(*highest), reading(*from), reading(*peak)));
    return;
  }
}

/// The readings, or none and a fault.
std::vector<LiftPoint> readings(const Lobe& lobe, std::vector<Fault>& faults) {
  const LiftTable& table = *lobe.table;
  if (table.angle.size() != table.lift.size()) {
    add_fault(faults, lobe, fmt::format("the table has {} angles and {} lifts", table.angle.size(), table.lift.size()));
    return {};
  }
  std::vector<LiftPoint> points;
  for (std::size_t i = 0; i < table.angle.size(); ++i) {
    points.push_back({table.angle[i], table.lift[i]});
    if (!(std::isfinite(table.angle[i]) && std::isfinite(table.lift[i]) && table.lift[i] >= 0)) {
      add_fault(faults, lobe, fmt::format("the table reads {}: a lift is zero or more", reading(points.back())));
    } else if (i > 0 && !(points[i - 1].angle < points[i].angle)) {
      add_fault(faults, lobe,
                fmt::format("the table is not in rising order of angle: {} after {}", angle_text(points[i].angle),
                            angle_text(points[i - 1].angle)));
    }
    if (!faults.empty()) return {};
  }
  return points;
}

/// From the last zero before the lobe to the first after it: what lies outside is base circle and stays exactly zero.
std::vector<LiftPoint> without_base_circle(const Lobe& lobe, const std::vector<LiftPoint>& points,
                                           std::vector<Fault>& faults) {
  const auto lifted = [](const LiftPoint& point) { return point.lift > 0; };
  const auto first = std::find_if(points.begin(), points.end(), lifted);
  if (first == points.end()) {
    add_fault(faults, lobe, "the table shows no lift");
    return {};
  }
  const auto last = std::find_if(points.rbegin(), points.rend(), lifted).base();  // one past the last with lift
  if (first == points.begin() || last == points.end()) {
    add_fault(faults, lobe,
              fmt::format("the table has no base circle at its {}: it reads {}; the first and last lifts "
                          "must be zero",
                          first == points.begin() ? "start" : "end",
                          reading(first == points.begin() ? points.front() : points.back())));
    return {};
  }
  return {first - 1, last + 1};
}

void check_shape(const Lobe& lobe, const std::vector<LiftPoint>& points, std::vector<Fault>& faults) {
  const auto lower = [](const LiftPoint& a, const LiftPoint& b) { return a.lift < b.lift; };
  const auto peak = std::max_element(points.begin(), points.end(), lower);
  check_flank(lobe, points.begin(), peak, faults);
  check_flank(lobe, points.rbegin(), std::make_reverse_iterator(peak + 1), faults);
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double step = points[i].angle - points[i - 1].angle;
    if (step <= kWidestStep) continue;
    add_fault(faults, lobe,
              fmt::format("the table has a gap of {} from {} to {} of crank; readings off the base circle "
                          "must be no more than {} apart",
                          angle_text(step), angle_text(points[i - 1].angle), angle_text(points[i].angle),
                          angle_text(kWidestStep)));
  }
  if (!(peak->lift > kFlankBelowPeak)) {
    add_fault(faults, lobe,
              fmt::format("the table's greatest lift is {}; the lobe centre is found {} below the peak, so "
                          "it must be more than that",
                          length_text(peak->lift), length_text(kFlankBelowPeak)));
  }
}

}  // namespace

std::optional<LiftCurve> lift_from_table(const Lobe& lobe, std::vector<Fault>& faults) {
  const std::vector<LiftPoint> all = readings(lobe, faults);
  if (!faults.empty()) return std::nullopt;
  const std::vector<LiftPoint> points = without_base_circle(lobe, all, faults);
  if (!faults.empty()) return std::nullopt;
  check_shape(lobe, points, faults);
  if (!faults.empty()) return std::nullopt;

  std::vector<LiftKnot> knots = least_jerk(points);
  LiftCurve curve(knots);
  const double centre = flank_centre(curve, kFlankBelowPeak);
  if (centre - curve.begin() > 2 * kPi || curve.end() - centre > 2 * kPi) {
    add_fault(faults, lobe,
              fmt::format("the lobe lifts from {} to {}: more than 360 deg of crank from its centre",
                          angle_text(curve.begin()), angle_text(curve.end())));
    return std::nullopt;
  }
  if (!lobe.table->about_centre) return curve;
  for (LiftKnot& knot : knots) knot.angle -= centre;
  return LiftCurve(std::move(knots));
}

}  // namespace eyebrow::motion
