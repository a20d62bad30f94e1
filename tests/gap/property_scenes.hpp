// Valves over crowns for the property tests: random_parts.hpp, random_crowns.hpp and a post on a plate.
#pragma once
#include "random_crowns.hpp"

namespace eyebrow::random_parts {

inline constexpr double kDeflection = 0.03;  // of the modeller's crowns
/// Of a pocket made by hand: 60 chords or more around a radius of 22 + 10^0.5 at most.
inline constexpr double kRough = 0.035;

/// A flat plate with a square post standing on it: metal beside, under and behind what the valve meets first.
inline Scene post(Dice& dice, int valve_kind) {
  Scene s;
  s.kind = "post";
  s.valve = kValves[valve_kind];
  const double half = dice.between(2, 8), height = dice.between(1, 5), plate = 60;
  s.crown.faces = {{Surface::plane, Group::flat, -1, "crown flat", {}, 0, 0, 0}};
  for (const double side : {plate, half})
    for (int i = 0; i < 4; ++i) s.crown.points.push_back({i == 0 || i == 3 ? side : -side, i < 2 ? side : -side, 0});
  for (int i = 0; i < 4; ++i) s.crown.points.push_back(s.crown.points[4 + i] + Vec3{0, 0, height});
  for (int i = 0; i < 4; ++i) {
    const int j = (i + 1) % 4;
    const Vec3 normal = unit(s.crown.points[4 + i] + s.crown.points[4 + j]);
    const int face = static_cast<int>(s.crown.faces.size());
    s.crown.faces.push_back({Surface::plane, Group::side, -1, "post side " + std::to_string(i + 1),
                             frame_about(s.crown.points[4 + i], normal), 0, 0, 0});
    s.crown.triangles.push_back({{i, j, 4 + j}, 0});
    s.crown.triangles.push_back({{i, 4 + j, 4 + i}, 0});
    s.crown.triangles.push_back({{4 + i, 4 + j, 8 + j}, face});
    s.crown.triangles.push_back({{4 + i, 8 + j, 8 + i}, face});
  }
  const int top = static_cast<int>(s.crown.faces.size());
  s.crown.faces.push_back({Surface::plane, Group::flat, -1, "post top", {{0, 0, height}}, 0, 0, 0});
  s.crown.triangles.push_back({{8, 9, 10}, top});
  s.crown.triangles.push_back({{8, 10, 11}, top});
  const double rim = dice.between(12, 20), tilt = dice.between(0, 25) * kDegree;
  s.profile = valve(dice, valve_kind, rim);
  s.place.up = tilted_axis(tilt, dice.between(0, 2 * kPi));
  s.place.closed = {dice.between(-15, 15), dice.between(-15, 15), height + rim * std::sin(tilt)};
  return s;
}

inline const std::vector<Scene>& made_by_hand() {
  static const std::vector<Scene> all = [] {
    std::vector<Scene> s;
    Dice dice(20);
    for (int kind = 0; kind < 6; ++kind) {
      for (int shape = 0; shape < 2; ++shape) s.push_back(scene(dice, shape, kind));
      s.push_back(post(dice, kind));
    }
    return s;
  }();
  return all;
}

/// The same and some crowns of the modeller, which take longer.
inline const std::vector<Scene>& every_scene() {
  static const std::vector<Scene> all = [] {
    std::vector<Scene> s = made_by_hand();
    Dice dice(21);
    int refused = 0;
    for (const int top : {1, 2})  // dish, ball
      s.push_back(crown_scene(dice, top, (2 * top + 1) % 6, kDeflection, refused));
    return s;
  }();
  return all;
}

/// How far a point is from the exact surface that a face lies on.
inline double off_exact(const Face& face, Vec3 p) {
  const Vec3 d = p - face.frame.origin;
  const double x = dot(d, face.frame.x), y = dot(d, face.frame.y), z = dot(d, face.frame.z), r = std::hypot(x, y);
  switch (face.kind) {
    case Surface::plane:
      return std::fabs(z);
    case Surface::cylinder:
      return std::fabs(r - face.radius);
    case Surface::cone:
      return std::fabs((r - face.radius) * std::cos(face.radius2) - z * std::sin(face.radius2));
    case Surface::sphere:
      return std::fabs(norm(d) - face.radius);
    case Surface::torus:
      return std::fabs(std::hypot(r - face.radius, z) - face.radius2);
    case Surface::sheared_cone:  // its gradient is sqrt(2 - 2 k cos u + k^2) long: this near, that is the distance
      return std::fabs(r - face.radius - z - face.radius2 * x) /
             std::sqrt(2 - 2 * face.radius2 * x / r + face.radius2 * face.radius2);
    case Surface::free_form:
      break;
  }
  return 0;
}

}  // namespace eyebrow::random_parts
