#include "study/other_lash.hpp"

#include "study/free_least.hpp"
#include "study/positions.hpp"

namespace eyebrow::study {

double travel_at_other_lash(const Setup& setup, int valve) {
  if (!(setup.engine.valves[static_cast<std::size_t>(valve)].lash > 0)) return NAN;
  Engine other = setup.engine;
  other.running_lash = !setup.engine.running_lash;
  Setup free(setup, other);
  free.motion = free.motion.with(judged_lifts(other));
  return free_least(free, valve, GapKind::travel).value;
}

}  // namespace eyebrow::study
