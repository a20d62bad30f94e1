// The numbers of a histogram.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plot_counts.hpp"

namespace eyebrow::plot {

Bins bins_of(const std::vector<double>& values) {
  std::vector<double> sorted;
  for (const double value : values)
    if (drawable(value)) sorted.push_back(value);
  if (sorted.empty()) return {};
  std::sort(sorted.begin(), sorted.end());
  const Range range = widened({sorted.front(), sorted.back()});
  const double size = range.to - range.from;
  const auto quarter = [&](double share) {
    return sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))];
  };
  const double wide = 2 * (quarter(0.75) - quarter(0.25)) / std::cbrt(static_cast<double>(sorted.size()));
  const int most = std::clamp(wide > 0 ? static_cast<int>(std::fmin(size / wide, 60)) : 60, 5, 60);
  const double step = tick_step(size, most);
  const double first = std::floor(range.from / step), last = std::floor(range.to / step) + 1;
  Bins out;
  for (double i = first; i <= last; ++i) out.edges.push_back(i * step);
  out.counts.assign(out.edges.size() - 1, 0);
  for (const double value : sorted) {
    const auto after = std::upper_bound(out.edges.begin(), out.edges.end(), value) - out.edges.begin();
    ++out.counts[static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(after - 1, 0, std::ssize(out.counts) - 1))];
  }
  return out;
}

double share_below(const std::vector<double>& samples, double limit) {
  if (samples.empty()) return NAN;
  const auto below = std::count_if(samples.begin(), samples.end(), [&](double value) { return value < limit; });
  return static_cast<double>(below) / static_cast<double>(samples.size());
}

double share_below(const Bins& bins, double limit) {
  double below = 0, all = 0;
  for (std::size_t i = 0; i < bins.counts.size(); ++i) {
    const double from = bins.edges[i], to = bins.edges[i + 1];
    all += bins.counts[i];
    below += bins.counts[i] * std::clamp((limit - from) / (to - from), 0.0, 1.0);
  }
  return all > 0 ? below / all : NAN;
}

std::string percent_text(double share) {
  const double percent = 100 * share;
  if (percent <= 0) return "0 %";
  const int digits = percent < 0.1 ? 3 : percent < 10 ? 2 : 1;
  const double unit = std::pow(10.0, digits);
  return fmt::format("{:.{}f} %", std::fmin(std::ceil(percent * unit - 1e-6) / unit, 100), digits);
}

}  // namespace eyebrow::plot
