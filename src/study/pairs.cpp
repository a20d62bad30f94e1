#include "study/pairs.hpp"

#include "study/place.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// The mesh answers where the valves overlap, and where the first one's dish is nearest: its error is twice this.
constexpr double kDeflection = 0.0004;

Vec3 into(const Frame& frame, Vec3 way) {
  return {dot(way, frame.x), dot(way, frame.y), dot(way, frame.z)};
}
Vec3 out_of(const Frame& frame, Vec3 way) {
  return way.x * frame.x + way.y * frame.y + way.z * frame.z;
}

}  // namespace

ValvePair::ValvePair(const Setup& setup, int first, int second, std::shared_ptr<const Target> surface)
    : setup_(setup),
      first_(first),
      second_(second),
      surface_(std::move(surface)),
      frame_(frame_about({}, setup.valves[second].place.up)),
      query_(surface_, setup.parts.profiles[first], into(frame_, setup.valves[first].place.up)),
      closed_(gap(0, 0, true)) {}

Gap ValvePair::gap(double first_lift, double second_lift, bool bounds) const {
  const Vec3 origin = setup_.rim_centre(second_, second_lift);
  const Vec3 centre = into(frame_, setup_.rim_centre(first_, first_lift) - origin);
  Gap found = query_.closest(centre, bounds);
  found.on_valve = origin + out_of(frame_, found.on_valve);
  found.on_other = origin + out_of(frame_, found.on_other);
  return found;
}

std::vector<ValvePair> valve_pairs(const Setup& setup) {
  std::vector<ValvePair> pairs;
  const int count = static_cast<int>(setup.valves.size());
  std::vector<std::shared_ptr<const Target>> surfaces(1);  // the first valve is no pair's second
  for (int second = 1; second < count; ++second)
    surfaces.push_back(make_target(valve_surface(setup.parts.profiles[second], kDeflection)));
  for (int first = 0; first < count; ++first)
    for (int second = first + 1; second < count; ++second)
      pairs.emplace_back(setup, first, second, surfaces[static_cast<std::size_t>(second)]);
  return pairs;
}

PairResult pair_result(const Setup& as_set, const ValvePair& pair) {
  const int first = pair.first(), second = pair.second();
  // Valves that lean apart come nearer to each other as they open, those side by side do not: over the positions of
  // their cams two valves are nearest at the greatest lifts that both may have.
  Setup setup = as_set;
  setup.motion = as_set.motion.with(between_stops(as_set.engine));
  const Motion& motion = setup.motion;
  const auto at = [&](double crank) {
    const double a = motion.lifts(first, crank).greatest, b = motion.lifts(second, crank).greatest;
    return a == 0 && b == 0 ? pair.closed() : pair.gap(a, b, true);
  };
  const Least least =
      least_over_cycle({[&](double crank) { return at(crank).value; }, [&](double crank) { return at(crank).low; },
                        [&](const Stretch& stretch, double) {
                          return distance_bound(stretch.at_from, stretch.at_to,
                                                pair_route(setup, first, second, stretch.from, stretch.to));
                        },
                        true, kCoarseTolerance, -2 * kPi, 2 * kPi, kOverlapShare});

  Minimum minimum = minimum_at(setup, least);
  minimum.lift = motion.lifts(first, least.crank).greatest;
  minimum.lift2 = motion.lifts(second, least.crank).greatest;
  if (has_stops(setup.engine, first)) minimum.advance = advance_at(as_set, first, least.crank, minimum.lift);
  if (has_stops(setup.engine, second)) minimum.advance2 = advance_at(as_set, second, least.crank, minimum.lift2);
  minimum.gap = at(least.crank);
  set_proven(minimum, least);
  describe(minimum, GapKind::closest,
           {{},
            setup.parts.profiles[first],
            pair.surface(),
            setup.rim_centre(first, minimum.lift),
            setup.valves[first].place.up});
  return {setup.engine.valves[first].name, setup.engine.valves[second].name, minimum};
}

}  // namespace eyebrow::study
