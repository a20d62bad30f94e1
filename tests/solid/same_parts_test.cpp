// Parts may serve another engine only where no number that shapes them differs.
#include <gtest/gtest.h>

#include <functional>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"

namespace eyebrow {
namespace {

struct Change {
  const char* what;
  std::function<void(Engine&)> apply;
};

/// Whatever an engine can have, to be compared only: no such piston can be built.
Engine everything() {
  Engine engine = test::wedge();
  engine.cylinder.notches = {{"notch", 40, 0, 30, 5}};
  engine.piston.top_land_height = 7;
  engine.piston.ring_groove_depth = 4;
  engine.piston.dish = Dish{60, 2, 1, 0.5, 0.25};
  engine.piston.round_dome = RoundDome{3, 70, DomeShape::cone, 20};
  engine.piston.roof_dome = RoofDome{4, {{0.2, 0, 30}, {0.2, 3, 30}}};
  engine.piston.step = StepCrown{"crown.step",
                                 std::make_shared<const std::string>("text"),
                                 "crown",
                                 Vec3{0, 0, 1},
                                 Vec3{0, 1, 0},
                                 0.5,
                                 2.0,
                                 0.005,
                                 {{"1", Group::wall, "intake"}}};
  engine.valves[0].step = StepValve{"valve.step", std::make_shared<const std::string>("text"), "intake"};
  return engine;
}

const std::vector<Change> kShaping = {
    {"units", [](Engine& e) { e.units = LengthUnit::mm; }},
    {"bore", [](Engine& e) { e.cylinder.bore += 1e-9; }},
    {"stroke", [](Engine& e) { e.cylinder.stroke += 1e-9; }},
    {"no notch", [](Engine& e) { e.cylinder.notches.clear(); }},
    {"notch name", [](Engine& e) { e.cylinder.notches[0].name = "other"; }},
    {"notch x", [](Engine& e) { e.cylinder.notches[0].x += 1e-9; }},
    {"notch y", [](Engine& e) { e.cylinder.notches[0].y += 1e-9; }},
    {"notch diameter", [](Engine& e) { e.cylinder.notches[0].diameter += 1e-9; }},
    {"notch depth", [](Engine& e) { e.cylinder.notches[0].depth += 1e-9; }},
    {"gasket thickness", [](Engine& e) { e.gasket.thickness += 1e-9; }},
    {"gasket bore", [](Engine& e) { e.gasket.bore += 1e-9; }},
    {"crown diameter", [](Engine& e) { e.piston.crown_diameter += 1e-9; }},
    {"top chamfer", [](Engine& e) { e.piston.top_chamfer += 1e-9; }},
    {"no dish", [](Engine& e) { e.piston.dish.reset(); }},
    {"dish diameter", [](Engine& e) { e.piston.dish->diameter += 1e-9; }},
    {"dish depth", [](Engine& e) { e.piston.dish->depth += 1e-9; }},
    {"dish corner", [](Engine& e) { e.piston.dish->corner_radius += 1e-9; }},
    {"dish x", [](Engine& e) { e.piston.dish->x += 1e-9; }},
    {"dish y", [](Engine& e) { e.piston.dish->y += 1e-9; }},
    {"no round dome", [](Engine& e) { e.piston.round_dome.reset(); }},
    {"dome height", [](Engine& e) { e.piston.round_dome->height += 1e-9; }},
    {"dome base", [](Engine& e) { e.piston.round_dome->base_diameter += 1e-9; }},
    {"dome shape", [](Engine& e) { e.piston.round_dome->shape = DomeShape::sphere; }},
    {"dome top", [](Engine& e) { e.piston.round_dome->top_diameter += 1e-9; }},
    {"no roof", [](Engine& e) { e.piston.roof_dome.reset(); }},
    {"roof plateau", [](Engine& e) { e.piston.roof_dome->plateau += 1e-9; }},
    {"roof plane gone", [](Engine& e) { e.piston.roof_dome->planes.pop_back(); }},
    {"roof slope", [](Engine& e) { e.piston.roof_dome->planes[1].slope += 1e-9; }},
    {"roof toward", [](Engine& e) { e.piston.roof_dome->planes[1].toward += 1e-9; }},
    {"roof meets", [](Engine& e) { e.piston.roof_dome->planes[1].meets += 1e-9; }},
    {"top land", [](Engine& e) { *e.piston.top_land_height += 1e-9; }},
    {"ring groove", [](Engine& e) { *e.piston.ring_groove_depth += 1e-9; }},
    {"STEP file", [](Engine& e) { e.piston.step->file = "other"; }},
    {"STEP text", [](Engine& e) { e.piston.step->text = std::make_shared<const std::string>("other"); }},
    {"STEP solid", [](Engine& e) { e.piston.step->solid = "other"; }},
    {"STEP up",
     [](Engine& e) {
       e.piston.step->up = Vec3{0, 0, -1};
     }},
    {"STEP front", [](Engine& e) { e.piston.step->front.reset(); }},
    {"STEP turn", [](Engine& e) { e.piston.step->turn += 1e-9; }},
    {"STEP flat", [](Engine& e) { *e.piston.step->flat += 1e-9; }},
    {"STEP mend", [](Engine& e) { e.piston.step->mend += 1e-9; }},
    {"STEP face", [](Engine& e) { e.piston.step->faces[0].group = Group::floor; }},
    {"no STEP", [](Engine& e) { e.piston.step.reset(); }},
    {"STEP file of a valve", [](Engine& e) { e.valves[0].step->file = "other"; }},
    {"STEP text of a valve", [](Engine& e) { e.valves[0].step->text = std::make_shared<const std::string>("other"); }},
    {"STEP solid of a valve", [](Engine& e) { e.valves[0].step->solid = "other"; }},
    {"no STEP of a valve", [](Engine& e) { e.valves[0].step.reset(); }},
    {"underside", [](Engine& e) { e.piston.underside.reset(); }},
    {"pocket gone", [](Engine& e) { e.piston.pockets.pop_back(); }},
    {"pocket name", [](Engine& e) { e.piston.pockets[1].name = "other"; }},
    {"pocket x", [](Engine& e) { e.piston.pockets[1].x += 1e-9; }},
    {"pocket y", [](Engine& e) { e.piston.pockets[1].y += 1e-9; }},
    {"pocket tilt", [](Engine& e) { e.piston.pockets[1].tilt += 1e-9; }},
    {"pocket lean", [](Engine& e) { e.piston.pockets[1].lean += 1e-9; }},
    {"pocket diameter", [](Engine& e) { e.piston.pockets[1].diameter += 1e-9; }},
    {"pocket depth", [](Engine& e) { e.piston.pockets[1].depth += 1e-9; }},
    {"pocket depth to", [](Engine& e) { e.piston.pockets[1].depth_to = DepthTo::floor_centre; }},
    {"pocket corner", [](Engine& e) { e.piston.pockets[1].corner_radius += 1e-9; }},
    {"pocket mouth", [](Engine& e) { e.piston.pockets[1].mouth_break += 1e-9; }},
    {"pocket floor", [](Engine& e) { e.piston.pockets[1].floor = FloorShape::valve_face; }},
    {"valve gone", [](Engine& e) { e.valves.pop_back(); }},
    {"valve name", [](Engine& e) { e.valves[1].name = "other"; }},
    {"valve pocket", [](Engine& e) { e.valves[1].pocket = -1; }},
    {"valve head", [](Engine& e) { e.valves[1].head_diameter += 1e-9; }},
    {"valve margin", [](Engine& e) { e.valves[1].margin += 1e-9; }},
    {"valve seat angle", [](Engine& e) { e.valves[1].seat_angle += 1e-9; }},
    {"valve seat width", [](Engine& e) { e.valves[1].seat_width += 1e-9; }},
    {"valve face", [](Engine& e) { e.valves[1].face = FaceShape::domed; }},
    {"valve face depth", [](Engine& e) { e.valves[1].face_depth += 1e-9; }},
    {"valve rim", [](Engine& e) { e.valves[1].rim_radius += 1e-9; }},
    {"valve underhead", [](Engine& e) { e.valves[1].underhead_angle += 1e-9; }},
    {"valve stem", [](Engine& e) { e.valves[1].stem_diameter += 1e-9; }},
    // How long the stem is drawn.
    {"lobe lift", [](Engine& e) { e.lobes[1].lift += 1e-9; }},
    {"rocker ratio", [](Engine& e) { e.valves[1].rocker_ratio += 1e-9; }},
};

const std::vector<Change> kMoving = {
    {"name", [](Engine& e) { e.name = "other (invented)"; }},
    {"rod", [](Engine& e) { e.cylinder.rod_length += 1; }},
    {"pin offset", [](Engine& e) { e.cylinder.pin_offset += 1; }},
    {"rotation", [](Engine& e) { e.cylinder.rotation = Rotation::counterclockwise; }},
    {"block", [](Engine& e) { e.cylinder.block_deck_height = 240; }},
    {"compression height", [](Engine& e) { e.cylinder.compression_height = 40; }},
    {"milled", [](Engine& e) { e.head.milled = 0.3; }},
    {"rocker table",
     [](Engine& e) {
       e.valves[1].rocker_table = {{1, 1.5}, {9, 1.6}};
     }},
    {"angle-milled",
     [](Engine& e) {
       e.head.angle_milled = AngleMilled{1, 0.2, 150, 70, 0};
     }},
    {"place", [](Engine& e) { e.valves[0].x += 1, e.valves[0].y -= 1; }},
    {"tilt", [](Engine& e) { e.valves[0].tilt += 0.01, e.valves[0].lean += 0.01; }},
    {"rim height", [](Engine& e) { e.valves[0].rim_height += 0.5; }},
    {"sunk", [](Engine& e) { e.valves[0].sunk = 0.2; }},
    {"role", [](Engine& e) { e.valves[0].role = Role::exhaust; }},
    {"lash", [](Engine& e) { e.valves[0].lash = 0.4; }},
    {"lobe centre", [](Engine& e) { e.lobes[0].centre += 0.1; }},
    {"asked", [](Engine& e) { e.asked.valve_to_bore = 3; }},
};

TEST(SameParts, AnyNumberThatShapesThemKeepsThemApart) {
  const Engine engine = everything();
  EXPECT_TRUE(same_parts(engine, engine));
  for (const Change& change : kShaping) {
    Engine other = engine;
    change.apply(other);
    EXPECT_FALSE(same_parts(engine, other)) << change.what;
    EXPECT_FALSE(same_parts(other, engine)) << change.what;
  }
}

void expect_same(const Crown& one, const Crown& other) {
  ASSERT_EQ(one.points.size(), other.points.size());
  for (std::size_t i = 0; i < one.points.size(); ++i) ASSERT_EQ(norm(one.points[i] - other.points[i]), 0);
  ASSERT_EQ(one.triangles.size(), other.triangles.size());
  for (std::size_t i = 0; i < one.triangles.size(); ++i) {
    ASSERT_EQ(one.triangles[i].vertex, other.triangles[i].vertex);
    ASSERT_EQ(one.triangles[i].face, other.triangles[i].face);
  }
  ASSERT_EQ(one.faces.size(), other.faces.size());
  for (std::size_t i = 0; i < one.faces.size(); ++i) {
    EXPECT_EQ(one.faces[i].name, other.faces[i].name);
    EXPECT_EQ(one.faces[i].radius, other.faces[i].radius);
    EXPECT_EQ(one.faces[i].area, other.faces[i].area);
  }
  EXPECT_EQ(one.volume, other.volume);
}

void expect_same(const Profile& one, const Profile& other) {
  ASSERT_EQ(one.elements.size(), other.elements.size());
  for (std::size_t i = 0; i < one.elements.size(); ++i) {
    EXPECT_EQ(one.elements[i].to.r, other.elements[i].to.r);
    EXPECT_EQ(one.elements[i].to.w, other.elements[i].to.w);
    EXPECT_EQ(one.elements[i].radius, other.elements[i].radius);
  }
}

// The other half, by what is built: all that same_parts passes over at once leaves not a vertex elsewhere.
TEST(SameParts, WhatOnlyMovesThemMayDiffer) {
  const Engine engine = test::wedge();
  Engine all = engine;
  for (const Change& change : kMoving) {
    Engine other = engine;
    change.apply(other);
    EXPECT_TRUE(same_parts(engine, other)) << change.what;
    change.apply(all);
  }
  const Parts one = build_parts(engine, {}), other = build_parts(all, {});
  expect_same(one.crown, other.crown);
  expect_same(one.bore, other.bore);
  ASSERT_EQ(one.profiles.size(), other.profiles.size());
  for (std::size_t i = 0; i < one.profiles.size(); ++i) expect_same(one.profiles[i], other.profiles[i]);
}

// Of the deck clearance only the block's lower end knows.
TEST(SameParts, DeckClearanceLengthensTheBlockAlone) {
  const Engine engine = test::wedge();
  Engine other = engine;
  other.cylinder.deck_clearance = 0.5;
  EXPECT_TRUE(same_parts(engine, other));
  const Parts one = build_parts(engine, {}), low = build_parts(other, {});
  expect_same(one.crown, low.crown);
  for (std::size_t i = 0; i < one.profiles.size(); ++i) expect_same(one.profiles[i], low.profiles[i]);
  ASSERT_EQ(one.bore.faces.size(), low.bore.faces.size());
  for (std::size_t i = 0; i < one.bore.faces.size(); ++i) {
    EXPECT_EQ(one.bore.faces[i].name, low.bore.faces[i].name);
    EXPECT_EQ(one.bore.faces[i].radius, low.bore.faces[i].radius);
  }
  double bottom = 0;
  for (const Vec3& point : one.bore.points) bottom = std::min(bottom, point.z);
  // Below every place that a valve can be: the piston's lowest, which is a stroke below the deck.
  EXPECT_LT(bottom, -engine.cylinder.stroke - 0.5);
}

}  // namespace
}  // namespace eyebrow
