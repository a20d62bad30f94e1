// Timing that is lost: text and JSON of a result made by hand.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "eyebrow/untimed_report.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using testing::kInches;
using testing::kMm;
using ::testing::Not;

OutOfTime out_by(double degrees, const char* gap, std::optional<int> teeth = {}) {
  return {degrees * kDegree, false, false, gap, teeth};
}

OutOfTime never_out() {
  OutOfTime end;
  end.all_round = true;
  return end;
}

/// An intake that reaches the piston, an exhaust that does not, a third valve that never meets it.
UntimedResult untimed_sample() {
  UntimedResult result;
  result.engine = "sample engine (invented)";
  UntimedValve intake;
  intake.name = "intake";
  intake.cam = "in";
  intake.greatest_lift = 10;
  intake.meets = true;
  intake.free_lift = 7.149;
  intake.free_low = 7.148;
  intake.piston_depth = 0.1;
  intake.at_tdc = true;
  intake.face_valve = "valve face";
  intake.face_other = "intake pocket floor";
  intake.early = out_by(17.1, "intake.travel", 0);
  intake.late = out_by(185.1, "intake.travel", 10);
  intake.loft = 1.959;
  intake.loft_crank = 6.6 * kDegree;
  UntimedValve exhaust = intake;
  exhaust.name = "exhaust";
  exhaust.cam = "out";
  exhaust.greatest_lift = 6;
  exhaust.clears = true;
  exhaust.at_tdc = false;
  exhaust.closest = 1.1;
  exhaust.early = exhaust.late = never_out();
  exhaust.loft_crank = -8 * kDegree;
  UntimedValve third;
  third.name = "third";
  third.cam = "out";
  third.greatest_lift = 3;
  third.clears = true;
  third.early = third.late = never_out();
  result.valves = {intake, exhaust, third};
  UntimedPair touch{"intake", "exhaust", false, -0.2, -0.3, 9, 5, false, 5.46};
  UntimedPair clear{"intake", "third", false, 4.567, 4.566, 10, 0, true, NAN};
  UntimedPair one_cam{"exhaust", "third", true, NAN, NAN, 0, 0, true, NAN};
  result.pairs = {touch, clear, one_cam};
  UntimedCam in{"in", 42, intake.early, intake.late}, out{"out", 0, out_by(30, "intake/exhaust"), never_out()};
  UntimedCam all{"", 0, out_by(17.1, "intake.travel"), never_out()};
  all.late = OutOfTime{0, false, true, "intake.travel", {}};
  result.cams = {in, out, all};
  result.bore = 1.729;
  result.bore_valve = "intake";
  result.head = 1;
  result.changed = {"gasket.thickness=0.9"};
  return result;
}

TEST(UntimedText, Golden) {
  EXPECT_EQ("\n" + untimed_text(untimed_sample(), kMm), R"GOLD(
sample engine (invented)
If timing is lost: cams that stop or jump while the crank turns on, valves that float. Parts cold,
train rigid, zero lash; clear means not touching, asked gaps are not counted. Lengths in mm, rounded
to the safe side.
With gasket.thickness=0.9

INTERFERENCE ENGINE: valves can reach the piston and each other when timing is lost.

Valve to piston              opens free to   spare     early     late     loft            at
  intake                     10.00    7.14   -2.86x     17.1    185.1     1.95      6.6 ATDC
  exhaust                     6.00    7.14    1.14     never    never     1.95      8.0 BTDC
  third                       3.00     any       -     never    never    never
  intake: touches: with the piston at TDC it may open 7.14 of its 10.00 mm; then valve face and
      intake pocket floor meet.
  exhaust: clears the piston everywhere, by 1.14 mm along its axis and 1.10 in any direction;
      nearest with the crown flat 0.10 mm below the deck: valve face and intake pocket floor.
  third: never comes to the piston along its axis.

How far a cam may be out before parts touch, crank degrees and whole teeth that are clear all the
way:
  cam in: early 17.1 deg, not one tooth, then intake.travel; late 185.1 deg, 10 teeth, then
      intake.travel
  cam out: early 30.0 deg, then intake/exhaust; late clear all the way round
    its wheel's teeth are not stated (cam.out.teeth): only degrees are told
  all cams alike (a jump at the crank): early 17.1 deg, then intake.travel; late touches as it is
      set (intake.travel)

Valve against valve:
  intake / exhaust: TOUCH, as when the one is open by 9.00 and the other by 5.00 mm; in time, 5.46
      mm of loft of both together closes the gap
  intake / third: clear at any two lifts, by 4.56 mm

Timing has no part in: valve to bore, least 1.72 mm (intake); piston to head 1.00.

opens = the greatest lift; free to = opened no further than this the valve touches the piston at no
height; spare = what is left of that, x = below zero, they can touch. early, late = crank degrees
that its cam may be out before it touches the piston. loft = how much further than the lobe a
floating valve may be open, at the crank angle where least will do, before it touches.
Not known here: carbon on piston and valves, a bent valve, play and stretch at speed, how far a
valve floats and when. A drive that breaks at speed lets valves stop anywhere. After timing was lost
on an interference engine, look for bent valves before it is turned.
Caution: an aid. The makers' limits rule; confirm on the assembled engine, turned by hand.
)GOLD");
}

TEST(UntimedText, ClaimsNoMoreThanThereIs) {
  UntimedResult result = untimed_sample();
  result.valves[0].free_lift = 7.9999;
  result.valves[0].greatest_lift = 8.0001;
  const std::string text = untimed_text(result, kMm);
  EXPECT_THAT(text, HasSubstr("   8.01    7.99   -0.01x")) << "lift up, what is free down";
  EXPECT_THAT(untimed_text(result, kInches),
              AllOf(HasSubstr("0.315   0.314  -0.001x"), HasSubstr("Lengths in inches")));
}

TEST(UntimedText, AFreeRunningEngineIsSaidInTheTradesWords) {
  UntimedResult result = untimed_sample();
  EXPECT_THAT(untimed_text(result, kMm),
              HasSubstr("INTERFERENCE ENGINE: valves can reach the piston and each other when timing is lost."));
  result.pairs.clear();
  EXPECT_THAT(untimed_text(result, kMm), HasSubstr("INTERFERENCE ENGINE: valves can reach the piston when"));
  result.valves.erase(result.valves.begin());
  result.clears = true;
  const std::string text = untimed_text(result, kMm);
  EXPECT_THAT(text, HasSubstr("FREE-RUNNING: no valve reaches the piston or another valve at any cam position."));
  EXPECT_THAT(text, Not(HasSubstr("INTERFERENCE ENGINE:")));
  EXPECT_THAT(text, AllOf(HasSubstr("Not known here: carbon"), HasSubstr("turned by hand")));
}

TEST(UntimedText, OneCamHasNoOtherWordsThanItself) {
  UntimedResult result = untimed_sample();
  result.cams = {{"cam", 0, out_by(15.3, "intake.travel"), out_by(23.7, "exhaust.travel")}};
  const std::string text = untimed_text(result, kMm);
  EXPECT_THAT(text, HasSubstr("\n  cam: early 15.3 deg, then intake.travel; late 23.7 deg, then exhaust.travel\n"
                              "    its wheel's teeth are not stated (cam.teeth): only degrees are told\n"));
  EXPECT_THAT(text, Not(HasSubstr("all cams alike")));
}

TEST(UntimedJson, HoldsEveryNumber) {
  const json out = json::parse(untimed_json(untimed_sample()));
  EXPECT_EQ(out["schema"], "eyebrow.untimed/1");
  EXPECT_EQ(out["clears"], false);
  EXPECT_EQ(out["valves"][0]["free_lift"], 7.149);
  EXPECT_NEAR(out["valves"][0]["early"]["by"].get<double>(), 17.1, 1e-9);
  EXPECT_EQ(out["valves"][0]["early"]["teeth"], 0);
  EXPECT_EQ(out["valves"][0]["late"]["teeth"], 10);
  EXPECT_NEAR(out["valves"][0]["loft_crank"].get<double>(), 6.6, 1e-9);
  EXPECT_EQ(out["valves"][1]["early"]["all_round"], true);
  EXPECT_TRUE(out["valves"][1]["early"]["by"].is_null());
  EXPECT_TRUE(out["valves"][2]["free_lift"].is_null());
  EXPECT_EQ(out["pairs"][0]["lifts"], json({9.0, 5.0}));
  EXPECT_EQ(out["pairs"][0]["clears"], false);
  EXPECT_TRUE(out["pairs"][2]["lifts"].is_null());
  EXPECT_EQ(out["cams"][0]["teeth"], 42);
  EXPECT_TRUE(out["cams"][2]["name"].is_null());
  EXPECT_EQ(out["cams"][2]["late"]["now"], true);
  EXPECT_EQ(out["bore"]["valve"], "intake");
  EXPECT_EQ(out["changed"][0], "gasket.thickness=0.9");
}

}  // namespace
}  // namespace eyebrow
