#include "study/pocket_cases.hpp"

#include <algorithm>
#include <cmath>

#include "study/disc_engine.hpp"
#include "study/judge.hpp"
#include "study/positions.hpp"

namespace eyebrow::study {

Engine upright(double travel, double radial) {
  Engine e = disc_engine();
  for (auto& [role, asked] : e.asked.valve) asked = {travel, travel, radial, radial, travel};
  e.piston.underside = 15;
  for (Valve& valve : e.valves) valve.rim_height = 1.5;
  return e;
}

double lowest_rim(const Setup& setup, int valve) {
  const auto& of = setup.valves[static_cast<std::size_t>(valve)];
  const Motion motion = setup.motion.with(judged_lifts(setup.engine));
  const auto at = [&](double crank) {
    return dot(
        of.place.closed - motion.lifts(valve, crank).greatest * of.place.up - Vec3{0, 0, setup.motion.height(crank)},
        of.place.up);
  };
  double best = INFINITY, where = 0;
  for (double crank = -kPi; crank < kPi; crank += 0.05 * kDegree)
    if (at(crank) < best) best = at(crank), where = crank;
  for (double step = 0.05 * kDegree; step > 1e-9; step /= 2)
    for (const double crank : {where - step, where + step})
      if (at(crank) < best) best = at(crank), where = crank;
  return best;
}

bool leaves(const Engine& engine, int valve) {
  const Parts parts = build_parts(engine, {}, 0.01);
  const study::Setup setup(engine, parts);
  LeastGaps gaps = no_gaps(engine);
  for (std::size_t k = 0; k < std::size(kGapKinds); ++k)
    gaps.piston[static_cast<std::size_t>(valve)][k] = judged_least(setup, valve, kGapKinds[k]);
  for (const AskedRow& row : judge(engine, gaps).rows)
    if (row.valve == engine.valves[static_cast<std::size_t>(valve)].name && row.what != "valve to bore" &&
        !row.running && !row.holds)
      return false;
  return true;
}

const SizedPocket& of_valve(const PocketResult& result, const std::string& name) {
  return *std::ranges::find_if(result.pockets, [&](const SizedPocket& one) {
    return result.engine.valves[static_cast<std::size_t>(one.valve)].name == name;
  });
}

Engine eased(const PocketResult& result, const SizedPocket& one, double diameter, double depth, double x, double y) {
  Engine engine = result.engine;
  Pocket& pocket = engine.piston.pockets[static_cast<std::size_t>(one.number)];
  pocket.diameter += diameter;
  pocket.depth += depth;
  pocket.x += x;
  pocket.y += y;
  return engine;
}

double metal(const std::string& pocket, MetalLeft::To to, const Engine& engine) {
  for (const MetalLeft& left : crown_left(engine, build_parts(engine, {}, 0.01).crown))
    if (left.pocket == pocket && left.to == to) return left.value;
  return NAN;
}

}  // namespace eyebrow::study
