#include "study/pairs.hpp"

#include <algorithm>

#include "study/path.hpp"
#include "study/place.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// The mesh answers where the valves overlap, and where the first one's dish is nearest: its error is twice this.
constexpr double kValveDeflection = 0.0004;

Vec3 into(const Frame& frame, Vec3 way) {
  return {dot(way, frame.x), dot(way, frame.y), dot(way, frame.z)};
}
Vec3 out_of(const Frame& frame, Vec3 way) {
  return way.x * frame.x + way.y * frame.y + way.z * frame.z;
}

}  // namespace

ValvePair::ValvePair(const Setup& setup, int first, int second, const Profile& outline,
                     std::shared_ptr<const Target> surface)
    : setup_(setup),
      first_(first),
      second_(second),
      surface_(std::move(surface)),
      frame_(frame_about({}, setup.valves[second].place.up)),
      query_(surface_, outline, into(frame_, setup.valves[first].place.up)),
      closed_(gap(0, 0, true)) {}

ValvePair ValvePair::drawn_out(double first_up, double second_up) const {
  const std::vector<Profile>& profiles = setup_.parts.profiles;
  return {setup_, first_, second_, swept_outline(profiles[first_], 0, first_up),
          make_target(valve_surface(swept_outline(profiles[second_], 0, second_up), kValveDeflection))};
}

Gap ValvePair::gap(double first_lift, double second_lift, bool bounds) const {
  const Vec3 origin = setup_.rim_centre(second_, second_lift);
  const Vec3 centre = into(frame_, setup_.rim_centre(first_, first_lift) - origin);
  Gap found = query_.closest(centre, bounds);
  found.high += setup_.parts.profiles[second_].back_error;
  found.on_valve = origin + out_of(frame_, found.on_valve);
  found.on_other = origin + out_of(frame_, found.on_other);
  return found;
}

std::vector<std::shared_ptr<const Target>> pair_surfaces(const Parts& parts) {
  std::vector<std::shared_ptr<const Target>> surfaces(1);  // the first valve is no pair's second
  for (std::size_t second = 1; second < parts.profiles.size(); ++second)
    surfaces.push_back(make_target(valve_surface(parts.profiles[second], kValveDeflection)));
  return surfaces;
}

std::vector<ValvePair> valve_pairs(const Setup& setup) {
  return valve_pairs(setup, pair_surfaces(setup.parts));
}

std::vector<ValvePair> valve_pairs(const Setup& setup, const std::vector<std::shared_ptr<const Target>>& surfaces) {
  std::vector<ValvePair> pairs;
  const int count = static_cast<int>(setup.valves.size());
  for (int first = 0; first < count; ++first)
    for (int second = first + 1; second < count; ++second)
      pairs.emplace_back(setup, first, second, setup.parts.profiles[first], surfaces[static_cast<std::size_t>(second)]);
  return pairs;
}

namespace {

/// Two valves at the greatest lifts that a motion allows, as a gap over the cycle.
class GreatestLifts {
 public:
  GreatestLifts(const Setup& setup, const Motion& motion, const ValvePair& pair) : moved_(setup), pair_(pair) {
    moved_.motion = motion;
  }
  CycleGap over_cycle() const {
    return {[this](double crank) { return at(crank).value; },
            [this](double crank) { return at(crank).low; },
            [this](const Stretch& stretch, double) {
              return distance_bound(stretch.at_from, stretch.at_to,
                                    pair_route(moved_, pair_.first(), pair_.second(), stretch.from, stretch.to));
            },
            true,
            kCoarseTolerance,
            -2 * kPi,
            2 * kPi,
            kOverlapShare};
  }

 private:
  Gap at(double crank) const {
    const double a = moved_.motion.lifts(pair_.first(), crank).greatest;
    const double b = moved_.motion.lifts(pair_.second(), crank).greatest;
    return a == 0 && b == 0 ? pair_.closed() : pair_.gap(a, b, true);
  }
  Setup moved_;
  const ValvePair& pair_;
};

Least least_of(const Setup& setup, const Motion& motion, const ValvePair& pair) {
  const GreatestLifts gap(setup, motion, pair);
  return least_over_cycle(gap.over_cycle());
}

/// No crank angle leaves more than this open of a lift.
double most_open(const Motion& motion, int valve) {
  double most = 0, over = 0;
  LiftRange before = motion.lifts(valve, -2 * kPi);
  for (double from = -2 * kPi; from < 2 * kPi; from += kPeakGrid) {
    const double to = from + kPeakGrid;
    const LiftRange after = motion.lifts(valve, to);
    const double bend = motion.lift_bend_bound(valve, from, to) * kPeakGrid * kPeakGrid / 8;
    most = std::max({most, before.greatest - before.least, after.greatest - after.least});
    over = std::max(over, std::max(before.greatest, after.greatest) + bend - std::min(before.least, after.least) +
                              lift_sag(motion, valve, from, to, kPeakGrid));
    before = after;
  }
  return most > 0 ? over : 0;
}

}  // namespace

Least pair_least(const Setup& setup, const Motion& motion, const ValvePair& pair) {
  Least least = least_of(setup, motion, pair);
  const double first = most_open(motion, pair.first()), second = most_open(motion, pair.second());
  if (first > 0 || second > 0)
    least.proven = std::min(least.proven, least_of(setup, motion, pair.drawn_out(first, second)).proven);
  return least;
}

bool pair_keeps_above(const Setup& setup, const Motion& motion, const ValvePair& pair, double value) {
  const GreatestLifts gap(setup, motion, pair);
  return keeps_above(gap.over_cycle(), value);
}

PairResult pair_result(const Setup& as_set, const ValvePair& pair) {
  const int first = pair.first(), second = pair.second();
  Setup setup = as_set;
  setup.motion = as_set.motion.with(between_stops(as_set.engine));
  const Motion& motion = setup.motion;
  const Least least = pair_least(setup, motion, pair);

  Minimum minimum = minimum_at(setup, least);
  minimum.lift = motion.lifts(first, least.crank).greatest;
  minimum.lift2 = motion.lifts(second, least.crank).greatest;
  if (has_stops(setup.engine, first)) minimum.advance = advance_at(as_set, first, least.crank, minimum.lift);
  if (has_stops(setup.engine, second)) minimum.advance2 = advance_at(as_set, second, least.crank, minimum.lift2);
  minimum.gap = minimum.lift == 0 && minimum.lift2 == 0 ? pair.closed() : pair.gap(minimum.lift, minimum.lift2, true);
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
