// An invented engine with as many small pockets and valves on one flat crown as asked for, alike and in a ring.
#include "bench/crowded_crown.hpp"

#include <fmt/format.h>

#include "bench/scene.hpp"

namespace eyebrow::bench {
namespace {

constexpr double kRing = 34, kTilt = 10 * kDegree;  // stems lean inward, so that valves part as they open

Pocket pocket_at(double azimuth, int number) {
  Pocket pocket;
  pocket.name = fmt::format("pocket {}", number);
  pocket.x = kRing * std::cos(azimuth);
  pocket.y = kRing * std::sin(azimuth);
  pocket.tilt = kTilt;
  pocket.lean = azimuth + kPi;
  pocket.diameter = 19;
  pocket.depth = 4;
  pocket.depth_to = DepthTo::deepest;
  pocket.corner_radius = 1;
  return pocket;
}

/// Its axis meets the crown flat at TDC where the pocket's does.
Valve valve_over(const Pocket& pocket, int number, const Engine& engine) {
  Valve valve = engine.valves.front();
  valve.name = fmt::format("valve {}", number);
  valve.pocket = number;
  valve.head_diameter = 17;
  valve.seat_width = 1.5;
  valve.stem_diameter = 5;
  valve.rim_height = 10;
  valve.tilt = pocket.tilt;
  valve.lean = pocket.lean;
  const double above = valve.rim_height + engine.gasket.thickness + engine.cylinder.deck_clearance;
  valve.x = pocket.x + above * std::tan(valve.tilt) * std::cos(valve.lean);
  valve.y = pocket.y + above * std::tan(valve.tilt) * std::sin(valve.lean);
  return valve;
}

}  // namespace

EngineFile crowded_crown(int pockets, int valves) {
  EngineFile file = model("two_valve_wedge");
  Engine& engine = file.engine;
  const Engine wedge = engine;
  engine.name = "crowded crown (invented)";
  engine.piston.pockets.clear();
  engine.valves.clear();
  for (int i = 0; i < pockets; ++i) engine.piston.pockets.push_back(pocket_at(2 * kPi * i / kMostPockets, i));
  for (int i = 0; i < valves; ++i)
    engine.valves.push_back(valve_over(engine.piston.pockets[static_cast<std::size_t>(i)], i, wedge));
  return file;
}

}  // namespace eyebrow::bench
