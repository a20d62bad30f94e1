// Closest gap against Open CASCADE's distance between the exact solids (BRepExtrema_DistShapeShape), which shares
// neither the crown's mesh nor the valve's outline with the kernel. What it reports is attained by two points of the
// solids, so it may be too large but not too small; too large it is now and then, as its search of curved faces starts
// from a coarse sampling. Where the two differ FCL decides, on the crown's mesh and a fine mesh of the valve.
#include <gtest/gtest.h>

#include <BRepExtrema_DistShapeShape.hxx>
#include <Standard_Failure.hxx>
#include <TopLoc_Location.hxx>
#include <algorithm>
#include <cstdio>
#include <gp.hxx>
#include <gp_Ax3.hxx>
#include <gp_Trsf.hxx>
#include <optional>
#include <random>
#include <string>

#include "eyebrow/gap.hpp"
#include "eyebrow/motion.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/spec.hpp"
#include "fcl_model.hpp"
#include "gap/tolerances.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"

namespace eyebrow {
namespace {

/// Asked of the two, both exact: the kernel's search over edges and its arcs.
constexpr double kAgree = gap::kEdgeSearch + gap::kArcOff;
constexpr double kBelow = 1e-5;              // what the kernel's interval may miss the modeller's answer by
constexpr double kValveDeflection = 0.0005;  // of the mesh for FCL
/// FCL against the kernel: the valve's mesh (chords along its outline and around it), the kernel's search.
constexpr double kDecided = 2 * kValveDeflection + 1e-4;

/// Nothing where the modeller fails.
std::optional<double> modeller_distance(const TopoDS_Shape& crown, const TopoDS_Shape& valve, const Frame& place) {
  gp_Trsf move;
  move.SetTransformation(gp_Ax3(to_ax2(place)), gp_Ax3(gp::XOY()));
  try {
    // Located from the base shape each time: chained locations slow its queries down.
    BRepExtrema_DistShapeShape distance(crown, valve.Located(TopLoc_Location(move)));
    if (distance.IsDone() && distance.NbSolution() > 0) return distance.Value();
  } catch (const Standard_Failure&) {
  }
  return std::nullopt;
}

class AgainstModeller : public testing::TestWithParam<const char*> {};

TEST_P(AgainstModeller, ClosestOfClearPoses) {
  const EngineFile file = read_engine(std::string(EYEBROW_MODELS) + "/" + GetParam() + ".toml");
  const Parts parts = build_parts(file.engine, file.origins);
  const Motion motion(file.engine);
  const auto target = make_target(parts.crown);
  const auto crown_mesh = by_fcl::model_of(parts.crown);
  std::mt19937 random(11);
  std::uniform_real_distribution<double> crank(-40 * kDegree, 40 * kDegree), part(0, 1);
  GapRequest request;
  request.travel = request.face = request.radial = false;
  constexpr int kPoses = 60;
  int poses = 0, disputed = 0, failed = 0;
  double worst = 0;
  // Every valve in turn; half of the poses are pushed down to within 2 mm of contact.
  for (int i = 0; poses < kPoses && i < 10 * kPoses; ++i) {
    const std::size_t v = static_cast<std::size_t>(i) % file.engine.valves.size();
    const Valve& valve = file.engine.valves[v];
    const ValveToPiston pair(target, parts.profiles[v], {closed_place(file.engine, valve), up_axis(file.engine, valve)},
                             valve.pocket);
    const double angle = crank(random);
    Pose pose{motion.height(angle), motion.lift(static_cast<int>(v), angle)};
    if (i % 2 == 1) {
      const Gap travel = pair.gaps(pose, {true, false, false, false, false, 0}).travel;
      if (travel.measured()) pose.lift += travel.value - 2 * part(random);
    }
    const Gap gap = pair.gaps(pose, request).closest;
    ASSERT_TRUE(gap.measured());
    if (gap.value < 0.02) continue;  // the modeller does not see overlap
    ++poses;
    const Frame place = frame_about(pair.rim_centre(pose), up_axis(file.engine, valve));
    const std::optional<double> theirs = modeller_distance(parts.solids->crown.solid, parts.solids->valves[v], place);
    if (!theirs) {
      ++failed;
      continue;
    }
    const double off = *theirs - gap.value;
    if (*theirs >= gap.low - kBelow && std::fabs(off) <= kAgree) {
      worst = std::max(worst, std::fabs(off));
      continue;
    }
    ++disputed;
    const auto mesh = by_fcl::model_of(valve_surface(parts.profiles[v], kValveDeflection));
    const double third = by_fcl::distance(crown_mesh, mesh, by_fcl::placed(place));
    std::printf("%s, %s valve, %.2f degrees, lift %.4f: kernel %.6f (%.6f to %.6f), modeller %.6f, FCL %.6f\n",
                GetParam(), valve.name.c_str(), angle / kDegree, pose.lift, gap.value, gap.low, gap.high, *theirs,
                third);
    EXPECT_NEAR(gap.value, third, kDecided) << "two against the kernel";
  }
  std::printf("%s: %d clear poses, worst difference where they agree %.2e mm; %d disputed, %d not answered\n",
              GetParam(), poses, worst, disputed, failed);
  EXPECT_EQ(poses, kPoses);
  EXPECT_LE(disputed + failed, kPoses / 10) << "the modeller decides too little to serve as a reference";
}

INSTANTIATE_TEST_SUITE_P(Models, AgainstModeller,
                         testing::Values("two_valve_wedge", "inline_six_big_valve", "four_valve_pent_roof",
                                         "canted_valve"));

}  // namespace
}  // namespace eyebrow
