#include "study/refine.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

namespace eyebrow::study {
namespace {

/// The best angle so far by `low`.
struct Best {
  double low = INFINITY, crank = 0;

  void take(double value, double at) {
    const bool lower = value < low - kTie, nearer = value <= low + kTie && std::fabs(at) < std::fabs(crank);
    if (std::isfinite(value) && (lower || nearer || low == INFINITY)) {
      low = value;
      crank = at;
    }
  }
};

struct Bounded {
  Stretch stretch;
  double bound;
  double middle() const { return 0.5 * (stretch.from + stretch.to); }
  /// Equal bounds differ by rounding only; then the one nearest overlap TDC goes first.
  bool after(const Bounded& other) const {
    const double a = std::floor(bound / kTie), b = std::floor(other.bound / kTie);
    if (a != b) return a > b;
    const double here = std::fabs(middle()), there = std::fabs(other.middle());
    return here != there ? here > there : middle() > other.middle();
  }
};

class Search {
 public:
  /// Looks no further than whether the gap falls below `target`.
  explicit Search(const CycleGap& gap, double target = INFINITY)
      : gap_(gap), target_(target), queue_([](const Bounded& a, const Bounded& b) { return a.after(b); }) {
    const int count = std::max(1, static_cast<int>(std::ceil((gap.to - gap.from) / kWidestStretch - 1e-9)));
    double from = gap.from, at_from = gap.at_ends ? low(from) : NAN;
    for (int i = 1; i <= count; ++i) {
      gap.poll();
      const double to = i == count ? gap.to : gap.from + (gap.to - gap.from) * i / count;
      const double at_to = gap.at_ends ? low(to) : NAN;
      push({from, to, at_from, at_to});
      from = to;
      at_from = at_to;
    }
  }

  /// What `low` does not fall below.
  double run() {
    for (int halved = 0; !queue_.empty(); ++halved) {
      gap_.poll();
      const Bounded top = queue_.top();
      if (top.bound >= enough() || is_below_target()) return top.bound;
      const auto& [from, to, at_from, at_to] = top.stretch;
      const double middle = top.middle(), at_middle = low(middle);
      if (to - from <= kFinestAngle || halved >= kMostHalvings) {
        // Nothing else can lie lower, so what is told lies here.
        if (to - from <= kFinestAngle && top.bound < enough()) best = {top.bound, middle};
        return top.bound;
      }
      queue_.pop();
      push({from, middle, at_from, at_middle});
      push({middle, to, at_middle, at_to});
    }
    return best.low;
  }

  Best best;

 private:
  double low(double crank) {
    const double value = gap_.low(crank);
    best.take(value, crank);
    return value;
  }

  /// What is bounded by this need not be looked into.
  double enough() const {
    return std::min(target_, best.low - std::max(gap_.tolerance, -gap_.overlap_share * best.low));
  }

  bool is_below_target() const { return target_ < INFINITY && best.low < target_ - kPoseBall; }

  void push(const Stretch& stretch) {
    const double bound = gap_.bound(stretch, enough());
    if (bound < INFINITY) queue_.push({stretch, bound});
  }

  const CycleGap& gap_;
  double target_;
  std::priority_queue<Bounded, std::vector<Bounded>, bool (*)(const Bounded&, const Bounded&)> queue_;
};

/// No gap counts as above every gap.
double plain(const CycleGap& gap, double crank) {
  const double value = gap.value(crank);
  return std::isnan(value) ? INFINITY : value;
}

bool jumps(double a, double b, double size = kWideInterval) {
  return a != b && !(std::fabs(a - b) <= size);
}

/// Moves to where the gap is least, the bounds having told where about that is.
void narrow(const CycleGap& gap, Least& least) {
  least.value = plain(gap, least.crank);
  for (double step = kNarrowFrom; step >= kNarrowTo; step /= 2)
    for (const double at : {least.crank - step, least.crank + step}) {
      if (at < gap.from || at > gap.to) continue;
      const double value = plain(gap, at);
      if (value >= least.value - kTie) continue;
      least.value = value;
      least.crank = at;
    }
}

/// Bisects to a jump between two angles, if there is one, and takes it unless its lower side is above the least known.
void close_in(const CycleGap& gap, double a, double b, double size, Least& least) {
  double at_a = plain(gap, a), at_b = plain(gap, b);
  while (b - a > kJumpAngle) {
    if (!jumps(at_a, at_b, size)) return;
    const double middle = 0.5 * (a + b), at = plain(gap, middle);
    // Keep the side with the greater step.
    const bool first =
        std::isinf(at) ? !std::isinf(at_a) : std::isinf(at_a) || std::fabs(at - at_a) > std::fabs(at_b - at);
    (first ? b : a) = middle;
    (first ? at_b : at_a) = at;
  }
  if (!jumps(at_a, at_b, size) || std::min(at_a, at_b) > least.value + kTie) return;
  least.before = at_a;
  least.after = at_b;
  least.crank = at_a < at_b ? a : b;
  least.value = std::min(at_a, at_b);
}

/// A jump at or near the least, whose lower value is about `low`: found to rounding, with the values on both its sides.
/// The path may run along it, within half a micrometre, before it crosses; where it never does, the values on either
/// side are both the higher one.
void locate_jump(const CycleGap& gap, Least& least, double low) {
  const double apart = 0.5 * (least.value - low);
  const double size = apart < INFINITY ? std::max(kWideInterval, apart) : kWideInterval;
  const double at = least.crank;
  for (double way = kBesideAngle; way <= kJumpReach; way *= 2) {
    close_in(gap, std::max(gap.from, at - way), at, size, least);
    close_in(gap, at, std::min(gap.to, at + way), size, least);
    // A least on the lower side itself is near its jump.
    if (apart <= kWideInterval) return;
  }
  if (!std::isnan(least.before)) return;
  least.before = plain(gap, std::max(gap.from, at - kBesideAngle));
  least.after = plain(gap, std::min(gap.to, at + kBesideAngle));
}

/// Where the gap leaves the band, walking from an angle within it.
double span_end(const CycleGap& gap, double start, double end, double limit) {
  const double way = end < start ? -1 : 1;
  double inside = start, outside = end;
  for (double step = kSpanAngle;; step = std::min(2 * step, kSpanStep)) {
    const double next = way * (end - inside) <= step ? end : inside + way * step;
    if (!(gap.value(next) <= limit)) {  // NaN compares false: outside
      outside = next;
      break;
    }
    inside = next;
    if (next == end) return end;
  }
  while (std::fabs(outside - inside) > kSpanAngle) {
    const double middle = 0.5 * (inside + outside);
    (gap.value(middle) <= limit ? inside : outside) = middle;
  }
  return inside;
}

double nan_for_none(double value) {
  return std::isinf(value) ? NAN : value;
}

}  // namespace

std::vector<double> cycle_grid(double step) {
  const double half = 2 * kPi;
  const int count = static_cast<int>(std::floor(half / step + 1e-9));
  std::vector<double> grid;
  grid.reserve(2 * static_cast<std::size_t>(count) + 3);
  const bool ends_fit = half - count * step < 1e-9 * half;
  if (!ends_fit) grid.push_back(-half);
  for (int i = -count; i <= count; ++i) grid.push_back(i * step);
  if (!ends_fit) grid.push_back(half);
  return grid;
}

Least least_sampled(const std::function<double(double)>& value, double step) {
  Best best;
  for (const double crank : cycle_grid(step)) best.take(value(crank), crank);
  Least least;
  if (best.low == INFINITY) return least;
  least.found = true;
  least.crank = best.crank;
  CycleGap gap;
  gap.value = value;
  narrow(gap, least);
  return least;
}

double distance_bound(double a, double b, const Route& route) {
  // From both ends by Lipschitz alone; the straight way keeps this far off.
  const double apart = 0.5 * (a + b - route.chord);
  if (!(apart > 0)) return apart - route.sag;
  // Least over t in 0 ... 1 of a + (b - a) t - bend t (1 - t).
  const double bend = route.chord * route.chord / (2 * apart), rise = std::fabs(b - a), least = std::min(a, b);
  const double under = rise < bend ? least - (bend - rise) * (bend - rise) / (4 * bend) : least;
  return std::max(apart, under) - route.sag;
}

Least least_over_cycle(const CycleGap& gap) {
  Search search(gap);
  Least least;
  least.proven = search.run();
  if (search.best.low == INFINITY) return least;
  least.found = true;
  least.crank = search.best.crank;
  least.value = plain(gap, least.crank);
  if (!jumps(least.value, search.best.low)) narrow(gap, least);
  const double beside[] = {plain(gap, std::max(gap.from, least.crank - kBesideAngle)),
                           plain(gap, std::min(gap.to, least.crank + kBesideAngle))};
  if (jumps(least.value, search.best.low) || jumps(least.value, beside[0]) || jumps(least.value, beside[1]))
    locate_jump(gap, least, search.best.low);
  if (gap.span) {
    least.span_from = span_end(gap, least.crank, gap.from, least.value + kSpanBand);
    least.span_to = span_end(gap, least.crank, gap.to, least.value + kSpanBand);
  }
  least.value = nan_for_none(least.value);
  least.before = nan_for_none(least.before);
  least.after = nan_for_none(least.after);
  return least;
}

bool keeps_above(const CycleGap& gap, double value) {
  Search search(gap, value);
  search.run();
  if (search.best.low >= value) return true;
  if (gap.value(search.best.crank) < value) return false;
  // Within the half micrometre that `low` looks around: the least itself tells.
  const Least least = least_over_cycle(gap);
  return !least.found || !(least.value < value);
}

}  // namespace eyebrow::study
