#include "spec/rocker_ratio.hpp"

#include <math.h>  // NOLINT: the interpolator below calls isnan without std

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>

#include "eyebrow/fault.hpp"

namespace eyebrow {
namespace {

/// Steps between two rows at which the gain is looked at: it is a cubic there, and seen to 1e-3 of its change.
constexpr int kSteps = 32;
/// Halvings that leave nothing of an interval but rounding.
constexpr int kHalvings = 80;

std::vector<RatioAt> table_of(const Valve& valve) {
  if (!valve.rocker_table.empty()) return valve.rocker_table;
  return {{0, valve.rocker_ratio}, {1, valve.rocker_ratio}};
}

}  // namespace

struct RockerRatio::Curve {
  boost::math::interpolators::pchip<std::vector<double>> ratio;
};

RockerRatio::RockerRatio(const Valve& valve) : RockerRatio(table_of(valve)) {}

RockerRatio::RockerRatio(const std::vector<RatioAt>& table) : table_(table) {
  const auto not_rising = [](const RatioAt& a, const RatioAt& b) { return !(a.lift < b.lift); };
  if (table.size() < 2 || std::adjacent_find(table.begin(), table.end(), not_rising) != table.end())
    throw Error("a rocker's ratio against lift needs two rows or more, in rising order of lift");
  // One more row on each side with the same ratio: there the slope is zero, hence at the table's own ends too.
  std::vector<double> lifts, ratios;
  const auto put = [&](double lift, double ratio) {
    lifts.push_back(lift);
    ratios.push_back(ratio);
  };
  put(table.front().lift - 1, table.front().ratio);
  for (const RatioAt& row : table) put(row.lift, row.ratio);
  put(table.back().lift + 1, table.back().ratio);
  curve_ = std::make_shared<Curve>(Curve{{std::move(lifts), std::move(ratios), 0.0, 0.0}});
}

double RockerRatio::ratio(double lobe_lift) const {
  if (std::isnan(lobe_lift)) return lobe_lift;
  return curve_->ratio(std::clamp(lobe_lift, table_.front().lift, table_.back().lift));
}

double RockerRatio::slope(double lobe_lift) const {
  if (!(lobe_lift > table_.front().lift && lobe_lift < table_.back().lift)) return 0;
  return curve_->ratio.prime(lobe_lift);
}

double RockerRatio::lobe_lift(double valve_lift) const {
  if (!(valve_lift > 0)) return valve_lift / table_.front().ratio;  // also NaN
  const auto lower = [](const RatioAt& a, const RatioAt& b) { return a.ratio < b.ratio; };
  double low = 0, high = 2 * valve_lift / std::min_element(table_.begin(), table_.end(), lower)->ratio;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (this->valve_lift(middle) < valve_lift ? low : high) = middle;
  }
  return (low + high) / 2;
}

RockerRatio::Extreme RockerRatio::least_gain() const {
  Extreme least{0, ratio(0)};
  for (std::size_t i = 1; i < table_.size(); ++i)
    for (int k = 0; k <= kSteps; ++k) {
      const double lift = std::lerp(table_[i - 1].lift, table_[i].lift, static_cast<double>(k) / kSteps);
      if (gain(lift) < least.gain) least = {lift, gain(lift)};
    }
  return least;
}

RockerRatio::Extreme RockerRatio::greatest_gain() const {
  Extreme most{0, ratio(0)};
  for (std::size_t i = 1; i < table_.size(); ++i)
    for (int k = 0; k <= kSteps; ++k) {
      const double lift = std::lerp(table_[i - 1].lift, table_[i].lift, static_cast<double>(k) / kSteps);
      if (gain(lift) > most.gain) most = {lift, gain(lift)};
    }
  for (const RatioAt& row : table_)
    if (row.ratio > most.gain) most = {row.lift, row.ratio};
  return most;
}

}  // namespace eyebrow
