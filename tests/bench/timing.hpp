// Times of single calls, and what is told of them.
#pragma once
#include <algorithm>
#include <chrono>
#include <cstddef>
#include <utility>
#include <vector>

namespace eyebrow::bench {

/// Seconds that one call takes.
template <typename Work>
double seconds_of(Work&& work) {
  const auto start = std::chrono::steady_clock::now();
  std::forward<Work>(work)();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// The least of several calls.
template <typename Work>
double best_seconds(int calls, Work&& work) {
  double best = seconds_of(work);
  for (int i = 1; i < calls; ++i) best = std::min(best, seconds_of(work));
  return best;
}

/// Seconds a pose, in the order of the poses. Of several passes the least counts for each pose: so the 99th percentile
/// tells of the poses, not of what else the machine does, and no call finds its own data still warm. After `enough`
/// seconds no further pose is begun and no further pass: slow calls are fewer, the table tells how many.
template <typename Poses, typename Work>
std::vector<double> seconds_a_pose(const Poses& poses, int passes, double enough, Work&& work) {
  std::vector<double> seconds;
  double spent = 0;
  for (std::size_t i = 0; i < poses.size() && spent < enough; ++i) {
    seconds.push_back(seconds_of([&] { work(poses[i]); }));
    spent += seconds.back();
  }
  for (int pass = 1; pass < passes && spent < enough; ++pass)
    for (std::size_t i = 0; i < seconds.size(); ++i) {
      const double again = seconds_of([&] { work(poses[i]); });
      seconds[i] = std::min(seconds[i], again);
      spent += again;
    }
  return seconds;
}

/// Results pass through here, so that no call is optimised away.
void keep(double value);

/// The time that a share (0 ... 1) of the calls does not exceed; NaN of none.
double percentile(std::vector<double> seconds, double share);

/// Exponent of the power law through the points: least squares in logarithms.
double log_log_slope(const std::vector<double>& x, const std::vector<double>& y);

const char* reached(bool is);

}  // namespace eyebrow::bench
