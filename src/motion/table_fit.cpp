// From readings to a curve: ordered, the base circle taken off, the lobe's ends found, smoothed.
#include "motion/table_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <tuple>
#include <utility>

#include "motion/lift_from.hpp"
#include "motion/smoothing.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow::motion {
namespace {

using Points = std::vector<LiftPoint>;

std::string reading(const LiftPoint& point) {
  return fmt::format("{} at {}", length_text(point.lift), angle_text(point.angle));
}

/// The first reading of a flank, walked upward, that lies more than reading noise below one before it.
template <typename Walk>
void check_flank(const Lobe& lobe, Walk from, Walk peak, std::vector<Fault>& faults) {
  const double noise = std::max(kReadingNoise, 2 * lobe.table->reading_error);
  for (Walk highest = from; from != peak; ++from) {
    if (from->lift > highest->lift) highest = from;
    if (from->lift >= highest->lift - noise) continue;
    add_fault(faults, lobe,
              fmt::format("the table has two maxima: {}, then {}, then {}; a lobe rises to one greatest lift and falls",
                          reading(*highest), reading(*from), reading(*peak)));
    return;
  }
}

Points::const_iterator highest_of(const Points& points) {
  const auto lower = [](const LiftPoint& a, const LiftPoint& b) { return a.lift < b.lift; };
  return std::max_element(points.begin(), points.end(), lower);
}

/// The readings as they stand, or none and a fault.
Points as_read(const Lobe& lobe, std::vector<Fault>& faults) {
  const LiftTable& table = *lobe.table;
  if (table.angle.size() != table.lift.size()) {
    add_fault(faults, lobe, fmt::format("the table has {} angles and {} lifts", table.angle.size(), table.lift.size()));
    return {};
  }
  const double lowest = table.reading_error > 0 ? -kMostRunOut - table.reading_error : 0;
  Points points;
  for (std::size_t i = 0; i < table.angle.size(); ++i) {
    points.push_back({table.angle[i], table.lift[i]});
    if (!(std::isfinite(table.angle[i]) && std::isfinite(table.lift[i]) && table.lift[i] >= lowest)) {
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

/// A table that goes all the way round is cut opposite to its nose, wherever it was begun. True when it does.
bool cut_opposite_the_nose(const Lobe& lobe, Points& points, std::vector<Fault>& faults) {
  if (points.size() < 3) return false;
  const double span = points.back().angle - points.front().angle;
  if (span > kCycle + kSameAngle) {
    add_fault(
        faults, lobe,
        fmt::format("the table spans {} of crank, more than the 720 deg of one turn of the cam", angle_text(span)));
    return false;
  }
  if (kCycle - span > kWidestStep) return false;
  if (kCycle - span < kSameAngle) {  // the first reading again
    const double apart = std::fabs(points.back().lift - points.front().lift);
    if (apart > 2 * lobe.table->reading_error + kSameLift) {
      add_fault(faults, lobe,
                fmt::format("the table comes round to its first angle, but reads {}, then {}: {} apart, and two "
                            "readings of one place may be {}",
                            reading(points.front()), reading(points.back()), length_text(apart),
                            length_text(2 * lobe.table->reading_error)));
      return false;
    }
    points.front().lift = (points.front().lift + points.back().lift) / 2;
    points.pop_back();
  }
  const double nose = highest_of(points)->angle;
  for (LiftPoint& point : points) {
    if (point.angle > nose + kCycle / 2) point.angle -= kCycle;
    if (point.angle < nose - kCycle / 2) point.angle += kCycle;
  }
  const auto earlier = [](const LiftPoint& a, const LiftPoint& b) { return a.angle < b.angle; };
  std::rotate(points.begin(), std::min_element(points.begin(), points.end(), earlier), points.end());
  return true;
}

/// From the last zero before the lobe to the first after it: what lies outside is base circle and stays exactly zero.
Points without_base_circle(const Lobe& lobe, const Points& points, std::vector<Fault>& faults) {
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

/// The readings of the lobe itself, with the last zeros beside it.
void check_shape(const Lobe& lobe, const Points& points, std::vector<Fault>& faults) {
  const auto peak = highest_of(points);
  check_flank(lobe, points.begin(), peak, faults);
  check_flank(lobe, points.rbegin(), std::make_reverse_iterator(peak + 1), faults);
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double step = points[i].angle - points[i - 1].angle;
    if (step <= kWidestStep * (1 + kBoundSlack)) continue;
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

void take_off_base(const Lobe& lobe, const BaseCircle& base, Points& points, std::vector<Fault>& faults) {
  if (std::fabs(base.level) > kMostRunOut || base.spread > kMostRunOut)
    add_fault(faults, lobe,
              fmt::format("the table's base circle stands at {} and its readings up to {} from that; allowed are {} "
                          "each: zero the indicator on the base circle, and take the readings off the flank away",
                          length_text(base.level), length_text(base.spread), length_text(kMostRunOut)));
  for (LiftPoint& point : points) point.lift -= base.at(point.angle);
}

/// Where the lift begins, walked outward from the peak (angles counted that way when `sign` is -1): `at` is the first
/// reading at or below `level`, single ones apart. From there a line through the lowest readings above it is followed
/// to zero and as far again: the curve may leave zero as softly as its readings let it.
struct Foot {
  std::ptrdiff_t at = -1;  ///< from the peak outward; -1 = none
  double angle = 0;
};

Foot foot_of(const Points& outward, double level) {
  const std::ptrdiff_t n = std::ssize(outward);
  const auto lift = [&](std::ptrdiff_t i) { return outward[static_cast<std::size_t>(std::min(i, n - 1))].lift; };
  const auto angle = [&](std::ptrdiff_t i) { return outward[static_cast<std::size_t>(i)].angle; };
  const auto is_low = [&](std::ptrdiff_t i) {  // by the median of three
    return (lift(i - 1) <= level) + (lift(i) <= level) + (lift(i + 1) <= level) >= 2;
  };
  std::ptrdiff_t at = 1;
  while (at < n && !(lift(at) <= level && is_low(at))) ++at;
  if (at == n && lift(n - 1) > kMostFirstLift) return {};
  at = std::min(at, n - 1);
  double count = 0, x = 0, y = 0, xx = 0, xy = 0;
  for (std::ptrdiff_t i = at; i >= 0 && (count < 2 || lift(i) < std::max(4 * level, level + kFootBand)); --i) {
    const double from = angle(i) - angle(at);
    ++count, x += from, y += lift(i), xx += from * from, xy += from * lift(i);
  }
  const double slope = (count * xy - x * y) / (count * xx - x * x);
  double foot = angle(at);
  if (slope < 0) foot += std::clamp((x - y / slope) / count - kFootMargin * level / slope, kLeastFoot, kLongestFoot);
  return {at, foot};
}

/// The curve near the readings, and the reading error that it keeps to.
std::optional<std::vector<LiftKnot>> near_curve(const Points& points, double begin, double end, double& reading_error) {
  std::optional<std::vector<LiftKnot>> wiggly;
  // First a little more: the base circle's level is itself known to a part of the error only.
  const double most = std::max(kLevelShare * reading_error, kReadingNoise);
  for (double error = reading_error; error <= most; error *= error > reading_error ? kErrorStep : kLevelShare) {
    auto made = smoothed(points, begin, end, error);
    if (!made) continue;
    if (flank_wiggles(made->knots) < kNoiseWiggles) {
      reading_error = error;
      return std::move(made->knots);
    }
    if (!wiggly) wiggly = std::move(made->knots);
  }
  reading_error = std::max(kErrorStep * reading_error, kReadingNoise);  // that it was of no avail is told too
  return wiggly;
}

std::optional<TableFit> through_all(const Lobe& lobe, const Points& all, std::vector<Fault>& faults) {
  const Points points = without_base_circle(lobe, all, faults);
  if (!faults.empty()) return std::nullopt;
  check_shape(lobe, points, faults);
  if (!faults.empty()) return std::nullopt;
  return TableFit{.curve = LiftCurve(least_jerk(points)), .readings = all, .base = {}};
}

std::optional<TableFit> near_all(const Lobe& lobe, Points all, bool full_turn, std::vector<Fault>& faults) {
  double error = lobe.table->reading_error;
  if (all.size() < 3 || highest_of(all)->lift <= 0) {
    add_fault(faults, lobe, "the table shows no lift");
    return std::nullopt;
  }
  const BaseCircle base = base_circle(all, full_turn, error);
  take_off_base(lobe, base, all, faults);
  if (!faults.empty()) return std::nullopt;

  const auto peak = highest_of(all);
  Points before(std::make_reverse_iterator(peak + 1), all.crend());
  const Points after(peak, all.cend());
  for (LiftPoint& point : before) point.angle = -point.angle;
  const double level = std::max(error, base.spread);
  const Foot first = foot_of(before, level), last = foot_of(after, level);
  for (const auto& [foot, end, which] : {std::tuple{first, all.front(), "start"}, std::tuple{last, all.back(), "end"}})
    if (foot.at < 0)
      add_fault(faults, lobe,
                fmt::format("the table has no base circle at its {}: it reads {}; a table that begins at a checking "
                            "lift has lost its ramps, and reads them on down to the base circle",
                            which, reading(end)));
  if (!faults.empty()) return std::nullopt;
  const double begin = -first.angle, end = last.angle;
  check_shape(lobe, {peak - first.at, peak + last.at + 1}, faults);
  for (const LiftPoint& point : all) {
    if ((point.angle > begin && point.angle < end) || std::fabs(point.lift) <= level + kMostRunOut) continue;
    add_fault(faults, lobe,
              fmt::format("the table reads {} away from the lobe, where it stands on its base circle", reading(point)));
    break;
  }
  if (!faults.empty()) return std::nullopt;

  auto knots = near_curve(all, begin, end, error);
  if (!knots) {
    Points points(peak - first.at, peak + last.at + 1);
    std::erase_if(points, [](const LiftPoint& point) { return point.lift <= 0; });
    points.insert(points.begin(), {std::min(begin, points.front().angle - kSmoothPiece), 0});
    points.push_back({std::max(end, points.back().angle + kSmoothPiece), 0});
    knots = least_jerk(points);
  }
  return TableFit{
      .curve = LiftCurve(*std::move(knots)), .readings = std::move(all), .base = base, .reading_error = error};
}

}  // namespace

std::optional<TableFit> fit_table(const Lobe& lobe, std::vector<Fault>& faults) {
  Points all = as_read(lobe, faults);
  if (!faults.empty()) return std::nullopt;
  const bool full_turn = cut_opposite_the_nose(lobe, all, faults);
  if (!faults.empty()) return std::nullopt;
  std::optional<TableFit> fit = lobe.table->reading_error > 0 ? near_all(lobe, std::move(all), full_turn, faults)
                                                              : through_all(lobe, all, faults);
  if (!fit) return std::nullopt;
  fit->centre = flank_centre(fit->curve, kFlankBelowPeak);
  if (fit->centre - fit->curve.begin() > 2 * kPi || fit->curve.end() - fit->centre > 2 * kPi) {
    add_fault(faults, lobe,
              fmt::format("the lobe lifts from {} to {}: more than 360 deg of crank from its centre",
                          angle_text(fit->curve.begin()), angle_text(fit->curve.end())));
    return std::nullopt;
  }
  return fit;
}

}  // namespace eyebrow::motion
