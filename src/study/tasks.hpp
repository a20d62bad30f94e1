// Fixed tasks over all cores, with progress and stop. Which thread takes which task changes no result.
#pragma once
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>
#include <tbb/partitioner.h>

#include <algorithm>
#include <mutex>

#include "eyebrow/check.hpp"

namespace eyebrow::study {

/// Counts work done. The callbacks run under its lock: one thread at a time, progress never falls.
class Pacer {
 public:
  Pacer(const CheckOptions& options, double total) : options_(options), total_(total) {}

  /// Throws Interrupted when the caller wants to stop.
  void poll() {
    const std::lock_guard lock(mutex_);
    if (options_.stop && options_.stop()) throw Interrupted("stopped before the check was complete");
  }

  void done(double units) {
    const std::lock_guard lock(mutex_);
    done_ += units;
    if (options_.progress) options_.progress(std::min(1.0, done_ / total_));
  }

 private:
  const CheckOptions& options_;
  double total_, done_ = 0;
  std::mutex mutex_;
};

/// Runs task(0) ... task(count - 1), in pieces of `chunk`; each counts `units_each` as progress. A task's exception is
/// passed on and ends the rest.
template <class Task>
void run_tasks(std::size_t count, std::size_t chunk, Pacer& pacer, double units_each, const Task& task) {
  tbb::parallel_for(
      tbb::blocked_range<std::size_t>(0, (count + chunk - 1) / chunk, 1),
      [&](const tbb::blocked_range<std::size_t>& range) {
        for (std::size_t piece = range.begin(); piece < range.end(); ++piece) {
          const std::size_t first = piece * chunk, last = std::min(count, first + chunk);
          pacer.poll();
          for (std::size_t i = first; i < last; ++i) task(i);
          pacer.done(units_each * static_cast<double>(last - first));
        }
      },
      tbb::simple_partitioner());
}

}  // namespace eyebrow::study
