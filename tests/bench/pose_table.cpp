// One table: what a pose costs, clear and overlapping apart; median and 99th percentile of single calls.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <random>

#include "poses.hpp"

namespace eyebrow::bench {
namespace {

struct Times {
  std::vector<double> microseconds;
  double at(double share) {
    if (microseconds.empty()) return NAN;
    const auto place = microseconds.begin() + static_cast<long>(share * static_cast<double>(microseconds.size() - 1));
    std::nth_element(microseconds.begin(), place, microseconds.end());
    return *place;
  }
};

/// Around the crank angles near overlap TDC, from well clear to well into the crown.
std::vector<Pose> poses_about_contact(const Poses& set, int count) {
  std::mt19937_64 random(20261);
  std::uniform_real_distribution<double> crank(-60, 60), room(-1.5, 4);
  const Motion motion(set.file.engine);
  std::vector<Pose> poses;
  while (static_cast<int>(poses.size()) < count) {
    Pose pose{motion.height(crank(random) * kDegree), 0};
    const Gap travel = set.pair->gaps(pose, {true, false, false, false, false, 0}).travel;
    if (!travel.measured()) continue;
    pose.lift = std::max(0.0, travel.value - room(random));
    poses.push_back(pose);
  }
  return poses;
}

void table() {
  constexpr int kPoses = 2000;
  fmt::print("{:22}{:10}{:>26}{:>26}\n", "one pose, us", "", "clear", "overlapping");
  fmt::print("{:22}{:10}{:>6}{:>10}{:>10}{:>6}{:>10}{:>10}\n", "model", "gap", "poses", "median", "p99", "poses",
             "median", "p99");
  for (const char* model : {"two_valve_wedge", "four_valve_pent_roof", "canted_valve"}) {
    const Poses& set = of(model);
    const std::vector<Pose> poses = poses_about_contact(set, kPoses);
    for (const GapKind kind : kGapKinds) {
      const GapRequest request{kind == GapKind::travel,
                               kind == GapKind::face,
                               kind == GapKind::radial,
                               kind == GapKind::closest,
                               true,
                               set.reach};
      Times clear, overlapping;
      for (const Pose& pose : poses) {
        const auto start = std::chrono::steady_clock::now();
        const PoseGaps gaps = set.pair->gaps(pose, request);
        const std::chrono::duration<double, std::micro> took = std::chrono::steady_clock::now() - start;
        (gaps[kind].value < 0 ? overlapping : clear).microseconds.push_back(took.count());
      }
      fmt::print("{:22}{:10}{:6}{:>10.1f}{:>10.1f}{:6}{:>10.1f}{:>10.1f}\n", model, to_string(kind),
                 clear.microseconds.size(), clear.at(0.5), clear.at(0.99), overlapping.microseconds.size(),
                 overlapping.at(0.5), overlapping.at(0.99));
    }
  }
}

}  // namespace
}  // namespace eyebrow::bench

int main() {
  eyebrow::bench::table();
}
