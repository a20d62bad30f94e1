#include "study/other_lash.hpp"

#include "study/free_least.hpp"
#include "study/positions.hpp"

namespace eyebrow::study {

double travel_at_other_lash(const Setup& setup, int valve) {
  if (!(setup.engine.valves[static_cast<std::size_t>(valve)].lash > 0)) return NAN;
  Engine other = setup.engine;
  other.running_lash = !setup.engine.running_lash;
  Freedom freedom = between_stops(other);
  for (Freedom::OfValve& each : freedom.valves) each.card = true;
  Setup free(setup, other);
  free.motion = free.motion.with(freedom);
  return free_least(free, valve, GapKind::travel).value;
}

}  // namespace eyebrow::study
