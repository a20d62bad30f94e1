// Closest by other libraries, on some of the poses that the kernel is timed at: Open CASCADE between the exact solids,
// FCL between meshes. Neither has a sign or an interval: of overlapping parts they tell no depth; the kernel does,
// so only the clear poses compare like with like.
#include <fmt/format.h>

#include <BRepExtrema_DistShapeShape.hxx>
#include <Standard_Failure.hxx>
#include <TopLoc_Location.hxx>
#include <cmath>
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

constexpr std::size_t kPoses = 20;           // of each kind: the modeller takes up to 0.1 s a pose
constexpr double kValveDeflection = 0.0005;  // the crown's mesh has the same
constexpr double kTimesModeller = 1000;      // what closest is to reach

using Answer = std::function<double(const Pose&)>;

Frame placed(const Scene& scene, const Pose& pose) {
  return frame_about(scene.valves.front().rim_centre(pose),
                     up_axis(scene.file.engine, scene.file.engine.valves.front()));
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

/// Every one of the poses is timed, whatever it takes: the ratio is of the same poses.
std::vector<double> all_of(const std::vector<Pose>& poses, int passes, const Answer& answer) {
  return seconds_a_pose(poses, passes, INFINITY, [&](const Pose& pose) { keep(answer(pose)); });
}

struct Medians {
  double clear, overlapping;  // seconds
};

Medians kernel_medians(const Scene& scene, const PoseSets& sets) {
  const GapRequest request = request_for(GapKind::closest, true, 0);
  const Answer closest = [&](const Pose& pose) { return scene.valves.front().gaps(pose, request).closest.value; };
  return {percentile(all_of(sets.clear, 2, closest), 0.5), percentile(all_of(sets.overlapping, 2, closest), 0.5)};
}

void print(const std::vector<double>& seconds, double kernel) {
  const double median = percentile(seconds, 0.5), ratio = median / kernel;
  fmt::print("{:>6}{:>9.2f}{:>9.2f}{:>9}", seconds.size(), median * 1e3, percentile(seconds, 0.99) * 1e3,
             fmt::format("{:.{}f}x", ratio, ratio < 10 ? 3 : 0));
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
      "the same poses.\nTo reach, clear: {:.0f} times Open CASCADE's speed. Of overlap they tell no depth; the kernel "
      "does.\nFailures count as answers; p99 of so few poses is the slowest.\n",
      kTimesModeller);
  fmt::print("{:44}{:>33}{:>33}\n", "", "clear", "overlapping");
  fmt::print("{:22}{:22}{:>6}{:>9}{:>9}{:>9}{:>6}{:>9}{:>9}{:>9}\n", "model", "library", "poses", "median", "p99",
             "ratio", "poses", "median", "p99", "ratio");
  for (const char* name : kModels) {
    const Scene scene(model(name));
    const PoseSets sets = some(poses_about_contact(scene, 0, 200));
    const Medians kernel = kernel_medians(scene, sets);

    fmt::print("{:22}{:22}", name, "Open CASCADE, exact");
    const Answer modeller = [&](const Pose& pose) { return by_modeller(scene, pose); };
    const std::vector<double> clear = all_of(sets.clear, 1, modeller);
    print(clear, kernel.clear);
    print(all_of(sets.overlapping, 1, modeller), kernel.overlapping);
    fmt::print("   {}\n", reached(percentile(clear, 0.5) >= kTimesModeller * kernel.clear));

    fmt::print("{:22}{:22}", name, "FCL, meshes");
    const auto crown = by_fcl::model_of(scene.parts.crown);
    const auto valve = by_fcl::model_of(valve_surface(scene.parts.profiles.front(), kValveDeflection));
    const Answer meshes = [&](const Pose& pose) {
      return by_fcl::distance(crown, valve, by_fcl::placed(placed(scene, pose)));
    };
    print(all_of(sets.clear, 2, meshes), kernel.clear);
    print(all_of(sets.overlapping, 2, meshes), kernel.overlapping);
    fmt::print("\n");
  }
}

}  // namespace eyebrow::bench
