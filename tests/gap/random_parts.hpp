// Random crowns, valves and poses for tests of the kernel. Seeded; every number drawn here, in this order.
#pragma once
#include <random>
#include <string>

#include "shapes.hpp"

namespace eyebrow::random_parts {

class Dice {
 public:
  explicit Dice(unsigned long long seed) : bits_(seed) {}
  /// Uniform in [low, high).
  double between(double low, double high) { return low + (high - low) * static_cast<double>(bits_() >> 11) * 0x1p-53; }
  int below(int n) { return static_cast<int>(between(0, n)); }
  /// A length from 10^low to 10^high, every decade as likely.
  double decades(double low, double high) { return std::pow(10.0, between(low, high)); }
  Vec3 direction() {
    const double z = between(-1, 1), a = between(0, 2 * kPi), r = std::sqrt(1 - z * z);
    return {r * std::cos(a), r * std::sin(a), z};
  }

 private:
  std::mt19937_64 bits_;
};

/// One valve against one crown; at lift 0 and height 0 it is near its pocket's floor or the flat.
struct Scene {
  std::string kind;  ///< of crown
  const char* valve = "";
  Crown crown;
  Profile profile;
  ValvePlace place;
  int pocket = -1;
  double reach = 2;
};

inline const char* const kValves[] = {"sharp", "rounded", "domed", "dished", "domed rounded", "dished rounded"};

inline Profile valve(Dice& dice, int kind, double rim) {
  const double edge = kind == 1 || kind >= 4 ? dice.between(0.1, 1.0) : 0;
  const double depth = kind == 2 || kind == 4   ? -dice.between(0.3, 2.5)
                       : kind == 3 || kind == 5 ? dice.between(0.3, 2.5)
                                                : 0;
  return shapes::outline(rim, dice.between(1.0, 2.0), edge, depth, dice.between(1.5, 3.0), dice.between(2.5, 4.0));
}

/// `shape` even: no pocket; odd: one pocket, tilted nearly as the valve. The mesh counts as exact: error 0.
inline Scene scene(Dice& dice, int shape, int valve_kind) {
  Scene s;
  const double rim = dice.between(12, 22), lean = dice.between(0, 2 * kPi);
  const double tilt = dice.below(4) == 0 ? 0 : dice.between(0, 25) * kDegree;
  s.valve = kValves[valve_kind];
  s.profile = valve(dice, valve_kind, rim);
  s.reach = dice.between(0, 4);
  if (shape % 2 == 0) {
    s.kind = "plain";
    s.crown = shapes::plain(45, 24 + dice.below(100));
    s.place.up = tilted_axis(tilt, lean);
    s.place.closed = {dice.between(-20, 20), dice.between(-20, 20), 1 + rim * std::sin(tilt)};
    return s;
  }
  s.kind = "one pocket";
  shapes::TiltedPocket pocket{dice.between(-8, 8), dice.between(-8, 8), tilt, lean, rim + dice.decades(-1.5, 0.5), 0};
  const double sink = pocket.radius * std::tan(tilt);  // the floor's high side stays below the flat
  pocket.floor = sink + dice.between(1, 6);
  s.crown = shapes::pocketed(60, pocket, 60 + dice.below(160));
  s.crown.error = 0;
  s.pocket = 0;
  const bool aligned = dice.below(3) == 0;
  const double off = aligned ? 0 : dice.decades(-4, -1.3);
  s.place.up = aligned ? tilted_axis(tilt, lean) : unit(tilted_axis(tilt, lean) + off * dice.direction());
  const Frame& floor = s.crown.faces[1].frame;
  const double aside = aligned && dice.below(2) == 0 ? 0 : dice.between(0, 1.2) * (pocket.radius - rim),
               way = dice.between(0, 2 * kPi);
  s.place.closed = floor.origin + 1.5 * floor.z + (aside * std::cos(way)) * floor.x + (aside * std::sin(way)) * floor.y;
  return s;
}

}  // namespace eyebrow::random_parts
