#include "study/positions.hpp"

#include <algorithm>
#include <cmath>

#include "study/free_least.hpp"
#include "study/piston_gap.hpp"
#include "study/place.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

template <typename Items>
auto named(Items& items, const std::string& name) {
  return std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.name == name; });
}

const std::string& cam_name(const Engine& engine, int valve) {
  return named(engine.lobes, engine.valves[static_cast<std::size_t>(valve)].lobe)->cam;
}

}  // namespace

const Cam& cam_of(const Engine& engine, int valve) {
  return *named(engine.cams, cam_name(engine, valve));
}

bool has_stops(const Engine& engine, int valve) {
  return cam_of(engine, valve).stops.has_value();
}

Freedom between_stops(const Engine& engine) {
  Freedom freedom;
  freedom.valves.resize(engine.valves.size());
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    const Cam& cam = cam_of(engine, static_cast<int>(i));
    if (!cam.stops) continue;
    freedom.valves[i].early = std::max(0.0, cam.stops->earliest - cam.advance);
    freedom.valves[i].late = std::max(0.0, cam.advance - cam.stops->latest);
  }
  return freedom;
}

Freedom judged_lifts(const Engine& engine) {
  Freedom freedom = between_stops(engine);
  for (Freedom::OfValve& each : freedom.valves) each.card = true;
  return freedom;
}

double advance_at(const Setup& setup, int valve, double crank, double lift) {
  const Cam& cam = cam_of(setup.engine, valve);
  if (!cam.stops) return cam.advance;
  // An advance lets a crank angle see what came so much later before.
  const auto off = [&](double advance) {
    return std::fabs(setup.motion.lift(valve, crank + advance - cam.advance) - lift);
  };
  const auto [latest, earliest] = *cam.stops;
  const int count = std::max(1, static_cast<int>(std::ceil((earliest - latest) / kAdvanceStep)));
  double best = std::clamp(cam.advance, latest, earliest), least = off(best);
  const auto offer = [&](double advance) {
    if (advance < latest || advance > earliest) return;
    const double there = off(advance);
    const bool nearer = there <= least + kTie && std::fabs(advance - cam.advance) < std::fabs(best - cam.advance);
    if (there >= least - kTie && !nearer) return;
    least = std::min(there, least);
    best = advance;
  };
  for (int i = 0; i <= count; ++i) offer(latest + (earliest - latest) * i / count);
  for (double step = (earliest - latest) / count; step > kAdvanceFound; step /= 2)
    for (const double advance : {best - step, best + step}) offer(advance);
  return best;
}

Engine advanced(const Engine& engine, int valve, double advance) {
  Engine other = engine;
  named(other.cams, cam_name(engine, valve))->advance = advance;
  return other;
}

Engine cam_moved(const Engine& engine, const std::string& cam, double by) {
  Engine other = engine;
  Cam& moved = *named(other.cams, cam);
  moved.advance += by;
  if (moved.stops) moved.stops = Stops{moved.stops->latest + by, moved.stops->earliest + by};
  return other;
}

Minimum least_between_stops(const Setup& setup, int valve, GapKind kind) {
  Setup free = setup;
  free.motion = setup.motion.with(between_stops(setup.engine));
  const FreeLeast worst = free_least(free, valve, kind);
  const double advance =
      worst.found ? advance_at(setup, valve, worst.crank, worst.lift) : cam_of(setup.engine, valve).advance;
  // There it is a least gap like any other.
  const Engine there = advanced(setup.engine, valve, advance);
  const Setup at(setup, there);
  Least least = least_over_cycle(PistonGap(at, valve, kind).over_cycle());
  if (worst.found) least.proven = std::min(least.proven, worst.proven);
  Minimum minimum = piston_minimum(at, valve, kind, least);
  minimum.advance = advance;
  return minimum;
}

}  // namespace eyebrow::study
