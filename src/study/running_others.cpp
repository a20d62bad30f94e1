#include "study/running_others.hpp"

#include <algorithm>
#include <cmath>

#include "study/running.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

double aside(const std::vector<Allowance>& allowances, int valve) {
  double sum = 0;
  for (const Allowance& each : allowances)
    if (each.on) sum += each.sideways[static_cast<std::size_t>(valve)];
  return sum;
}

}  // namespace

double running_pair(const Setup& setup, const std::vector<Allowance>& allowances, const ValvePair& pair, double bench) {
  Engine engine = setup.engine;
  engine.running_lash = false;
  const Motion motion = Motion(setup.motion.changed(engine)).with(running_freedom(engine, allowances));
  const Least least = pair_least(setup, motion, pair);
  // Where not all lifts are shown to be further apart than the greatest, what is shown counts.
  const double found = least.value - least.proven > kWideInterval ? least.proven : least.value;
  return std::min(bench, found - aside(allowances, pair.first()) - aside(allowances, pair.second()));
}

double running_bore(const Setup& setup, const std::vector<Allowance>& allowances, int valve, double bench) {
  double more = 0;
  for (const Allowance& each : allowances)
    if (each.on) more += each.lift[static_cast<std::size_t>(valve)];
  double least = bench;
  if (more > 0) {
    const ValveSetup& of = setup.valves[static_cast<std::size_t>(valve)];
    const Profile drawn_out = swept_outline(setup.parts.profiles[static_cast<std::size_t>(valve)], 0, more);
    const double greatest = setup.motion.lift(valve, of.peak_crank) + more;
    least = std::min(
        least, ValveToSolid(setup.bore, drawn_out, of.place.up).closest(setup.rim_centre(valve, greatest), true).value);
  }
  return least - aside(allowances, valve);
}

double piston_to_head(const Engine& engine) {
  return engine.gasket.thickness + engine.cylinder.deck_clearance;
}

double running_head(const Engine& engine, const std::vector<Allowance>& allowances, double bench) {
  double taken = 0;
  for (const Allowance& each : allowances)
    if (each.on) taken += each.piston_up + each.gasket + std::sin(std::fabs(each.rock)) * engine.cylinder.bore / 2;
  return bench - taken;
}

}  // namespace eyebrow::study
