// Closest by other libraries, on some of the poses that the kernel is timed at: Open CASCADE between the exact solids,
// FCL between meshes. Neither has a sign or an interval: an overlap they see and stop at, where the kernel goes on to
// its depth.
#include <fmt/format.h>

#include <BRepExtrema_DistShapeShape.hxx>
#include <Standard_Failure.hxx>
#include <TopLoc_Location.hxx>
#include <functional>
#include <gp.hxx>
#include <gp_Ax3.hxx>
#include <gp_Trsf.hxx>

#include "bench/rows.hpp"
#include "bench/scene.hpp"
#include "bench/timing.hpp"
#include "fcl_model.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"

namespace eyebrow::bench {
namespace {

constexpr std::size_t kPoses = 30;           // of each kind: the modeller takes up to 0.1 s a pose
constexpr double kValveDeflection = 0.0005;  // the crown's mesh has the same
constexpr double kTimesModeller = 1000;      // what closest is to reach

using Answer = std::function<double(const Pose&)>;

Frame placed(const Scene& scene, const Pose& pose) {
  return frame_about(scene.valves.front().rim_centre(pose), up_axis(scene.file.engine.valves.front()));
}

/// Nothing is told where the modeller fails: the time counts all the same.
double by_modeller(const Scene& scene, const Pose& pose) {
  gp_Trsf move;
  move.SetTransformation(gp_Ax3(to_ax2(placed(scene, pose))), gp_Ax3(gp::XOY()));
  try {
    const TopoDS_Shape valve = scene.parts.solids->valves.front().Located(TopLoc_Location(move));
    const BRepExtrema_DistShapeShape distance(scene.parts.solids->crown.solid, valve);
    return distance.IsDone() ? distance.Value() : NAN;
  } catch (const Standard_Failure&) {
    return NAN;
  }
}

struct Column {
  std::size_t poses;
  double kernel, median, p99;  // seconds
};

Column compare(const Scene& scene, const std::vector<Pose>& poses, int passes, const Answer& rival) {
  const GapRequest request = request_for(GapKind::closest, true, 0);
  const std::vector<double> kernel =
      seconds_a_pose(poses, 3, [&](const Pose& pose) { keep(scene.valves.front().gaps(pose, request).closest.value); });
  const std::vector<double> theirs = seconds_a_pose(poses, passes, [&](const Pose& pose) { keep(rival(pose)); });
  return {theirs.size(), percentile(kernel, 0.5), percentile(theirs, 0.5), percentile(theirs, 0.99)};
}

/// `to_reach`: how many times the kernel's time clear poses are to take; 0 = nothing was promised.
void row(const Scene& scene, const PoseSets& sets, const char* name, const char* library, int passes, double to_reach,
         const Answer& rival) {
  fmt::print("{:22}{:22}", name, library);
  const Column clear = compare(scene, sets.clear, passes, rival);
  const Column overlapping = compare(scene, sets.overlapping, passes, rival);
  for (const Column& c : {clear, overlapping})
    fmt::print("{:>6}{:>9.2f}{:>9.2f}{:>9}", c.poses, c.median * 1e3, c.p99 * 1e3,
               fmt::format("{:.{}f}x", c.median / c.kernel, c.median < 10 * c.kernel ? 3 : 0));
  fmt::print("{}\n", to_reach <= 0 ? "" : fmt::format("   {}", reached(clear.median >= to_reach * clear.kernel)));
}

PoseSets some(const PoseSets& all) {
  PoseSets few = all;
  few.clear.resize(std::min(kPoses, few.clear.size()));
  few.overlapping.resize(std::min(kPoses, few.overlapping.size()));
  return few;
}

}  // namespace

void rival_rows() {
  fmt::print(
      "\nClosest by other libraries, one pose, ms, and how many times the kernel's closest with its interval on "
      "the same poses.\nTo reach, clear: {:.0f} times Open CASCADE's speed. Overlap they only see; the kernel finds "
      "its depth. p99 of "
      "so few poses is the slowest.\n",
      kTimesModeller);
  fmt::print("{:44}{:>33}{:>33}\n", "", "clear", "overlapping");
  fmt::print("{:22}{:22}{:>6}{:>9}{:>9}{:>9}{:>6}{:>9}{:>9}{:>9}\n", "model", "library", "poses", "median", "p99",
             "ratio", "poses", "median", "p99", "ratio");
  for (const char* name : kModels) {
    const Scene scene(model(name));
    const PoseSets sets = some(poses_about_contact(scene, 0, 200));
    row(scene, sets, name, "Open CASCADE, exact", 1, kTimesModeller,
        [&](const Pose& pose) { return by_modeller(scene, pose); });
    const auto crown = by_fcl::model_of(scene.parts.crown);
    const auto valve = by_fcl::model_of(valve_surface(scene.parts.profiles.front(), kValveDeflection));
    row(scene, sets, name, "FCL, meshes", 2, 0,
        [&](const Pose& pose) { return by_fcl::distance(crown, valve, by_fcl::placed(placed(scene, pose))); });
  }
}

}  // namespace eyebrow::bench
