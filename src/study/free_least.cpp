#include "study/free_least.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

#include "study/path.hpp"
#include "study/piston_gap.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// One valve's gap of one kind over its lifts.
class Lifts {
 public:
  Lifts(const Setup& setup, int valve, GapKind kind, double sideways)
      : setup_(setup),
        of_(setup.valves[static_cast<std::size_t>(valve)]),
        valve_(valve),
        kind_(kind),
        sideways_(sideways),
        request_(request_for(kind, of_.asked.reach, false)),
        heights_(setup, valve, kind) {}

  /// Least over the lifts at a crank angle and over displacements within `ball`; infinite = none.
  double low(double crank, double ball) const {
    const LiftRange lifts = setup_.motion.lifts(valve_, crank);
    const double up = kind_ == GapKind::travel ? 0 : lifts.greatest - lifts.least;
    return low_or_none(of_.to_piston.least_within({setup_.motion.height(crank), lifts.greatest}, request_, ball,
                                                  sideways_, up)[kind_]);
  }

  double bound(double from, double to, double enough) const {
    const PistonStretch moved = piston_stretch(setup_, valve_, from, to);
    const double free = heights_.from_heights(moved.approach) - sideways_;
    if (free >= enough || free == INFINITY) return free;
    if (moved.sideways > kWidestQuery || moved.up - moved.freedom > kWidestQuery) return free;
    const PoseGaps gaps = of_.to_piston.least_within(moved.middle, request_, kPoseBall + kPlaceRounding,
                                                     moved.sideways + sideways_, moved.up);
    return std::max(free, low_or_none(gaps[kind_]));
  }

  /// At one lift.
  double at(double crank, double lift) const {
    return low_or_none(of_.to_piston.least_within({setup_.motion.height(crank), lift}, request_, 0, sideways_)[kind_]);
  }

  /// The lift at which the gap is least at a crank angle.
  double least_lift(double crank) const {
    const LiftRange lifts = setup_.motion.lifts(valve_, crank);
    double best = lifts.greatest, value = at(crank, best);
    if (kind_ == GapKind::travel || lifts.greatest == lifts.least) return best;
    double step = (lifts.greatest - lifts.least) / kLiftSamples;
    const auto offer = [&](double lift) {
      if (lift < lifts.least || lift > lifts.greatest) return;
      const double there = at(crank, lift);
      if (there >= value - kTie) return;
      value = there;
      best = lift;
    };
    for (int i = 1; i <= kLiftSamples; ++i) offer(lifts.greatest - i * step);
    for (step /= 2; step > kLiftFound; step /= 2)
      for (const double lift : {best - step, best + step}) offer(lift);
    return best;
  }

 private:
  const Setup& setup_;
  const ValveSetup& of_;
  int valve_;
  GapKind kind_;
  double sideways_;
  GapRequest request_;
  PistonGap heights_;
};

CycleGap over_cycle(const Setup& setup, const Lifts& lifts) {
  CycleGap gap{[&](double crank) { return lifts.low(crank, 0); },
               [&](double crank) { return lifts.low(crank, kPoseBall); },
               [&](const Stretch& stretch, double enough) { return lifts.bound(stretch.from, stretch.to, enough); }};
  gap.span = false;
  gap.poll = setup.poll;
  return gap;
}

FreeLeast least_of_swept(const Setup& setup, int valve, GapKind kind, double sideways) {
  const Lifts lifts(setup, valve, kind, sideways);
  const Least least = least_over_cycle(over_cycle(setup, lifts));
  if (!least.found) return {};
  return {true, least.value, least.proven, least.crank, lifts.least_lift(least.crank)};
}

/// Crank angles from ... to, and lifts from `under_from` to `under_to` below the greatest.
struct Cell {
  double from, to, under_from, under_to;
  double bound;
  double middle() const { return 0.5 * (from + to); }
};

class ClosestSearch {
 public:
  ClosestSearch(const Setup& setup, int valve, double sideways)
      : setup_(setup),
        of_(setup.valves[static_cast<std::size_t>(valve)]),
        valve_(valve),
        sideways_(sideways),
        request_(request_for(GapKind::closest, of_.asked.reach, false)),
        heights_(setup, valve, GapKind::closest) {}

  /// Looks no further than whether the gap falls below `target`.
  FreeLeast run(double target = INFINITY) {
    const int count = static_cast<int>(std::ceil(4 * kPi / kWidestStretch - 1e-9));
    for (int i = 0; i < count; ++i) {
      setup_.poll();
      push({-2 * kPi + 4 * kPi * i / count, -2 * kPi + 4 * kPi * (i + 1) / count, 0, INFINITY, 0});
    }
    double proven = INFINITY;
    for (int halved = 0; !queue_.empty(); ++halved) {
      setup_.poll();
      const Cell top = queue_.top();
      proven = top.bound;
      if (top.bound >= best_.value - kPoseBall - kValueTolerance || halved >= kMostHalvings) break;
      if (target < INFINITY && (top.bound >= target || best_.value < target)) break;
      queue_.pop();
      halve(top);
      proven = best_.value - kPoseBall;
    }
    if (!best_.found) return {};
    best_.proven = std::min(proven, best_.value - kPoseBall);
    return best_;
  }

 private:
  Pose pose(double crank, double under) const {
    // Below zero it is no lift that occurs, but a corner of what encloses those that do.
    return {setup_.motion.height(crank), setup_.motion.lifts(valve_, crank).greatest - under};
  }
  double value(const Pose& at) const {
    const Gap gap = of_.to_piston.gaps(at, request_).closest;
    return gap.measured() ? gap.value - sideways_ : INFINITY;
  }
  void offer(double crank, double under) {
    const LiftRange lifts = setup_.motion.lifts(valve_, crank);
    const double lift = lifts.greatest - under;
    if (lift < lifts.least - kPlaceRounding) return;
    const double found = value({setup_.motion.height(crank), lift});
    const bool lower = found < best_.value - kTie || !best_.found;
    const bool nearer = found <= best_.value + kTie && std::fabs(crank) < std::fabs(best_.crank);
    if (!std::isfinite(found) || !(lower || nearer)) return;
    best_ = {true, found, NAN, crank, lift};
  }

  /// A parallelogram of displacements, but for what the curves are off the straight lines between its corners.
  void push(Cell cell) {
    const Motion& motion = setup_.motion;
    const double width = cell.to - cell.from;
    const PistonStretch moved = piston_stretch(setup_, valve_, cell.from, cell.to);
    const double free = heights_.from_heights(moved.approach) - sideways_;
    if (free == INFINITY) return;
    const double lift_off = lift_sag(motion, valve_, cell.from, cell.to, width);
    cell.under_to = std::min(cell.under_to, moved.freedom + 2 * lift_off / 64 + kPlaceRounding);
    if (cell.under_from > cell.under_to) return;
    cell.bound = free;
    if (free < best_.value || !best_.found) {
      const double sag = lift_off + motion.height_bend_bound() * width * width / 8;
      const Vec3 along = of_.place.up;
      Vec3 places[4];
      double least = INFINITY;
      for (int i = 0; i < 4; ++i) {
        const Pose at = pose(i < 2 ? cell.from : cell.to, i % 2 == 0 ? cell.under_from : cell.under_to);
        places[i] = -at.lift * along - Vec3{0, 0, at.height};
        least = std::min(least, value(at));
      }
      double across = 0;
      for (const Vec3& a : places)
        for (const Vec3& b : places) across = std::max(across, norm(a - b));
      double below = across / 2;  // Lipschitz, from the nearest corner
      const double apart = least + sideways_ - across / 2 - sag;
      if (apart > 0) below = std::min(below, across * across / (8 * apart));
      cell.bound = std::max(free, least - below - sag - kPoseBall);
    }
    queue_.push(cell);
  }

  void halve(const Cell& cell) {
    offer(cell.middle(), cell.under_from);
    offer(cell.middle(), 0.5 * (cell.under_from + cell.under_to));
    // The longer side, as the parts move.
    const Pose a = pose(cell.from, 0), b = pose(cell.to, 0);
    const double along = std::hypot(a.lift - b.lift, a.height - b.height);
    const double under = cell.under_to - cell.under_from;
    if (under > along && under > kPlaceRounding) {
      const double middle = 0.5 * (cell.under_from + cell.under_to);
      push({cell.from, cell.to, cell.under_from, middle, 0});
      push({cell.from, cell.to, middle, cell.under_to, 0});
    } else {
      push({cell.from, cell.middle(), cell.under_from, cell.under_to, 0});
      push({cell.middle(), cell.to, cell.under_from, cell.under_to, 0});
    }
  }

  struct After {
    bool operator()(const Cell& a, const Cell& b) const {
      const double first = std::floor(a.bound / kTie), second = std::floor(b.bound / kTie);
      if (first != second) return first > second;
      const double here = std::fabs(a.middle()), there = std::fabs(b.middle());
      if (here != there) return here > there;
      return a.middle() != b.middle() ? a.middle() > b.middle() : a.under_from > b.under_from;
    }
  };

  const Setup& setup_;
  const ValveSetup& of_;
  int valve_;
  double sideways_;
  GapRequest request_;
  PistonGap heights_;
  std::priority_queue<Cell, std::vector<Cell>, After> queue_;
  FreeLeast best_;
};

}  // namespace

FreeLeast free_least(const Setup& setup, int valve, GapKind kind, double sideways) {
  if (kind == GapKind::closest) return ClosestSearch(setup, valve, sideways).run();
  return least_of_swept(setup, valve, kind, sideways);
}

bool free_keeps_above(const Setup& setup, int valve, GapKind kind, double value, double sideways) {
  if (kind != GapKind::closest) {
    const Lifts lifts(setup, valve, kind, sideways);
    return keeps_above(over_cycle(setup, lifts), value);
  }
  const FreeLeast found = ClosestSearch(setup, valve, sideways).run(value);
  return !found.found || !(found.value < value);
}

}  // namespace eyebrow::study
