#include "study/disc_engine.hpp"

#include <cmath>

namespace eyebrow::study {
namespace {

constexpr int kSides = 720;  // chord error of a 45 mm circle: 4e-4 mm

Vec3 on_circle(int i, double radius, double z) {
  const double turn = 2 * kPi * (i % kSides) / kSides;
  return {radius * std::cos(turn), radius * std::sin(turn), z};
}

/// Two triangles between circles i and i + 1; `out`: the void lies away from the axis.
void add_wall(Crown& crown, int face, double radius, double low, double high, bool out) {
  const int first = static_cast<int>(crown.points.size());
  for (int i = 0; i < kSides; ++i) {
    crown.points.push_back(on_circle(i, radius, low));
    crown.points.push_back(on_circle(i, radius, high));
  }
  for (int i = 0; i < kSides; ++i) {
    const int a = first + 2 * i, b = first + 2 * ((i + 1) % kSides);
    if (out) {
      crown.triangles.push_back({{a, b, b + 1}, face});
      crown.triangles.push_back({{a, b + 1, a + 1}, face});
    } else {
      crown.triangles.push_back({{a, b + 1, b}, face});
      crown.triangles.push_back({{a, a + 1, b + 1}, face});
    }
  }
}

void add_disc(Crown& crown, int face, double radius, double z, bool up) {
  const int centre = static_cast<int>(crown.points.size());
  crown.points.push_back({0, 0, z});
  for (int i = 0; i < kSides; ++i) crown.points.push_back(on_circle(i, radius, z));
  for (int i = 0; i < kSides; ++i) {
    const int a = centre + 1 + i, b = centre + 1 + (i + 1) % kSides;
    crown.triangles.push_back({up ? std::array<int, 3>{centre, a, b} : std::array<int, 3>{centre, b, a}, face});
  }
}

Face face(Surface kind, Group group, const char* name, Vec3 axis, double radius) {
  Face made;
  made.kind = kind;
  made.group = group;
  made.name = name;
  made.frame = frame_about({}, axis);
  made.radius = radius;
  return made;
}

Valve valve(const char* name, Role role, double head, double y, double rim_height) {
  Valve made;
  made.name = name;
  made.role = role;
  made.lobe = name;
  made.head_diameter = head;
  made.margin = 1.2;
  made.seat_angle = 45 * kDegree;
  made.seat_width = 0.09 * head;
  made.underhead_angle = 20 * kDegree;
  made.stem_diameter = 7;
  made.y = y;
  made.rim_height = rim_height;
  return made;
}

Lobe lobe(const char* name, Role role, double centre_degrees, double lift) {
  Lobe made;
  made.name = name;
  made.cam = "cam";
  made.role = role;
  made.centre = centre_degrees * kDegree;
  made.measured = LiftAt::valve;
  made.lift = lift;
  made.law = CamLaw::poly4567;
  made.law_duration = 290 * kDegree;
  return made;
}

}  // namespace

Engine disc_engine() {
  Engine engine;
  engine.name = "plain disc (invented)";
  engine.cylinder.bore = 90;
  engine.cylinder.stroke = 80;
  engine.cylinder.rod_length = 140;
  engine.cylinder.deck_clearance = 0.2;
  engine.gasket = {1.0, 91};
  engine.piston.crown_diameter = 89.2;
  engine.cams = {{"cam", 0}};
  engine.lobes = {lobe("intake", Role::intake, 106, 10), lobe("exhaust", Role::exhaust, 108, 9.5)};
  engine.valves = {valve("intake", Role::intake, 36, 20, 5), valve("exhaust", Role::exhaust, 30, -22, 5)};
  engine.asked.valve[Role::intake] = {1, 1, 1, 1, 1};
  engine.asked.valve[Role::exhaust] = {1, 1, 1, 1, 1};
  engine.asked.valve_to_valve = 1;
  engine.asked.valve_to_bore = 1;
  engine.asked.piston_to_head = 1;
  return engine;
}

Parts disc_parts(const Engine& engine) {
  Parts parts;
  Crown& crown = parts.crown;
  const double radius = engine.piston.crown_diameter / 2;
  crown.faces = {face(Surface::plane, Group::flat, "crown flat", {0, 0, 1}, 0),
                 face(Surface::cylinder, Group::side, "side", {0, 0, 1}, radius),
                 face(Surface::plane, Group::underside, "underside", {0, 0, -1}, 0)};
  add_disc(crown, 0, radius, 0, true);
  add_wall(crown, 1, radius, -8, 0, true);
  add_disc(crown, 2, radius, -8, false);
  crown.error = 4e-4;
  crown.volume = kPi * radius * radius * 8;

  parts.bore.faces = {face(Surface::cylinder, Group::bore, "bore wall", {0, 0, 1}, engine.cylinder.bore / 2)};
  add_wall(parts.bore, 0, engine.cylinder.bore / 2, -engine.cylinder.stroke, 0, false);
  parts.bore.error = 4e-4;

  for (const Valve& of : engine.valves) parts.profiles.push_back(valve_profile(of, 60));
  return parts;
}

}  // namespace eyebrow::study
