// The lobes of the invented example engines, as numbers.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "eyebrow/engine.hpp"

namespace eyebrow::examples {

/// `points`: checking lift in `unit` mm, duration in crank degrees.
inline Lobe lobe(std::string name, Role role, double centre_degrees, double lift, double unit, LiftAt measured,
                 const std::vector<std::pair<double, double>>& points) {
  Lobe made;
  made.name = std::move(name);
  made.cam = "cam";
  made.role = role;
  made.centre = centre_degrees * kDegree;
  made.measured = measured;
  made.lift = lift * unit;
  for (const auto& [at, degrees] : points) made.durations.push_back({at * unit, degrees * kDegree});
  return made;
}

inline Lobe wedge_intake() {
  return lobe("intake", Role::intake, 104, 0.430, kInch, LiftAt::lobe,
              {{0.020, 287.7}, {0.050, 266.0}, {0.100, 236.1}, {0.200, 182.0}, {0.300, 125.8}});
}
inline Lobe wedge_exhaust() {
  return lobe("exhaust", Role::exhaust, 110, 0.420, kInch, LiftAt::lobe,
              {{0.020, 295.9}, {0.050, 274.0}, {0.100, 243.6}, {0.200, 188.0}, {0.300, 128.9}});
}
inline Lobe six_intake() {
  return lobe("intake", Role::intake, 106, 0.345, kInch, LiftAt::lobe,
              {{0.020, 268.3}, {0.050, 244.0}, {0.100, 211.6}, {0.200, 152.0}});
}
inline Lobe six_exhaust() {
  return lobe("exhaust", Role::exhaust, 110, 0.345, kInch, LiftAt::lobe,
              {{0.020, 272.2}, {0.050, 248.0}, {0.100, 215.7}, {0.200, 156.0}});
}
inline Lobe pent_roof_intake() {
  return lobe("intake", Role::intake, 112, 10.0, 1, LiftAt::valve,
              {{0.5, 245.0}, {1, 230.0}, {2, 207.7}, {4, 172.0}, {6, 138.0}});
}
inline Lobe pent_roof_exhaust() {
  return lobe("exhaust", Role::exhaust, 108, 9.5, 1, LiftAt::valve,
              {{0.5, 243.9}, {1, 228.0}, {2, 204.3}, {4, 166.0}, {6, 129.0}});
}

inline std::vector<Lobe> all_lobes() {
  return {wedge_intake(), wedge_exhaust(), six_intake(), six_exhaust(), pent_roof_intake(), pent_roof_exhaust()};
}

}  // namespace eyebrow::examples
