// [running]: every key as it is meant to be read.
#include "spec/running_engine.hpp"

namespace eyebrow::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;

TEST(Running, IsNotThereUnlessStated) {
  const Engine engine = parsed(wedge()).engine;
  EXPECT_FALSE(engine.running);
  EXPECT_TRUE(engine.asked.running.empty());
}

TEST(Running, EveryNumberIsRead) {
  const EngineFile file = parsed(running_wedge());
  EXPECT_THAT(file.warnings, IsEmpty());
  const Engine& engine = file.engine;
  ASSERT_TRUE(engine.running);
  const Running& r = *engine.running;
  EXPECT_EQ(r.rod_stretch->rpm, 7200);
  EXPECT_NEAR(r.rod_stretch->piston_mass, 0.65, 1e-12);
  EXPECT_NEAR(*r.rod_stretch->small_end_mass, 0.19, 1e-12);
  EXPECT_FALSE(r.rod_stretch->rod_mass);
  EXPECT_NEAR(r.rod_stretch->section, 0.42 * 645.16, 1e-9);
  EXPECT_EQ(r.rod_stretch->modulus, 207e3);
  EXPECT_EQ(r.rod_stretch->material, "steel");
  EXPECT_EQ(r.rod_stretch->source, "own scale and caliper");
  EXPECT_TRUE(r.rod_stretch->use);
  EXPECT_NEAR(r.bearings->main, 0.0025 * 25.4, 1e-12);
  EXPECT_NEAR(r.bearings->big_end, 0.0022 * 25.4, 1e-12);
  EXPECT_NEAR(r.bearings->pin, 0.001 * 25.4, 1e-12);
  EXPECT_EQ(r.growth->crank_warmer, 75);
  EXPECT_NEAR(r.growth->rod.warmer, 80, 1e-12);  // 144 F
  EXPECT_EQ(r.growth->rod.expansion, 12.3e-6);
  EXPECT_EQ(r.growth->piston.warmer, 150);
  EXPECT_NEAR(r.growth->piston.expansion, 19.8e-6, 1e-12);  // 11.0e-6 /F
  EXPECT_EQ(r.growth->piston.material, "");
  EXPECT_EQ(r.growth->block.expansion, 10.6e-6);
  EXPECT_NEAR(r.rock->skirt_clearance, 0.004 * 25.4, 1e-12);
  EXPECT_NEAR(r.rock->skirt_length, 2 * 25.4, 1e-12);
  EXPECT_FALSE(r.rock->angle);
  EXPECT_FALSE(r.gasket->use);
  EXPECT_NEAR(r.gasket->least, 0.039 * 25.4, 1e-12);
  EXPECT_NEAR(r.intake_guides->play, 0.0018 * 25.4, 1e-12);
  EXPECT_NEAR(r.intake_guides->guide_length, 2 * 25.4, 1e-12);
  EXPECT_NEAR(r.intake_guides->overhang, 1.4 * 25.4, 1e-12);
  EXPECT_NEAR(*r.exhaust_guides->sideways, 0.006 * 25.4, 1e-12);
  EXPECT_NEAR(r.exhaust_guides->dip, 0.002 * 25.4, 1e-12);
  EXPECT_NEAR(r.intake_loft->late, 4 * kDegree, 1e-12);
  EXPECT_EQ(r.intake_loft->lift, 0);
  EXPECT_NEAR(r.exhaust_loft->lift, 0.03 * 25.4, 1e-12);
  ASSERT_EQ(r.slack.size(), 1u);
  EXPECT_NEAR(r.slack.at("cam").late, 2 * kDegree, 1e-12);
  EXPECT_NEAR(r.slack.at("cam").early, 0.5 * kDegree, 1e-12);
  EXPECT_NEAR(r.pump_up->preload, 0.03 * 25.4, 1e-12);
  EXPECT_NEAR(engine.asked.running.at(Role::intake).travel, 0.02 * 25.4, 1e-12);
  EXPECT_NEAR(engine.asked.running.at(Role::intake).closest, 0.012 * 25.4, 1e-12);
  EXPECT_NEAR(engine.asked.running.at(Role::exhaust).radial, 0.015 * 25.4, 1e-12);
  EXPECT_NEAR(engine.asked.running.at(Role::exhaust).reach, 0.03 * 25.4, 1e-12) << "the travel's";
}

TEST(Running, EffectsMayBeGivenThemselves) {
  const Running r = *parsed(with_running(R"(
[running.rod_stretch]
stretch = 0.004
[running.growth]
growth = "0.15 mm"
[running.rock]
angle = 0.12
shift = 0.002
[running.pump_up]
lift = 0.05
)"))
                         .engine.running;
  EXPECT_NEAR(*r.rod_stretch->given, 0.004 * 25.4, 1e-12);
  EXPECT_EQ(*r.growth->given, 0.15);
  EXPECT_NEAR(*r.rock->angle, 0.12 * kDegree, 1e-12);
  EXPECT_NEAR(r.rock->shift, 0.002 * 25.4, 1e-12);
  EXPECT_NEAR(*r.pump_up->lift, 0.05 * 25.4, 1e-12);
}

TEST(Running, OneHeightOfTheBlockGivesTheOther) {
  const Cylinder from_piston = parsed(running_wedge()).engine.cylinder;
  // Closed form: rod 6 + half of the stroke 1.74 + 1.26 + deck clearance 0 = 9 in.
  EXPECT_NEAR(*from_piston.block_deck_height, 9 * 25.4, 1e-9);
  EXPECT_NEAR(*from_piston.compression_height, 1.26 * 25.4, 1e-12);
  EXPECT_EQ(from_piston.deck_clearance, 0);
  const Cylinder from_block =
      parsed(replaced(running_wedge(), "compression_height = 1.26", "block_deck_height = 9.01")).engine.cylinder;
  EXPECT_NEAR(*from_block.compression_height, 1.27 * 25.4, 1e-9);
  EXPECT_FALSE(parsed(wedge()).engine.cylinder.block_deck_height);
}

TEST(Running, EachCamMayHaveItsOwnSlack) {
  std::string text = replaced(wedge(), "[cam]", "[cam.a]\nadvance = 0\n[cam.b]");
  text = replaced(text, "[lobe.intake]\n", "[lobe.intake]\ncam = \"a\"\n");
  text = replaced(text, "[lobe.exhaust]\n", "[lobe.exhaust]\ncam = \"b\"\n");
  const std::string both = text + "[running.chain.a]\nlate = 1\n[running.chain.b]\nlate = 3\nuse = false\n";
  const Running r = *parsed(both).engine.running;
  EXPECT_NEAR(r.slack.at("a").late, 1 * kDegree, 1e-12);
  EXPECT_NEAR(r.slack.at("b").late, 3 * kDegree, 1e-12);
  EXPECT_FALSE(r.slack.at("b").use);
  EXPECT_NEAR(parsed(text + "[running.chain]\nlate = 2\n").engine.running->slack.at("b").late, 2 * kDegree, 1e-12);
  expect_one_fault(text + "[running.chain.a]\nlate = 1\n", "[running.chain.a]",
                   {"[running.chain] leaves out the cam \"b\""});
  expect_one_fault(both + "[running.chain.c]\nlate = 1\n", "c]\nlate", {"more than 2 tables"});
  expect_one_fault(text + "[running.chain.a]\nlate = 1\n[running.chain.zzz]\nlate = 1\n", "[running.chain.zzz]",
                   {"there is no cam \"zzz\"", "allowed are a, b"});
}

TEST(Running, MaterialsAreSpeltEitherWay) {
  const auto modulus = [](const std::string& word) {
    const Running r =
        *parsed(replaced(running_wedge(), "material = \"steel\" # rod", "material = \"" + word + "\"")).engine.running;
    return r.rod_stretch->material + " " + std::to_string(static_cast<int>(r.rod_stretch->modulus));
  };
  // Published: Callister, table B.2: 207, 71 (7075) and 114 (Ti-6Al-4V) GPa.
  EXPECT_EQ(modulus("steel"), "steel 207000");
  EXPECT_EQ(modulus("aluminium"), "aluminium 71000");
  EXPECT_EQ(modulus("aluminum"), "aluminium 71000");
  EXPECT_EQ(modulus("titanium"), "titanium 114000");
}

TEST(Running, UseComesFromTheCommandLineToo) {
  EXPECT_FALSE(parsed(running_wedge(), {{"running.bearings.use", "false"}}).engine.running->bearings->use);
  EXPECT_TRUE(parsed(running_wedge(), {{"running.gasket.use", "true"}}).engine.running->gasket->use);
}

TEST(Running, DoubtsWhatStatesNothing) {
  EXPECT_THAT(warnings_of(wedge() + "\n[running]\n"),
              ::testing::ElementsAre(HasSubstr("[running] states nothing that running takes from the gaps")));
}

// Every number that is stated reaches an allowance or an asked gap.
TEST(Running, NoNumberIsReadInVain) {
  const std::string text = replaced(running_wedge(), "small_end_mass = \"190 g\"", "rod_mass = \"1.3 lb\"");
  for (const std::string& whole : {running_wedge(), text}) {
    const EngineFile good = parsed(whole);
    const std::string before = dump(good.engine);
    int changed = 0;
    for (const auto& [key, origin] : good.origins) {
      if (key.rfind("running.", 0) != 0 || (origin.unit.empty() && key.find(".rpm") == std::string::npos)) continue;
      const std::string value = number_at(whole, origin, 1 + 5e-4);
      EXPECT_NE(dump(parsed(whole, {{key, value}}).engine), before) << key << "=" << value;
      ++changed;
    }
    EXPECT_GE(changed, 30);
  }
}

// Every number, spoilt in every way, is refused by name.
TEST(Running, EveryNumberIsGuarded) {
  const std::string text = running_wedge();
  const EngineFile good = parsed(text);
  int spoilt = 0;
  for (const auto& [key, origin] : good.origins) {
    if (key.rfind("running.", 0) != 0 || (origin.unit.empty() && key.find(".rpm") == std::string::npos)) continue;
    const std::string other = origin.unit == "deg" ? "3 mm" : "3 deg";
    for (const std::string& value : {std::string("nan"), std::string("inf"), std::string("-1e9 ") + origin.unit,
                                     std::string("1e9 ") + origin.unit, std::string("abc"), other}) {
      const auto faults = faults_of(text, {{key, value}});
      ASSERT_FALSE(faults.empty()) << key << "=" << value;
      EXPECT_THAT(faults[0], ::testing::StartsWith("--set: " + key)) << value;
      ++spoilt;
    }
  }
  EXPECT_GE(spoilt, 180);
}

}  // namespace
}  // namespace eyebrow::testing
