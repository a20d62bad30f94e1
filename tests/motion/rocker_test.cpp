// Lift carried through a rocker whose ratio changes: against the product itself.
#include "motion/rocker.hpp"

#include "eyebrow/fault.hpp"
#include "motion/curve_checks.hpp"
#include "motion/example_lobes.hpp"
#include "spec/rocker_ratio.hpp"

namespace eyebrow {
namespace {

const std::vector<RatioAt> kRising = {{0.5, 1.5}, {2, 1.56}, {5, 1.62}, {9, 1.65}};
const std::vector<RatioAt> kUpAndDown = {{0, 1.45}, {0.6, 1.52}, {3, 1.63}, {6, 1.66}, {10, 1.6}};
/// Rows nearer than any rocker has them.
const std::vector<RatioAt> kSteep = {{1, 1.3}, {1.5, 1.5}, {4, 1.5}, {4.5, 1.7}};

std::vector<LiftCurve> lobes() {
  std::vector<LiftCurve> curves;
  for (const Lobe& lobe : examples::all_lobes()) curves.push_back(lift_curve(lobe));
  Lobe law;
  law.name = "law";
  law.lift = 9;
  law.law = CamLaw::modified_trapezoid;
  law.law_duration = 300 * kDegree;
  law.ramp_lift = 0.3;
  law.ramp_duration = 30 * kDegree;
  curves.push_back(lift_curve(law));
  return curves;
}

TEST(RockerLift, IsTheProductToAMicrometre) {
  const std::vector<RatioAt> tables[] = {kRising, kUpAndDown, kSteep};
  for (const auto& table : tables) {
    double worst = 0;
    const RockerRatio rocker(table);
    for (const LiftCurve& lobe : lobes()) {
      const LiftCurve valve = motion::at_valve(lobe, table);
      EXPECT_EQ(valve.begin(), lobe.begin());
      EXPECT_EQ(valve.end(), lobe.end());
      for (double angle = lobe.begin(); angle < lobe.end(); angle += 0.013 * kDegree) {
        const double lift = lobe.lift(angle);
        worst = std::max(worst, std::fabs(valve.lift(angle) - lift * rocker.ratio(lift)));
      }
    }
    EXPECT_LT(worst, &table == &tables[2] ? 0.001 : 1e-5) << "tolerances.hpp, kRockerPiece";
  }
}

TEST(RockerLift, HasOneMaximumWhereTheLobeHas) {
  for (const auto& table : {kRising, kUpAndDown, kSteep}) {
    for (const LiftCurve& lobe : lobes()) {
      const LiftCurve valve = motion::at_valve(lobe, table);
      checks::expect_one_maximum(valve);
      checks::expect_speed_bound(valve);
      EXPECT_LT(checks::acceleration_jump(valve), 1e-5);
      EXPECT_NEAR(valve.peak_angle(), lobe.peak_angle(), 1e-9);
      EXPECT_NEAR(valve.peak(), RockerRatio(table).valve_lift(lobe.peak()), 1e-9);
    }
  }
}

// Closed form: a ratio that does not change multiplies.
TEST(RockerLift, ALevelTableIsARatio) {
  const LiftCurve lobe = lift_curve(examples::wedge_intake());
  const LiftCurve valve = motion::at_valve(lobe, {{1, 1.6}, {9, 1.6}});
  for (double angle = lobe.begin(); angle < lobe.end(); angle += 0.01) {
    EXPECT_NEAR(valve.lift(angle), 1.6 * lobe.lift(angle), 1e-10);
    EXPECT_NEAR(valve.velocity(angle), 1.6 * lobe.velocity(angle), 1e-7);
  }
}

TEST(RockerLift, RefusesWhatIsNoTable) {
  const LiftCurve lobe = lift_curve(examples::wedge_intake());
  EXPECT_THROW(motion::at_valve(lobe, {}), Error);
  EXPECT_THROW(motion::at_valve(lobe, {{2, 1.5}, {1, 1.6}}), Error);
}

}  // namespace
}  // namespace eyebrow
