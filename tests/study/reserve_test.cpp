// How far a cam may move, against checks of engines whose cam was moved.
#include "study/reserve.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "study/disc_engine.hpp"
#include "study/model.hpp"

namespace eyebrow::study {
namespace {

CheckResult moved_check(const Engine& engine, const Parts& parts, const std::string& name, double by) {
  Engine moved = engine;
  for (Cam& cam : moved.cams) {
    if (cam.name != name) continue;
    cam.advance += by;
    if (cam.stops) cam.stops = Stops{cam.stops->latest + by, cam.stops->earliest + by};
  }
  return run_check(moved, parts, stepping(10 * kDegree));
}

bool holds(const CheckResult& result, const MapGap& gap) {
  return std::ranges::all_of(result.asked, [&](const AskedRow& row) {
    return row.holds || gap_name({row.what, row.valve, 0, row.running}) != gap_name(gap);
  });
}

/// Rows that do not hold at the end of the reserve did not hold before either.
void expect_bracket(const Engine& engine, const Parts& parts, const std::string& cam, int way, const ReserveEnd& end,
                    bool contact) {
  if (end.gap.what.empty()) {
    const CheckResult far = moved_check(engine, parts, cam, way * kReserveMost);
    EXPECT_TRUE(contact ? far.verdict != Verdict::contact : far.verdict == Verdict::holds) << cam << way;
    return;
  }
  ASSERT_FALSE(end.now);
  const double tenth = 0.1 * kDegree;
  const CheckResult inside = moved_check(engine, parts, cam, way * end.by);
  const CheckResult outside = moved_check(engine, parts, cam, way * (end.by + tenth));
  if (contact) {
    EXPECT_NE(inside.verdict, Verdict::contact) << cam << way;
    EXPECT_EQ(outside.verdict, Verdict::contact) << cam << way;
  } else {
    EXPECT_TRUE(std::ranges::all_of(inside.asked, &AskedRow::holds)) << cam << way;
    EXPECT_FALSE(holds(outside, end.gap)) << cam << way << gap_name(end.gap);
  }
}

class ReserveOf : public testing::TestWithParam<const char*> {};

TEST_P(ReserveOf, ATenthInsideHoldsATenthOutsideDoesNot) {
  const Model of(GetParam());
  const CheckResult check = run_check(of.file.engine, of.parts, stepping(10 * kDegree));
  ASSERT_EQ(check.verdict, Verdict::holds);
  ASSERT_EQ(check.reserves.size(), of.file.engine.cams.size());
  for (const Reserve& reserve : check.reserves) {
    expect_bracket(of.file.engine, of.parts, reserve.cam, 1, reserve.early, false);
    expect_bracket(of.file.engine, of.parts, reserve.cam, -1, reserve.late, false);
    expect_bracket(of.file.engine, of.parts, reserve.cam, 1, reserve.early_contact, true);
    expect_bracket(of.file.engine, of.parts, reserve.cam, -1, reserve.late_contact, true);
  }
}

INSTANTIATE_TEST_SUITE_P(Models, ReserveOf, testing::Values("two_valve_wedge"),
                         [](const auto& of) { return std::string(of.param); });

TEST(Reserve, SaysThatAGapIsShortAsTheCamIsSet) {
  Engine engine = disc_engine();
  engine.asked.valve[Role::intake].travel = 50;
  const CheckResult check = run_check(engine, disc_parts(engine), stepping(10 * kDegree));
  ASSERT_EQ(check.reserves.size(), engine.cams.size());
  const bool early = std::ranges::any_of(check.reserves, [](const Reserve& each) { return each.early.now; });
  const bool late = std::ranges::any_of(check.reserves, [](const Reserve& each) { return each.late.now; });
  EXPECT_TRUE(early && late);
  for (const Reserve& each : check.reserves) EXPECT_FALSE(each.early_contact.now);
  // What is short already does not hide what would be next.
  const Parts parts = disc_parts(engine);
  engine.asked.valve[Role::intake].face = check.valves.front().minimum.at(GapKind::face).gap.value - 0.5;
  const CheckResult next = run_check(engine, parts, stepping(10 * kDegree));
  const Reserve& moved = next.reserves.front();
  ASSERT_TRUE(moved.early.now);
  ASSERT_EQ(gap_name(moved.early.gap), "intake.face");
  EXPECT_TRUE(holds(moved_check(engine, parts, moved.cam, moved.early.by), moved.early.gap));
  EXPECT_FALSE(holds(moved_check(engine, parts, moved.cam, moved.early.by + 0.1 * kDegree), moved.early.gap));
}

// Closed form: over a flat crown an upright rim's travel falls as the lift at each angle rises, which a cam moved by
// the reserve tells by the motion alone.
TEST(Reserve, AgreesWithTheMotionOverAFlatCrown) {
  Engine engine = disc_engine();
  const auto& cam_name = engine.lobes[0].cam;
  const auto least = [&](double by) {
    Engine moved = engine;
    for (Cam& each : moved.cams)
      if (each.name == cam_name) each.advance += by;
    const Motion motion(moved);
    const Vec3 closed = closed_place(moved, moved.valves[0]);
    double lowest = INFINITY;
    for (int i = -72000; i <= 72000; ++i) {
      const double crank = i * 0.005 * kDegree;
      lowest = std::min(lowest, closed.z - motion.lift(0, crank) - motion.height(crank));
    }
    return lowest;
  };
  const double required = 0.5 * (least(0) + least(8 * kDegree));
  engine.asked.valve[Role::intake] = {required, 0, 0, 0, 1};
  engine.asked.valve_to_valve = 0;
  const CheckResult check = run_check(engine, disc_parts(engine), stepping(10 * kDegree));
  const auto reserve = std::ranges::find(check.reserves, cam_name, &Reserve::cam);
  ASSERT_NE(reserve, check.reserves.end());
  ASSERT_EQ(gap_name(reserve->early.gap), engine.valves[0].name + ".travel");
  EXPECT_GT(reserve->early.by, 0);
  EXPECT_GE(least(reserve->early.by), required);
  EXPECT_LT(least(reserve->early.by + 0.1 * kDegree), required);
}

}  // namespace
}  // namespace eyebrow::study
