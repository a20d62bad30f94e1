// Percentiles and slopes.
#include "bench/timing.hpp"

#include <algorithm>
#include <cmath>

namespace eyebrow::bench {

void keep(double value) {
  [[maybe_unused]] static volatile double sink;
  sink = value;
}

double percentile(std::vector<double> seconds, double share) {
  if (seconds.empty()) return NAN;
  const auto rank = std::ceil(share * static_cast<double>(seconds.size()));  // nearest rank
  const auto place = seconds.begin() + std::max(0L, static_cast<long>(rank) - 1);
  std::nth_element(seconds.begin(), place, seconds.end());
  return *place;
}

double log_log_slope(const std::vector<double>& x, const std::vector<double>& y) {
  double mean_x = 0, mean_y = 0, top = 0, bottom = 0;
  const double count = static_cast<double>(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    mean_x += std::log(x[i]) / count;
    mean_y += std::log(y[i]) / count;
  }
  for (std::size_t i = 0; i < x.size(); ++i) {
    top += (std::log(x[i]) - mean_x) * (std::log(y[i]) - mean_y);
    bottom += (std::log(x[i]) - mean_x) * (std::log(x[i]) - mean_x);
  }
  return top / bottom;
}

const char* reached(bool is) {
  return is ? "reached" : "not reached";
}

}  // namespace eyebrow::bench
