// Which numbers of an engine shape its parts.
#include <algorithm>
#include <tuple>

#include "eyebrow/parts.hpp"
#include "solid/valve_outline.hpp"

namespace eyebrow {
namespace {

// shape() takes each struct apart name by name: a member that is added does not compile here until someone has decided
// whether it shapes a part.

auto shape(const BoreNotch& of) {
  const auto& [name, x, y, diameter, depth] = of;
  return std::tuple(name, x, y, diameter, depth);
}

auto shape(const Gasket& of) {
  const auto& [thickness, bore] = of;
  return std::tuple(thickness, bore);
}

auto shape(const Dish& of) {
  const auto& [diameter, depth, corner_radius, x, y] = of;
  return std::tuple(diameter, depth, corner_radius, x, y);
}

auto shape(const RoundDome& of) {
  const auto& [height, base_diameter, dome, top_diameter] = of;
  return std::tuple(height, base_diameter, dome, top_diameter);
}

auto shape(const RoofPlane& of) {
  const auto& [slope, toward, meets] = of;
  return std::tuple(slope, toward, meets);
}

auto shape(const Pocket& of) {
  const auto& [name, x, y, tilt, lean, diameter, depth, depth_to, corner_radius, mouth_break, floor] = of;
  return std::tuple(name, x, y, tilt, lean, diameter, depth, depth_to, corner_radius, mouth_break, floor);
}

auto shape(const StepFace& of) {
  const auto& [face, group, valve, point] = of;
  const Vec3 at = point.value_or(Vec3{});
  return std::tuple(face, group, valve, point.has_value(), at.x, at.y, at.z);
}

template <class Item>
bool same(const std::vector<Item>& one, const std::vector<Item>& other) {
  return std::equal(one.begin(), one.end(), other.begin(), other.end(),
                    [](const Item& a, const Item& b) { return shape(a) == shape(b); });
}

template <class Item>
bool same(const std::optional<Item>& one, const std::optional<Item>& other) {
  return one.has_value() == other.has_value() && (!one || shape(*one) == shape(*other));
}

bool same(const std::optional<RoofDome>& one, const std::optional<RoofDome>& other) {
  if (!one || !other) return one.has_value() == other.has_value();
  const auto& [plateau, planes] = *one;
  return plateau == other->plateau && same(planes, other->planes);
}

bool same(const std::optional<Vec3>& one, const std::optional<Vec3>& other) {
  return one.has_value() == other.has_value() && (!one || norm(*one - *other) == 0);
}

bool same(const std::optional<StepCrown>& one, const std::optional<StepCrown>& other) {
  if (!one || !other) return one.has_value() == other.has_value();
  const auto& [file, text, solid, up, front, turn, flat, mend, faces] = *one;
  return file == other->file && (text == other->text || *text == *other->text) && solid == other->solid &&
         same(up, other->up) && same(front, other->front) && turn == other->turn && flat == other->flat &&
         mend == other->mend && same(faces, other->faces);
}

bool same(const std::optional<StepValve>& one, const std::optional<StepValve>& other) {
  if (!one || !other) return one.has_value() == other.has_value();
  const auto& [file, text, solid] = *one;
  return file == other->file && (text == other->text || *text == *other->text) && solid == other->solid;
}

bool same(const Piston& one, const Piston& other) {
  const auto& [crown_diameter, top_chamfer, dish, round_dome, roof_dome, top_land, groove, underside, pockets, step] =
      one;
  return crown_diameter == other.crown_diameter && top_chamfer == other.top_chamfer && same(dish, other.dish) &&
         same(round_dome, other.round_dome) && same(roof_dome, other.roof_dome) && top_land == other.top_land_height &&
         groove == other.ring_groove_depth && underside == other.underside && same(pockets, other.pockets) &&
         same(step, other.step);
}

/// Not the deck clearance: see same_parts. Not rod, pin, block and compression height, which only move the piston.
bool same(const Cylinder& one, const Cylinder& other) {
  const auto& [bore, stroke, rod, pin_offset, rotation, deck_clearance, deck_height, compression, notches] = one;
  return bore == other.bore && stroke == other.stroke && same(notches, other.notches);
}

/// Not its place, tilt, role and train. The pocket counts because a floor may be shaped like its valve's face.
auto shape(const Valve& of) {
  const auto& [name, role, lobe, pocket, head_diameter, margin, seat_angle, seat_width, face, face_depth, rim_radius,
               underhead_angle, stem_diameter, x, y, tilt, lean, rim_height, sunk, rocker_ratio, rocker_table, lash,
               step] = of;
  return std::tuple(name, pocket, head_diameter, margin, seat_angle, seat_width, face, face_depth, rim_radius,
                    underhead_angle, stem_diameter);
}

/// Which faces of a crown from STEP are whose pocket is found by where the valves' axes are.
bool same_axes(const Engine& one, const Engine& other) {
  const auto axis = [](const Valve& valve) {
    return std::tuple(valve.name, valve.head_diameter, valve.x, valve.y, valve.tilt, valve.lean, valve.rim_height);
  };
  return std::equal(one.valves.begin(), one.valves.end(), other.valves.begin(), other.valves.end(),
                    [&](const Valve& a, const Valve& b) { return axis(a) == axis(b); });
}

}  // namespace

bool same_valves(const Engine& one, const Engine& other) {
  return one.units == other.units && std::equal(one.valves.begin(), one.valves.end(), other.valves.begin(),
                                                other.valves.end(), [&](const Valve& a, const Valve& b) {
                                                  return shape(a) == shape(b) && same(a.step, b.step) &&
                                                         stem_length(one, a) == stem_length(other, b);
                                                });
}

bool same_crown(const Engine& one, const Engine& other) {
  const bool like_faces = std::any_of(one.piston.pockets.begin(), one.piston.pockets.end(),
                                      [](const Pocket& pocket) { return pocket.floor == FloorShape::valve_face; });
  const bool from_step = one.piston.step.has_value();
  return one.units == other.units && same(one.piston, other.piston) && (!like_faces || same_valves(one, other)) &&
         (!from_step || (one.cylinder.bore == other.cylinder.bore && same_axes(one, other)));
}

bool same_bore(const Engine& one, const Engine& other) {
  return one.units == other.units && same(one.cylinder, other.cylinder) && shape(one.gasket) == shape(other.gasket);
}

bool same_parts(const Engine& one, const Engine& other) {
  return same_crown(one, other) && same_bore(one, other) && same_valves(one, other);
}

}  // namespace eyebrow
