// What one pose costs the kernel: every kind of gap, with its interval and without, clear and overlapping apart.
#include <fmt/format.h>

#include "bench/rows.hpp"
#include "bench/scene.hpp"
#include "bench/timing.hpp"

namespace eyebrow::bench {
namespace {

constexpr int kPoses = 1200, kPasses = 3;
constexpr double kEnough = 0.8;  // seconds
// What closest with its interval is to reach, microseconds.
constexpr double kClearMedian = 10, kClearP99 = 25, kOverlappingP99 = 200;

struct Summary {
  std::size_t poses;
  double median, p99;  // microseconds
};

Summary time_poses(const Scene& scene, const std::vector<Pose>& poses, const GapRequest& request, GapKind kind) {
  const std::vector<double> seconds = seconds_a_pose(
      poses, kPasses, kEnough, [&](const Pose& pose) { keep(scene.valves.front().gaps(pose, request)[kind].value); });
  return {seconds.size(), percentile(seconds, 0.5) * 1e6, percentile(seconds, 0.99) * 1e6};
}

void rows_of(const char* name) {
  const Scene scene(model(name));
  const PoseSets sets = poses_about_contact(scene, 0, kPoses);
  for (const GapKind kind : kGapKinds)
    for (const bool interval : {true, false}) {
      const GapRequest request = request_for(kind, interval, scene.reach(0));
      const Summary clear = time_poses(scene, sets.clear, request, kind);
      const Summary overlapping = time_poses(scene, sets.overlapping, request, kind);
      fmt::print("{:22}{:9}{:10}{:>6}{:>9.1f}{:>9.1f}{:>8}{:>9.1f}{:>9.1f}", name, to_string(kind),
                 interval ? "interval" : "value", clear.poses, clear.median, clear.p99, overlapping.poses,
                 overlapping.median, overlapping.p99);
      if (kind == GapKind::closest && interval)
        fmt::print("   {}, {}; {}", reached(clear.median <= kClearMedian), reached(clear.p99 <= kClearP99),
                   reached(overlapping.p99 <= kOverlappingP99));
      fmt::print("\n");
    }
}

}  // namespace

void pose_rows() {
  fmt::print(
      "\nKernel, one pose, us. To reach with closest and its interval: clear median {:.0f}, p99 {:.0f}; "
      "overlapping p99 {:.0f}.\n",
      kClearMedian, kClearP99, kOverlappingP99);
  fmt::print("{:41}{:>24}{:>26}\n", "", "clear", "overlapping");
  fmt::print("{:22}{:9}{:10}{:>6}{:>9}{:>9}{:>8}{:>9}{:>9}   {}\n", "model", "gap", "with", "poses", "median", "p99",
             "poses", "median", "p99", "clear median, p99; overlapping p99");
  for (const char* name : kModels) rows_of(name);
}

}  // namespace eyebrow::bench
