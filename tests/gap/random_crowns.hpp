// Random crowns from the modeller, with what bites: pockets that overlap, cross the crown's edge, reach into a dish or
// a dome, corner radii, mouth breaks, floors shaped like a valve's face. All invented.
#pragma once
#include <cstdio>
#include <cstdlib>
#include <optional>

#include "eyebrow/parts.hpp"
#include "random_parts.hpp"

namespace eyebrow::random_parts {

inline const char* const kTops[] = {"flat", "dish", "ball dome", "cone dome", "roof"};

inline Piston random_piston(Dice& dice, int top, double radius) {
  Piston piston;
  piston.crown_diameter = 2 * radius;
  if (dice.below(3) == 0) piston.top_chamfer = dice.between(0.3, 1.5);
  if (top == 1)
    piston.dish = Dish{dice.between(0.9, 1.5) * radius, dice.between(1, 3.5),
                       dice.below(2) ? dice.between(0.5, 0.9) : 0, dice.between(-3, 3), dice.between(-3, 3)};
  if (top == 2) piston.round_dome = RoundDome{dice.between(2, 6), dice.between(1.3, 1.8) * radius};
  if (top == 3)
    piston.round_dome = RoundDome{dice.between(2, 6), dice.between(1.3, 1.8) * radius, DomeShape::cone,
                                  dice.between(0.3, 0.9) * radius};
  if (top == 4) {
    RoofDome roof{dice.between(2, 6), {}};
    const int planes = 2 + dice.below(3);
    for (int i = 0; i < planes; ++i)
      roof.planes.push_back({dice.between(10, 40) * kDegree, 2 * kPi * i / planes + dice.between(-0.3, 0.3),
                             dice.between(0.6, 0.95) * radius});
    piston.roof_dome = roof;
  }
  const int pockets = 2 + dice.below(3);
  const double turn = dice.between(0, 2 * kPi);
  for (int i = 0; i < pockets; ++i) {
    Pocket p;
    p.name = "pocket " + std::to_string(i + 1);
    const double way = turn + 2 * kPi * i / pockets + dice.between(-0.4, 0.4);
    const double out = dice.between(0.3, 0.75) * radius;  // the furthest cross the crown's edge
    p.x = out * std::cos(way);
    p.y = out * std::sin(way);
    p.tilt = dice.below(4) == 0 ? 0 : dice.between(3, 24) * kDegree;
    p.lean = way + dice.between(-0.6, 0.6);
    p.diameter = 2 * dice.between(0.32, 0.45) * radius;
    p.depth = dice.between(2, 7);
    p.depth_to = DepthTo::floor_centre;
    if (dice.below(2)) p.corner_radius = dice.between(0.3, 2.0);
    if (dice.below(3) == 0 && (top == 0 || top == 4)) p.mouth_break = dice.between(0.3, 0.8);
    piston.pockets.push_back(p);
  }
  return piston;
}

inline Valve random_valve(Dice& dice, int kind, const Pocket& pocket, int index) {
  Valve v;
  v.name = "valve";
  v.pocket = index;
  v.head_diameter = pocket.diameter - 2 * dice.decades(-1.5, 0.4);
  v.margin = dice.between(1.0, 2.0);
  v.seat_angle = 45 * kDegree;
  v.seat_width = dice.between(1.5, 3.0);
  v.underhead_angle = dice.between(10, 30) * kDegree;
  v.stem_diameter = dice.between(5, 8);
  if (kind == 1 || kind >= 4) v.rim_radius = dice.between(0.1, 1.0);
  if (kind == 2 || kind == 4) v.face = FaceShape::domed;
  if (kind == 3 || kind == 5) v.face = FaceShape::dished;
  if (v.face != FaceShape::flat) v.face_depth = dice.between(0.3, 2.5);
  v.x = pocket.x;
  v.y = pocket.y;
  v.tilt = pocket.tilt;
  v.lean = pocket.lean;
  v.rim_height = 12;
  return v;
}

/// A crown and one valve over one of its pockets, before the modeller saw them.
struct Draw {
  Engine engine;
  Scene scene;  ///< its crown and profile are still missing
};

/// The valve's place: over its pocket, coaxial or a little aside and askew.
inline void place_valve(Dice& dice, const Pocket& pocket, const Valve& valve, Scene& s) {
  s.reach = dice.between(0, 4);
  const Vec3 axis = tilted_axis(pocket.tilt, pocket.lean);
  s.place.up = dice.below(3) == 0 ? axis : unit(axis + dice.decades(-4, -1.3) * dice.direction());
  const double room = (pocket.diameter - valve.head_diameter) / 2;
  const double aside = dice.below(2) ? 0 : dice.between(0, 1.2) * room, way = dice.between(0, 2 * kPi);
  const Frame frame = frame_about({pocket.x, pocket.y, 0}, axis);
  s.place.closed = frame.origin + (1.5 - pocket.depth / axis.z) * axis + (aside * std::cos(way)) * frame.x +
                   (aside * std::sin(way)) * frame.y;
}

inline Draw draw_crown(Dice& dice, int top, int valve_kind) {
  Draw draw;
  Engine& engine = draw.engine;
  engine.name = "random crown (invented)";
  const double radius = dice.between(40, 50);
  engine.cylinder.bore = 2 * radius + 0.6;
  engine.cylinder.stroke = 90;
  engine.cylinder.rod_length = 150;
  engine.gasket = {1.0, 2 * radius + 2};
  engine.piston = random_piston(dice, top, radius);
  Scene& s = draw.scene;
  s.kind = kTops[top];
  s.valve = kValves[valve_kind];
  s.pocket = dice.below(static_cast<int>(engine.piston.pockets.size()));
  Pocket& pocket = engine.piston.pockets[s.pocket];
  if (dice.below(4) == 0) pocket.floor = FloorShape::valve_face;
  engine.valves = {random_valve(dice, valve_kind, pocket, s.pocket)};
  place_valve(dice, pocket, engine.valves[0], s);
  return draw;
}

/// Nothing, and `refused` counts it, where the checks or the modeller refuse.
inline std::optional<Parts> try_parts(const Engine& engine, double deflection, int& refused) {
  try {
    return build_parts(engine, {}, deflection);
  } catch (const std::exception& fault) {
    ++refused;
    if (std::getenv("EYEBROW_DENSE_SAY")) std::printf("refused: %s\n", fault.what());
    return std::nullopt;
  }
}

/// A crown with a valve over one of its pockets. Draws again when the checks or the modeller refuse.
/// `mesh_only`: the mesh counts as exact, so that it alone answers.
inline Scene crown_scene(Dice& dice, int top, int valve_kind, double deflection, int& refused, bool mesh_only = true) {
  for (;;) {
    Draw draw = draw_crown(dice, top, valve_kind);
    std::optional<Parts> parts = try_parts(draw.engine, deflection, refused);
    if (!parts) continue;
    Scene s = std::move(draw.scene);
    s.crown = std::move(parts->crown);
    s.profile = parts->profiles.front();
    if (mesh_only) s.crown.error = 0;
    return s;
  }
}

}  // namespace eyebrow::random_parts
