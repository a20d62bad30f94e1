// Numbers that give no valid solid: one clear fault each, at its place in the file, all at once.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"

namespace eyebrow {
namespace {

using testing::HasSubstr;

struct Bad {
  const char* what;
  void (*spoil)(Engine&);
  const char* key;      // where it is told
  const char* message;  // a part of what is told
};

Engine good() {
  Engine e = test::plain();
  e.piston.underside = 15;
  e.piston.pockets = {test::pocket("a", 8, 9, 10, 0, 30, 4, 1)};
  e.cylinder.notches = {{"front", 0, 40, 20, 4}};
  e.valves = {test::valve("a", Role::intake, 0, 27, 1.2, 5, 9, 10, 0, 5, 6)};
  return e;
}

class BadParts : public testing::TestWithParam<Bad> {};

TEST_P(BadParts, AreToldAtTheirPlace) {
  Engine e = good();
  GetParam().spoil(e);
  Origins origins;
  for (const char* key : {"piston.crown_diameter",
                          "piston.underside",
                          "piston.top_chamfer",
                          "piston.dish.diameter",
                          "piston.dish.depth",
                          "piston.dish.corner_radius",
                          "piston.dome.height",
                          "piston.dome.base_diameter",
                          "piston.dome.top_diameter",
                          "piston.roof",
                          "piston.roof.plateau",
                          "piston.roof.planes.1.slope",
                          "pocket.a.x",
                          "pocket.a.depth",
                          "pocket.a.diameter",
                          "pocket.a.corner_radius",
                          "pocket.a.tilt",
                          "pocket.a.floor",
                          "pocket.a.mouth_break",
                          "valve.a.margin",
                          "valve.a.rim_radius",
                          "cylinder.bore",
                          "cylinder.notch.front",
                          "gasket.bore",
                          "gasket.thickness"}) {
    origins[key] = {"engine.toml", static_cast<int>(origins.size()) + 1, 3, "mm"};
  }
  const int line = [&] {
    int count = 0;
    for (const auto& each : origins) {
      if (each.first == GetParam().key) count = each.second.line;
    }
    return count;
  }();
  ASSERT_GT(line, 0) << "no such key in this test";
  try {
    build_parts(e, origins, 0.01);
    FAIL() << "was accepted";
  } catch (const InputError& error) {
    ASSERT_EQ(error.faults().size(), 1u) << error.what();
    EXPECT_THAT(error.faults()[0].message, HasSubstr(GetParam().message));
    EXPECT_EQ(error.faults()[0].line, line) << error.what();
    EXPECT_EQ(error.faults()[0].file, "engine.toml");
  }
}

INSTANTIATE_TEST_SUITE_P(
    Each, BadParts,
    testing::Values(
        Bad{"no crown", [](Engine& e) { e.piston.crown_diameter = 0; }, "piston.crown_diameter", "above 0"},
        Bad{"chamfer", [](Engine& e) { e.piston.top_chamfer = -1; }, "piston.top_chamfer", "chamfer"},
        Bad{"chamfer beyond the axis", [](Engine& e) { e.piston.top_chamfer = 50; }, "piston.top_chamfer",
            "below the crown's radius"},
        Bad{"pocket misses", [](Engine& e) { e.piston.pockets[0].x = 100; }, "pocket.a.x", "misses the crown"},
        Bad{"pocket through", [](Engine& e) { e.piston.pockets[0].depth = 16; }, "pocket.a.depth",
            "goes through the crown"},
        Bad{"pocket flat", [](Engine& e) { e.piston.pockets[0].depth = 0; }, "pocket.a.depth", "above 0"},
        Bad{"pocket corner", [](Engine& e) { e.piston.pockets[0].corner_radius = 15; }, "pocket.a.corner_radius",
            "below its own radius"},
        Bad{"pocket tilt", [](Engine& e) { e.piston.pockets[0].tilt = 80 * kDegree; }, "pocket.a.tilt", "tilt"},
        Bad{"pocket not a number", [](Engine& e) { e.piston.pockets[0].diameter = NAN; }, "pocket.a.diameter",
            "diameter"},
        Bad{"pocket without its valve",
            [](Engine& e) { e.piston.pockets[0].floor = FloorShape::valve_face, e.valves[0].pocket = -1; },
            "pocket.a.floor", "no valve"},
        Bad{"floor too small for the face",
            [](Engine& e) {
              e.piston.pockets[0].floor = FloorShape::valve_face;
              e.piston.pockets[0].corner_radius = 3;
              e.valves[0].face = FaceShape::domed;
              e.valves[0].face_depth = 1;
            },
            "pocket.a.corner_radius", "too small for the face"},
        Bad{"dish beyond the crown",
            [](Engine& e) {
              e.piston.dish = Dish{70, 2, 0, 10, 0};
            },
            "piston.dish.diameter", "beyond the crown flat"},
        Bad{"dish through",
            [](Engine& e) {
              e.piston.dish = Dish{50, 15, 0, 0, 0};
            },
            "piston.dish.depth", "goes through"},
        Bad{"dish corner",
            [](Engine& e) {
              e.piston.dish = Dish{50, 2, 30, 0, 0};
            },
            "piston.dish.corner_radius", "corner radius"},
        Bad{"dome too wide",
            [](Engine& e) {
              e.piston.round_dome = RoundDome{5, 90, DomeShape::sphere, 0};
            },
            "piston.dome.base_diameter", "fit on the crown"},
        Bad{"dome too high",
            [](Engine& e) {
              e.piston.round_dome = RoundDome{30, 50, DomeShape::sphere, 0};
            },
            "piston.dome.height", "half a ball"},
        Bad{"dome top",
            [](Engine& e) {
              e.piston.round_dome = RoundDome{5, 50, DomeShape::cone, 60};
            },
            "piston.dome.top_diameter", "smaller than its base"},
        Bad{"roof without planes",
            [](Engine& e) {
              e.piston.roof_dome = RoofDome{4, {}};
            },
            "piston.roof", "at least one plane"},
        Bad{"roof level plane",
            [](Engine& e) {
              e.piston.roof_dome = RoofDome{4, {{0, 0, 30}}};
            },
            "piston.roof.planes.1.slope", "slope"},
        Bad{"roof of nothing",
            [](Engine& e) {
              e.piston.roof_dome = RoofDome{4, {{0.3, 0, -10}, {0.3, kPi, -10}}};
            },
            "piston.roof", "leave no dome"},
        Bad{"underside above the chamfer",
            [](Engine& e) {
              e.piston.pockets.clear(), e.valves.clear(), e.piston.underside = 1, e.piston.top_chamfer = 2;
            },
            "piston.top_chamfer", "reaches down to the crown's underside"},
        // Closed form: the corner takes c (cos 30 + sin 30 - 1) = 4.03 of the sharp edge's 4 mm.
        Bad{"pocket all corner",
            [](Engine& e) { e.piston.pockets[0].tilt = 30 * kDegree, e.piston.pockets[0].corner_radius = 11; },
            "pocket.a.corner_radius", "nothing from the crown: its corner radius is too large"},
        Bad{"pocket shallower than the dish",
            [](Engine& e) {
              e.piston.dish = Dish{60, 6, 0, 0, 0};
            },
            "pocket.a.depth", "it cuts nothing from the crown: it is not deep enough"},
        Bad{"valve", [](Engine& e) { e.valves[0].rim_radius = 2; }, "valve.a.rim_radius", "margin"},
        Bad{"gasket", [](Engine& e) { e.gasket.thickness = 0; }, "gasket.thickness", "above 0"},
        Bad{"notch away from the wall", [](Engine& e) { e.cylinder.notches[0].y = 10; }, "cylinder.notch.front",
            "does not cut the bore wall"}),
    [](const auto& each) {
      std::string name = each.param.what;
      std::replace(name.begin(), name.end(), ' ', '_');
      return name;
    });

// 0.08 mm deep: so thin a sliver the modeller does not find.
TEST(BadPartsAlone, ASliverIsTheNumbersFault) {
  Engine e = test::wedge();
  e.piston.pockets[0].corner_radius = 12;
  try {
    build_parts(e, {}, 0.01);
    FAIL() << "was accepted";
  } catch (const InputError& error) {
    ASSERT_EQ(error.faults().size(), 1u) << error.what();
    EXPECT_EQ(error.faults()[0].key, "pocket.intake.corner_radius");
    EXPECT_THAT(error.faults()[0].message, HasSubstr("next to nothing from the crown"));
  }
}

TEST(BadPartsTogether, AllFaultsAtOnce) {
  Engine e = good();
  e.piston.pockets[0].depth = -1;
  e.piston.dish = Dish{200, 2, 0, 0, 0};
  e.valves[0].margin = 0;
  e.gasket.bore = -1;
  try {
    build_parts(e, {}, 0.01);
    FAIL();
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults().size(), 4u) << error.what();
  }
}

TEST(BadPartsTogether, AFaultWithNoKeyOfItsOwnIsToldAtItsTable) {
  Engine e = good();
  e.piston.pockets[0].x = 100;
  Origins origins;
  origins["pocket.a.diameter"] = {"engine.toml", 7, 1, "mm"};
  origins["pocket.other.x"] = {"engine.toml", 2, 1, "mm"};
  try {
    build_parts(e, origins, 0.01);
    FAIL();
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults()[0].line, 7);
  }
}

TEST(BadPartsTogether, WallsThatTouchAlongALineAreRefused) {
  Engine side = good();
  side.piston.pockets[0] = test::pocket("a", 0, 25, 0, 0, 30, 3);  // 25 + 15 = the crown's radius
  Engine two = good();
  two.piston.pockets = {test::pocket("a", 0, 15, 10, 0, 30, 3), test::pocket("b", 0, -15, 10, 0, 30, 3)};
  for (const Engine& e : {side, two}) {
    try {
      build_parts(e, {}, 0.01);
      FAIL();
    } catch (const InputError& error) {
      EXPECT_THAT(error.what(), HasSubstr("touches"));
    }
  }
}

TEST(BadPartsTogether, APocketInsideAnotherCutsNothing) {
  Engine e = good();
  e.piston.pockets.push_back(test::pocket("b", 8, 9, 10, 0, 20, 1));
  EXPECT_THROW(build_parts(e, {}, 0.01), InputError);
}

}  // namespace
}  // namespace eyebrow
