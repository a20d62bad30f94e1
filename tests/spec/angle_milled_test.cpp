// [head.angle_milled].
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// The wedge, its head cut 0.050 in deeper at the side that +x points to. Invented.
std::string cut(const std::string& from = "", const std::string& to = "") {
  std::string table =
      "deep = 0.060\nshallow = \"0.254 mm\"\nwidth = 6.000\nbore_from_deep = 2.500\ntoward = \"0 deg\"\n";
  if (!from.empty()) table = replaced(table, from, to);
  return wedge_with("[piston]", "[head.angle_milled]\n" + table + "[piston]");
}

TEST(AngleMilled, IsReadInMillimetresAndRadians) {
  const Engine engine = parsed(cut("\"0 deg\"", "\"90 deg\"")).engine;
  ASSERT_TRUE(engine.head.angle_milled);
  const AngleMilled& angled = *engine.head.angle_milled;
  EXPECT_DOUBLE_EQ(angled.deep, 0.060 * 25.4);
  EXPECT_DOUBLE_EQ(angled.shallow, 0.254);
  EXPECT_DOUBLE_EQ(angled.width, 152.4);
  EXPECT_DOUBLE_EQ(angled.bore_from_deep, 63.5);
  EXPECT_DOUBLE_EQ(angled.toward, kPi / 2);
  EXPECT_FALSE(parsed(wedge()).engine.head.angle_milled);
}

TEST(AngleMilled, MovesTheValveButNotTheReadings) {
  // The flush lift and the rim height were read before: they stay, and the place follows from them.
  const Engine before = parsed(wedge()).engine, after = parsed(cut()).engine;
  for (std::size_t i = 0; i < before.valves.size(); ++i) {
    EXPECT_EQ(after.valves[i].rim_height, before.valves[i].rim_height);
    EXPECT_EQ(after.valves[i].tilt, before.valves[i].tilt);
    EXPECT_LT(closed_place(after, after.valves[i]).z, closed_place(before, before.valves[i]).z);
    // Closed form: 23 degrees and atan(0.050 / 6) more, as both lean toward +x.
    EXPECT_NEAR(std::acos(up_axis(after, after.valves[i]).z), 23 * kDegree + std::atan(0.050 / 6), 1e-14);
  }
}

TEST(AngleMilled, NoNumberIsReadInVainAndEachIsGuarded) {
  const EngineFile good = parsed(cut());
  const std::vector<Override> others = {
      {"deep", "0.07"}, {"shallow", "0.02"}, {"width", "7"}, {"bore_from_deep", "3"}, {"toward", "4"}};
  for (const Override& other : others) {
    const std::string key = "head.angle_milled." + other.key;
    EXPECT_EQ(good.origins.count(key), 1u) << key;
    const Engine changed = parsed(cut(), {{key, other.value}}).engine;
    EXPECT_NE(dump(changed), dump(good.engine)) << key;
    const Vec3 moved = closed_place(changed, changed.valves[0]) - closed_place(good.engine, good.engine.valves[0]);
    EXPECT_GT(norm(moved), 0.01) << key;
    for (const char* bad : {"nan", "1e9", "abc", "3 kg"})
      EXPECT_THAT(faults_of(cut(), {{key, bad}}), ElementsAre(::testing::StartsWith("--set: " + key))) << bad;
  }
}

TEST(AngleMilled, Slips) {
  expect_one_fault(cut("0.060", "\"0.060 deg\""), "\"0.060 deg\"", {"head.angle_milled.deep must be a length"});
  expect_one_fault(cut("0.060", "0.60"), "0.60\n",
                   {"head.angle_milled.deep is 0.6 in; allowed is 0 to 0.3937 in (what was taken off"});
  expect_one_fault(cut("6.000", "\"6 mm\""), "\"6 mm\"",
                   {"head.angle_milled.width is 6 mm; allowed is 20 to 1000 mm", "did you mean 6 in?"});
  expect_one_fault(cut("6.000", "152.4"), "152.4", {"did you mean 152.4 mm?"});
  expect_one_fault(cut("0.060", "0.005"), "0.005\n",
                   {"head.angle_milled.deep 0.005 in is less than shallow, 0.01 in: exchange the two, and turn toward "
                    "by 180 deg"});
  expect_one_fault(cut("2.500", "6.500"), "6.500",
                   {"bore_from_deep 6.5 in is more than width, 6 in: the bore axis lies between"});
}

TEST(AngleMilled, TooSteepAHeadIsRefused) {
  // Closed form: atan(0.390 / 4) = 5.57 degrees.
  const std::string text = replaced(replaced(cut(), "deep = 0.060", "deep = 0.390"), "\"0.254 mm\"", "0");
  expect_one_fault(
      replaced(text, "6.000\nbore", "4.0\nbore"), "4.0\nbore",
      {"[head.angle_milled] turns the head by 5.57 deg: 0.39 in less 0 in over 4 in; allowed is to 5 deg"});
}

TEST(AngleMilled, ABoreAxisNearTheEdgeIsDoubted) {
  EXPECT_THAT(warnings_of(cut()), ::testing::IsEmpty());
  EXPECT_THAT(warnings_of(cut("2.500", "\"2.5 mm\"")),
              ElementsAre(HasSubstr("head.angle_milled.bore_from_deep 0.0984252 in is 0.016 of width, 6 in; usual is "
                                    "about half")));
  EXPECT_THAT(warnings_of(cut("2.500", "5.500")), ElementsAre(HasSubstr("is 0.92 of width")));
}

TEST(AngleMilled, MissingAndUnknownKeys) {
  expect_one_fault(cut("width = 6.000\n", ""), "[head.angle_milled]",
                   {"missing key \"width\" in [head.angle_milled]: a length"});
  expect_one_fault(cut("bore_from_deep = 2.500\n", ""), "[head.angle_milled]", {"missing key \"bore_from_deep\""});
  expect_one_fault(cut("shallow", "shalow"), "shalow", {"[head.angle_milled]", "did you mean \"shallow\"?"});
  EXPECT_THAT(faults_of(wedge_with("milled = 0 ", "angle_milled = 0.060 #")),
              ElementsAre(HasSubstr("head.angle_milled must be a table ([head.angle_milled]), found a number")));
}

}  // namespace
}  // namespace eyebrow::testing
