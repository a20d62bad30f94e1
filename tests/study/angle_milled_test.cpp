// A head milled at an angle, through a whole check: the same as valves that stand so from the start.
#include <gtest/gtest.h>

#include <cmath>

#include "study/disc_engine.hpp"

namespace eyebrow::study {
namespace {

/// Invented valves that lean.
Engine leaning_engine() {
  Engine engine = disc_engine();
  for (Valve& valve : engine.valves) {
    valve.tilt = 15 * kDegree;
    valve.lean = valve.role == Role::intake ? 0.4 : 2.6;
    valve.rim_height = 8.5;
    valve.sunk = 0.2;
  }
  return engine;
}

TEST(AngleMilled, NothingDownstreamReadsWhereTheValvesStoodBefore) {
  Engine milled = leaning_engine();
  milled.head.milled = 0.15;
  milled.head.angle_milled =
      AngleMilled{.deep = 1.8, .shallow = 0.2, .width = 150, .bore_from_deep = 60, .toward = 70 * kDegree};
  Engine stated = leaning_engine();
  for (std::size_t i = 0; i < stated.valves.size(); ++i) {
    const Vec3 closed = closed_place(milled, milled.valves[i]), up = up_axis(milled, milled.valves[i]);
    Valve& valve = stated.valves[i];
    valve.x = closed.x, valve.y = closed.y, valve.rim_height = closed.z;
    valve.tilt = std::acos(up.z), valve.lean = std::atan2(up.y, up.x);
    valve.sunk = 0;
  }
  const Parts parts = disc_parts(milled);
  const CheckResult one = run_check(milled, parts, stepping(3 * kDegree));
  const CheckResult two = run_check(stated, parts, stepping(3 * kDegree));
  const CheckResult before = run_check(leaning_engine(), parts, stepping(3 * kDegree));
  for (std::size_t i = 0; i < one.valves.size(); ++i) {
    for (GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest}) {
      const Gap &a = one.valves[i].minimum.at(kind).gap, &b = two.valves[i].minimum.at(kind).gap;
      EXPECT_NEAR(a.value, b.value, kMicrometre) << to_string(kind) << " " << i;
      EXPECT_GT(std::fabs(a.value - before.valves[i].minimum.at(kind).gap.value), 0.5) << to_string(kind) << " " << i;
    }
    EXPECT_NEAR(one.valves[i].bore.gap.value, two.valves[i].bore.gap.value, kMicrometre);
    EXPECT_NEAR(one.valves[i].minimum.at(GapKind::closest).clock, two.valves[i].minimum.at(GapKind::closest).clock,
                0.02);
  }
  ASSERT_EQ(one.pairs.size(), 1u);
  EXPECT_NEAR(one.pairs[0].minimum.gap.value, two.pairs[0].minimum.gap.value, kMicrometre);
}

}  // namespace
}  // namespace eyebrow::study
