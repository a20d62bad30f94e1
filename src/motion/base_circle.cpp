#include "motion/base_circle.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "motion/tolerances.hpp"

namespace eyebrow::motion {
namespace {

using Points = std::vector<LiftPoint>;

constexpr double kFew = 8;
constexpr std::size_t kLeastFlat = 3, kLeastForSine = 24;
constexpr double kLeastSineSpan = 120 * kDegree, kSineEnds = 8 * kDegree;  // crank

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<long>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// What the readings scatter by from one to the next, rms, when they follow a smooth curve: by second differences,
/// whose median the few on a flank do not move. (Of a normal distribution half lies within 0.6745 of its deviation; the
/// weights 1, -2, 1 make the variance 6 times that of one reading.)
double scatter(const Points& points) {
  std::vector<double> bends;
  for (std::size_t i = 1; i + 1 < points.size(); ++i)
    bends.push_back(std::fabs(points[i - 1].lift - 2 * points[i].lift + points[i + 1].lift));
  return bends.empty() ? 0 : median(std::move(bends)) / (0.6745 * std::sqrt(6));
}

double rms(const Points& points, const BaseCircle& base) {
  double sum = 0;
  for (const LiftPoint& point : points) sum += std::pow(point.lift - base.at(point.angle), 2);
  return std::sqrt(sum / static_cast<double>(points.size()));
}

/// Does a line through the readings rise in their order by more than the reading error, and clearly? A few need not
/// show it clearly: rather no base circle than a ramp taken for one.
bool rises(const Points& points, double reading_error) {
  const double n = static_cast<double>(points.size());
  double x = 0, y = 0;
  for (const LiftPoint& point : points) x += point.angle / n, y += point.lift / n;
  double xx = 0, xy = 0, yy = 0;
  for (const LiftPoint& point : points) {
    xx += (point.angle - x) * (point.angle - x);
    xy += (point.angle - x) * (point.lift - y);
    yy += (point.lift - y) * (point.lift - y);
  }
  const double slope = xy / xx;
  const double scatter = std::sqrt(std::max(0.0, yy - slope * xy) / n);
  const double rise = slope * (points.back().angle - points.front().angle);
  return rise > reading_error && (n < kFew || rise > 4 * scatter * std::sqrt(12 / n));
}

/// The readings of one side from its outer end toward the lobe, its angles counted that way.
Points flat_of_side(Points side, double reading_error) {
  if (side.size() < 2) return side;
  const auto keep_half = [&side] {
    const double half = (side.front().angle + side.back().angle) / 2;
    std::erase_if(side, [half](const LiftPoint& point) { return point.angle > half; });
  };
  keep_half();
  while (side.size() > 1 && rises(side, reading_error)) {
    if (side.size() < 4) return {};
    keep_half();
  }
  return side;
}

/// Level, sine and cosine by least squares.
BaseCircle sine_through(const Points& points) {
  double m[3][4] = {};
  for (const LiftPoint& point : points) {
    const double basis[4] = {1, std::sin(point.angle / 2), std::cos(point.angle / 2), point.lift};
    for (int i = 0; i < 3; ++i)
      for (int j = 0; j < 4; ++j) m[i][j] += basis[i] * basis[j];
  }
  for (int i = 0; i < 3; ++i)  // positive definite: no pivoting
    for (int k = i + 1; k < 3; ++k)
      for (int j = 3; j >= i; --j) m[k][j] -= m[k][i] / m[i][i] * m[i][j];
  std::array<double, 3> x{};
  for (int i = 3; i-- > 0;) {
    x[static_cast<std::size_t>(i)] = m[i][3];
    for (int j = i + 1; j < 3; ++j) x[static_cast<std::size_t>(i)] -= m[i][j] * x[static_cast<std::size_t>(j)];
    x[static_cast<std::size_t>(i)] /= m[i][i];
  }
  return {.level = x[0], .sine = x[1], .cosine = x[2]};
}

/// Do the outermost readings stand on the curve, in the mean? Within half a reading error, or three times what so few
/// of them scatter by.
bool ends_fit(const Points& points, const BaseCircle& base, double reading_error) {
  double sums[2] = {0, 0}, counts[2] = {0, 0};
  for (const LiftPoint& point : points) {
    for (int end = 0; end < 2; ++end) {
      if (std::fabs(point.angle - (end == 0 ? points.front() : points.back()).angle) > kSineEnds) continue;
      sums[end] += point.lift - base.at(point.angle);
      ++counts[end];
    }
  }
  const auto fits = [&](int end) {
    return std::fabs(sums[end] / counts[end]) <= reading_error * std::max(0.5, std::sqrt(3 / counts[end]));
  };
  return fits(0) && fits(1);
}

/// The widest stretch about the middle of `points` (rising angles), half of it at least, that a sine goes through.
Points stretch_of_a_sine(const Points& points, double reading_error) {
  Points widest;
  if (points.empty()) return widest;
  const double middle = (points.front().angle + points.back().angle) / 2;
  for (double half = (points.back().angle - middle) / 2; half <= points.back().angle - middle; half += kSineEnds) {
    Points stretch;
    for (const LiftPoint& point : points)
      if (std::fabs(point.angle - middle) <= half) stretch.push_back(point);
    if (stretch.size() < kLeastForSine) continue;
    const BaseCircle sine = sine_through(stretch);
    if (rms(stretch, sine) > reading_error || !ends_fit(stretch, sine, reading_error)) break;
    widest = std::move(stretch);
  }
  return widest;
}

}  // namespace

double BaseCircle::at(double angle) const {
  return level + sine * std::sin(angle / 2) + cosine * std::cos(angle / 2);
}

double BaseCircle::run_out() const {
  return std::hypot(sine, cosine);
}

BaseCircle base_circle(const Points& readings, bool full_turn, double reading_error) {
  const auto lower = [](const LiftPoint& a, const LiftPoint& b) { return a.lift < b.lift; };
  const auto peak = std::max_element(readings.begin(), readings.end(), lower);
  const double foot = kFootShare * peak->lift;
  Points before, after;
  auto left = peak, right = peak;
  while (left != readings.begin() && left->lift >= foot) --left;
  while (right + 1 != readings.end() && right->lift >= foot) ++right;
  if (left->lift < foot) before.assign(readings.begin(), left + 1);
  if (right->lift < foot) after.assign(right, readings.end());
  std::reverse(after.begin(), after.end());
  for (LiftPoint& point : after) point.angle = -point.angle;

  BaseCircle base;
  const auto told = [&base](const Points& points) {
    base.readings = static_cast<int>(points.size());
    for (const LiftPoint& point : points)
      base.spread = std::max(base.spread, std::fabs(point.lift - base.at(point.angle)));
    return base;
  };
  const auto level_of = [](const Points& points) {
    std::vector<double> lifts;
    for (const LiftPoint& point : points) lifts.push_back(point.lift);
    return BaseCircle{.level = median(std::move(lifts))};
  };
  const auto joined = [full_turn](Points points, const Points& others) {
    for (LiftPoint point : others) points.push_back({(full_turn ? -4 * kPi : 0) - point.angle, point.lift});
    const auto earlier = [](const LiftPoint& a, const LiftPoint& b) { return a.angle < b.angle; };
    std::sort(points.begin(), points.end(), earlier);
    return points;
  };
  if (full_turn) {
    const Points around = joined(before, after);
    // A stated error that the readings do not keep to is told elsewhere; run-out is there all the same.
    const double error = std::clamp(kScatterOver * scatter(around), reading_error, kReadingNoise);
    const Points points = stretch_of_a_sine(around, error);
    if (!points.empty() && points.back().angle - points.front().angle >= kLeastSineSpan) {
      const BaseCircle sine = sine_through(points);
      if (sine.run_out() > error / 2 && sine.run_out() <= kMostRunOut &&
          rms(points, level_of(points)) > 1.5 * rms(points, sine)) {
        base = sine;
        return told(points);
      }
    }
  }
  const Points points = joined(flat_of_side(before, reading_error), flat_of_side(after, reading_error));
  if (points.size() < kLeastFlat) return base;
  base = level_of(points);
  return told(points);
}

}  // namespace eyebrow::motion
