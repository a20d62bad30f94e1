// Engines for the tests of the solids, written in code. All invented.
#pragma once
#include "eyebrow/engine.hpp"

namespace eyebrow::test {

/// Of the mesh, where a test looks at the exact solid.
inline constexpr double kCoarse = 0.01;  // mm

inline Pocket pocket(const char* name, double x, double y, double tilt_degrees, double lean_degrees, double diameter,
                     double depth, double corner = 0, DepthTo depth_to = DepthTo::sharp_edge) {
  Pocket p;
  p.name = name;
  p.x = x;
  p.y = y;
  p.tilt = tilt_degrees * kDegree;
  p.lean = lean_degrees * kDegree;
  p.diameter = diameter;
  p.depth = depth;
  p.corner_radius = corner;
  p.depth_to = depth_to;
  return p;
}

inline Valve valve(const char* name, Role role, int pocket, double head, double margin, double x, double y,
                   double tilt_degrees, double lean_degrees, double rim_height, double stem) {
  Valve v;
  v.name = name;
  v.role = role;
  v.lobe = name;
  v.pocket = pocket;
  v.head_diameter = head;
  v.margin = margin;
  v.seat_angle = 45 * kDegree;
  v.seat_width = 0.09 * head;
  v.underhead_angle = 25 * kDegree;
  v.stem_diameter = stem;
  v.x = x;
  v.y = y;
  v.tilt = tilt_degrees * kDegree;
  v.lean = lean_degrees * kDegree;
  v.rim_height = rim_height;
  return v;
}

inline Lobe lobe(const char* name, Role role, double lift) {
  Lobe l;
  l.name = name;
  l.role = role;
  l.lift = lift;
  return l;
}

/// Two valves in a wedge, inches (engine (a)).
inline Engine wedge() {
  constexpr double in = kInch;
  Engine e;
  e.name = "two-valve wedge (invented)";
  e.units = LengthUnit::inch;
  e.cylinder.bore = 4.030 * in;
  e.cylinder.stroke = 3.480 * in;
  e.cylinder.rod_length = 6.000 * in;
  e.gasket = {0.041 * in, 4.100 * in};
  e.piston.crown_diameter = 4.000 * in;
  e.piston.underside = 0.420 * in;
  e.piston.pockets = {pocket("intake", -0.155 * in, 0.861 * in, 23, 0, 2.140 * in, 0.150 * in),
                      pocket("exhaust", -0.130 * in, -1.051 * in, 23, 0, 1.730 * in, 0.155 * in)};
  e.valves = {
      valve("intake", Role::intake, 0, 2.020 * in, 0.055 * in, 0.100 * in, 0.855 * in, 23, 0, 0.560 * in, 0.3415 * in),
      valve("exhaust", Role::exhaust, 1, 1.600 * in, 0.065 * in, 0.100 * in, -1.045 * in, 23, 0, 0.501 * in,
            0.3415 * in)};
  e.lobes = {lobe("intake", Role::intake, 0.430 * in), lobe("exhaust", Role::exhaust, 0.420 * in)};
  for (Valve& v : e.valves) v.rocker_ratio = 1.6;
  return e;
}

/// Four valves in a pent roof, mm (engine (c)).
inline Engine pent_roof() {
  Engine e;
  e.name = "four-valve pent roof (invented)";
  e.cylinder.bore = 86;
  e.cylinder.stroke = 86;
  e.cylinder.rod_length = 143;
  e.cylinder.deck_clearance = 0.10;
  e.gasket = {0.90, 87};
  e.piston.crown_diameter = 85.3;
  e.piston.roof_dome = RoofDome{
      4.0, {{15 * kDegree, 0, 33}, {16 * kDegree, kPi, 31}, {35 * kDegree, kPi / 2, 36}, {35 * kDegree, -kPi / 2, 36}}};
  e.piston.pockets = {pocket("intake front", 15.14, 18.6, 15, 0, 37.4, 4.8),
                      pocket("intake rear", 15.14, -18.6, 15, 0, 37.4, 4.8),
                      pocket("exhaust front", -16.44, 16.6, 16, 180, 33.4, 4.0),
                      pocket("exhaust rear", -16.44, -16.6, 16, 180, 33.4, 4.0)};
  e.valves = {valve("intake front", Role::intake, 0, 34, 1.1, 17.0, 18.6, 15, 0, 5.945, 5.5),
              valve("intake rear", Role::intake, 1, 34, 1.1, 17.0, -18.6, 15, 0, 5.945, 5.5),
              valve("exhaust front", Role::exhaust, 2, 29, 1.3, -18.4, 16.6, 16, 180, 5.823, 5.5),
              valve("exhaust rear", Role::exhaust, 3, 29, 1.3, -18.4, -16.6, 16, 180, 5.823, 5.5)};
  e.lobes = {lobe("intake front", Role::intake, 10), lobe("intake rear", Role::intake, 10),
             lobe("exhaust front", Role::exhaust, 9.5), lobe("exhaust rear", Role::exhaust, 9.5)};
  return e;
}

/// A plain crown of 80 mm, flat, with nothing in it.
inline Engine plain() {
  Engine e;
  e.name = "plain crown (invented)";
  e.cylinder.bore = 80.5;
  e.cylinder.stroke = 80;
  e.cylinder.rod_length = 140;
  e.gasket = {1.0, 81};
  e.piston.crown_diameter = 80;
  return e;
}

/// Two upright valves, pockets about their axes with corner radii and edge breaks.
inline Engine upright() {
  Engine e = plain();
  e.name = "upright valves (invented)";
  e.piston.top_chamfer = 1;
  e.piston.pockets = {pocket("intake", 18, 4, 0, 0, 39, 3, 2), pocket("exhaust", -19, 2, 0, 0, 34, 2.5, 1)};
  for (Pocket& pocket : e.piston.pockets) pocket.mouth_break = 0.5;
  e.valves = {valve("intake", Role::intake, 0, 35, 1.2, 18, 4, 0, 0, 1, 7),
              valve("exhaust", Role::exhaust, 1, 30, 1.5, -19, 2, 0, 0, 1, 7)};
  e.lobes = {lobe("intake", Role::intake, 10), lobe("exhaust", Role::exhaust, 9)};
  return e;
}

}  // namespace eyebrow::test
