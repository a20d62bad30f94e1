#include "study/running.hpp"

#include <algorithm>
#include <cmath>

#include "study/free_least.hpp"
#include "study/positions.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// Turned about the y axis by `angle`, from z toward x.
Vec3 leaned(Vec3 v, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return {c * v.x + s * v.z, v.y, c * v.z - s * v.x};
}

struct Lean {
  double angle = 0, shift = 0;
};

/// The valves as a crown sees them that leans about its pin and stands aside.
void lean(Setup& setup, Lean by, double pin_below_crown) {
  const Cylinder& cylinder = setup.engine.cylinder;
  const double thrust = cylinder.rotation == Rotation::clockwise ? 1 : -1;
  const Vec3 pin{thrust * cylinder.pin_offset, 0, setup.motion.height(0) - pin_below_crown};
  for (std::size_t i = 0; i < setup.valves.size(); ++i) {
    ValveSetup& valve = setup.valves[i];
    valve.place.closed = pin + leaned(valve.place.closed - pin, -by.angle) - Vec3{by.shift, 0, 0};
    valve.place.up = leaned(valve.place.up, -by.angle);
    valve.to_piston = ValveToPiston(setup.crown, setup.parts.profiles[i], valve.place, own_pocket(setup.engine, i));
  }
}

void add(const Allowance& allowance, Freedom& freedom) {
  for (std::size_t i = 0; i < freedom.valves.size(); ++i) {
    freedom.valves[i].early += allowance.early[i];
    freedom.valves[i].late += allowance.late[i];
    freedom.valves[i].lift += allowance.lift[i];
  }
}

/// Calls state(setup, sideways) for each state that some of the allowances together put the engine in, with any lobe
/// that has the same card.
template <class State>
void each_state(const Setup& setup, const std::vector<const Allowance*>& some, int valve, const State& state) {
  Engine engine = setup.engine;
  engine.running_lash = false;
  Freedom freedom = judged_lifts(engine);
  double sideways = 0;
  Lean most;
  double pin_below_crown = 0;
  for (const Allowance* each : some) {
    engine.cylinder.deck_clearance -= each->piston_up;
    engine.gasket.thickness -= each->gasket;
    add(*each, freedom);
    sideways += each->sideways[static_cast<std::size_t>(valve)];
    if (each->rock == 0 && each->rock_shift == 0) continue;
    most = {each->rock, each->rock_shift};
    pin_below_crown = each->pin_below_crown;
  }
  const Setup moved(setup, engine);
  const auto offer = [&](const Lean& by) {
    Setup leaned = moved;
    leaned.motion = moved.motion.with(freedom);
    double aside = sideways;
    if (by.angle != 0 || by.shift != 0) {
      lean(leaned, by, pin_below_crown);
      aside += std::fabs(std::sin(by.angle)) * (leaned.motion.height(0) - leaned.motion.height(kRockAngle));
    }
    state(leaned, aside);
  };
  if (most.angle == 0 && most.shift == 0) {
    offer({});
  } else {
    for (const double way : {-1.0, 1.0})
      for (const double side : {-1.0, 1.0}) offer({way * most.angle, side * most.shift});
  }
}

FreeLeast with(const Setup& setup, const std::vector<const Allowance*>& some, int valve, GapKind kind) {
  FreeLeast least;
  each_state(setup, some, valve, [&](const Setup& state, double sideways) {
    const FreeLeast found = free_least(state, valve, kind, sideways);
    if (found.found && (!least.found || found.value < least.value)) least = found;
  });
  return least;
}

std::vector<const Allowance*> counted(const std::vector<Allowance>& allowances) {
  std::vector<const Allowance*> on;
  for (const Allowance& each : allowances)
    if (each.on) on.push_back(&each);
  return on;
}

}  // namespace

Freedom running_freedom(const Engine& engine, const std::vector<Allowance>& allowances) {
  Freedom freedom = judged_lifts(engine);
  for (const Allowance& each : allowances)
    if (each.on) add(each, freedom);
  return freedom;
}

double running_value(const Setup& setup, const std::vector<Allowance>& allowances, int valve, GapKind kind,
                     double judged) {
  const FreeLeast together = with(setup, counted(allowances), valve, kind);
  return std::fmin(judged, together.found ? together.value : NAN);  // the other one where one is NaN
}

bool running_keeps(const Setup& setup, const std::vector<Allowance>& allowances, int valve, GapKind kind,
                   double value) {
  bool keeps = true;
  each_state(setup, counted(allowances), valve, [&](const Setup& state, double sideways) {
    keeps = keeps && free_keeps_above(state, valve, kind, value, sideways);
  });
  return keeps;
}

RunningLeast running_least(const Setup& setup, const std::vector<Allowance>& allowances, int valve, GapKind kind,
                           const Minimum& bench, double judged) {
  RunningLeast running;
  const std::vector<const Allowance*> all = counted(allowances);
  for (const Allowance* each : all) {
    const FreeLeast alone = with(setup, {each}, valve, kind);
    running.taken[each->name] = alone.found ? std::fmax(0.0, judged - alone.value) : 0;
  }
  const FreeLeast together = with(setup, all, valve, kind);
  running.value = std::fmin(judged, together.found ? together.value : NAN);  // the other one where one is NaN
  running.crank = together.found ? together.crank : bench.crank;
  running.lift = together.found ? together.lift : bench.lift;
  return running;
}

}  // namespace eyebrow::study
