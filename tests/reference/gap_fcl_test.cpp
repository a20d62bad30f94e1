// Closest gap against the Flexible Collision Library (FCL 0.7, a reference library of the Debian archive): the crown's
// mesh against a fine mesh of the valve. The two answers differ by no more than the valve mesh's chords and the
// search's tolerance; both use the crown's mesh, whose own error is checked in tests/solid.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "eyebrow/gap.hpp"
#include "eyebrow/motion.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/spec.hpp"
#include "fcl_model.hpp"

namespace eyebrow {
namespace {

using by_fcl::Model;
using by_fcl::model_of;

constexpr double kFclDeflection = 0.0005;
constexpr double kSearchTolerance = 1e-4;  // of the kernel: nothing lies further than this below what it reports

struct Answer {
  double distance;
  bool touching;
};

Answer ask_fcl(const std::shared_ptr<Model>& crown, const std::shared_ptr<Model>& valve, Vec3 centre, Vec3 up) {
  const fcl::Transform3d place = by_fcl::placed(frame_about(centre, up));
  const fcl::CollisionObjectd a(crown, fcl::Transform3d::Identity()), b(valve, place);
  fcl::CollisionRequestd touch;
  fcl::CollisionResultd touched;
  fcl::collide(&a, &b, touch, touched);
  return {by_fcl::distance(crown, valve, place), touched.isCollision()};
}

class AgainstFcl : public testing::TestWithParam<const char*> {};

TEST_P(AgainstFcl, ClosestOfClearAndTouchingPoses) {
  const EngineFile file = read_engine(std::string(EYEBROW_MODELS) + "/" + GetParam() + ".toml");
  const Parts parts = build_parts(file.engine, file.origins);
  const Motion motion(file.engine);
  const auto target = make_target(parts.crown);
  const auto crown = model_of(parts.crown);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> crank(-40 * kDegree, 40 * kDegree), part(0, 1);
  int clear = 0, touching = 0;
  double worst = 0;
  for (std::size_t v = 0; v < file.engine.valves.size(); ++v) {
    const Valve& valve = file.engine.valves[v];
    const Vec3 up = up_axis(file.engine, valve);
    const ValveToPiston pair(target, parts.profiles[v], {closed_place(file.engine, valve), up}, valve.pocket);
    const auto mesh = model_of(valve_surface(parts.profiles[v], kFclDeflection));
    GapRequest request;
    request.travel = request.face = request.radial = false;
    for (int i = 0; i < 24; ++i) {
      const double angle = crank(random);
      // Half of the poses are pushed down by up to 12 mm, so that some go into the metal.
      const double push = i % 2 == 0 ? 0 : 12 * part(random);
      const Pose pose{motion.height(angle), motion.lift(static_cast<int>(v), angle) + push};
      const Gap gap = pair.gaps(pose, request).closest;
      ASSERT_TRUE(gap.measured());
      const Answer fcl = ask_fcl(crown, mesh, pair.rim_centre(pose), up);
      const double allowed = 2 * kFclDeflection + kSearchTolerance;
      if (gap.value > allowed) {
        EXPECT_FALSE(fcl.touching) << GetParam() << " " << valve.name << " " << angle / kDegree;
        EXPECT_NEAR(gap.value, fcl.distance, allowed) << GetParam() << " " << valve.name << " " << angle / kDegree;
        worst = std::max(worst, std::fabs(gap.value - fcl.distance));
        ++clear;
      } else if (gap.value < -allowed) {
        EXPECT_TRUE(fcl.touching) << GetParam() << " " << valve.name << " " << angle / kDegree;
        ++touching;
      }
    }
  }
  std::printf("%s: %d clear poses, worst difference %.2e mm; %d overlapping poses\n", GetParam(), clear, worst,
              touching);
  EXPECT_GE(clear, 12);
  EXPECT_GE(touching, 3);
}

INSTANTIATE_TEST_SUITE_P(Models, AgainstFcl,
                         testing::Values("two_valve_wedge", "inline_six_big_valve", "four_valve_pent_roof",
                                         "canted_valve"));

}  // namespace
}  // namespace eyebrow
