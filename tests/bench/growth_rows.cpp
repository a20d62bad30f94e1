// How the time grows with what is on the crown: pockets for one valve, valves over one crown, patches of a free-form
// face.
#include <fmt/format.h>

#include <cmath>

#include "bench/crowded_crown.hpp"
#include "bench/rows.hpp"
#include "bench/scene.hpp"
#include "bench/timing.hpp"
#include "eyebrow/check.hpp"

namespace eyebrow::bench {
namespace {

constexpr int kCounts[] = {1, 2, 4, kMostPockets};
constexpr double kDeflections[] = {0.004, 0.001, 0.00025, 0.0000625};  // mm
constexpr int kPoses = 400, kPasses = 3;

/// Microseconds, median over the clear poses: closest with its interval, of every valve.
double closest_time(const Scene& scene, const PoseSets& sets) {
  const GapRequest request = request_for(GapKind::closest, true, 0);
  const std::vector<double> seconds = seconds_a_pose(sets.clear, kPasses, INFINITY, [&](const Pose& pose) {
    for (const ValveToPiston& valve : scene.valves) keep(valve.gaps(pose, request).closest.value);
  });
  return percentile(seconds, 0.5) * 1e6;
}

/// Triangles of faces that only the mesh knows.
double patches(const Crown& crown) {
  double count = 0;
  for (const Triangle& t : crown.triangles)
    count += crown.faces[static_cast<std::size_t>(t.face)].kind == Surface::free_form;
  return count;
}

/// A pocket whose broken mouth is taken as free-form, as one from CAD would be, meshed ever finer.
void patch_rows() {
  EngineFile file = crowded_crown(1, 1);
  file.engine.piston.pockets.front().mouth_break = 0.5;
  const auto as_free_form = [](Crown crown) {
    for (Face& face : crown.faces)
      if (face.group == Group::mouth) face.kind = Surface::free_form;
    return crown;
  };
  std::vector<double> counts, times;
  for (const double deflection : kDeflections) {
    Parts parts = build_parts(file.engine, file.origins, deflection);
    parts.crown = as_free_form(std::move(parts.crown));
    const Scene scene(file, std::move(parts));
    counts.push_back(patches(scene.parts.crown));
    times.push_back(closest_time(scene, poses_about_contact(scene, 0, kPoses)));
  }
  fmt::print("{:44}{:>9}{:>9}{:>9}{:>9}{:>9}\n", "number of", counts[0], counts[1], counts[2], counts[3], "slope");
  fmt::print("{:44}{:>9.1f}{:>9.1f}{:>9.1f}{:>9.1f}{:>9.2f}\n", "patches of a free-form mouth: closest, us", times[0],
             times[1], times[2], times[3], log_log_slope(counts, times));
}

struct Line {
  const char* what;
  std::vector<double> counts, times;
};

void print(const Line& line) {
  fmt::print("{:44}", line.what);
  for (const double time : line.times) fmt::print("{:>9.1f}", time);
  fmt::print("{:>9.2f}\n", log_log_slope(line.counts, line.times));
}

}  // namespace

void growth_rows() {
  Line pockets{"pockets, one valve: closest, us", {}, {}};
  Line valves{"valves, eight pockets: closest of all, us", {}, {}},
      checks{"valves, eight pockets: whole check, ms", {}, {}};
  for (const int count : kCounts) {
    const Scene one_valve(crowded_crown(count, 1));
    pockets.counts.push_back(count);
    pockets.times.push_back(closest_time(one_valve, poses_about_contact(one_valve, 0, kPoses)));
    const Scene full(crowded_crown(kMostPockets, count));
    valves.counts.push_back(count);
    valves.times.push_back(closest_time(full, poses_about_contact(full, 0, kPoses)));
    checks.counts.push_back(count);
    checks.times.push_back(1e3 * seconds_of([&] { keep(run_check(full.file.engine, full.parts).piston_to_head); }));
  }
  fmt::print(
      "\nGrowth on one flat crown: median over clear poses, with the interval; slope in logarithms (1 = in "
      "proportion).\n");
  fmt::print("{:44}{:>9}{:>9}{:>9}{:>9}{:>9}\n", "number of", kCounts[0], kCounts[1], kCounts[2], kCounts[3], "slope");
  for (const Line& line : {pockets, valves, checks}) print(line);
  patch_rows();
}

}  // namespace eyebrow::bench
