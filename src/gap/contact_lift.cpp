#include <algorithm>
#include <cmath>

#include "eyebrow/field.hpp"

#include "slide.hpp"
#include "tolerances.hpp"

// Travel at a pose is U(aside) - along: the valve's way down its axis to the piston does not depend on where on that
// axis it is. U is kept over stretches of `aside`.
namespace eyebrow {
namespace {

using gap::kFinestStretch;
using gap::kLocated;
using gap::kStretchJump;
using gap::SlideFrame;

}  // namespace

struct ContactLift::Inner {
  struct Stretch {
    double from, to;        ///< aside
    double at_from, at_to;  ///< U there, as seen from within
    double low;             ///< of U, over the stretch and half a micrometre beside it
    FieldStatus status;
  };
  SlideFrame frame;
  ValveToPiston query;
  double tolerance;
  double first = 0, last = 0;  ///< aside
  double nearest = INFINITY;   ///< the least of `along`
  std::vector<Stretch> stretches;
  std::vector<Jump> jumps;

  Inner(const ValveToPiston& of, const std::vector<SlideBox>& region, double to)
      : frame(of.place()), query(of), tolerance(to) {
    if (region.empty()) return;
    first = region.front().aside_low;
    last = region.front().aside_high;
    for (const SlideBox& part : region) {
      first = std::min(first, part.aside_low);
      last = std::max(last, part.aside_high);
      nearest = std::min(nearest, part.along_low);
    }
    split(first, last, at(first), at(last));
  }

  /// From the seat; of an upright valve, whose places are all on one line, from the furthest off.
  Pose seat(double aside) const {
    Pose pose = frame.pose({0, aside});
    pose.lift = frame.upright() ? std::min(0.0, nearest) : 0;
    return pose;
  }
  double at(double aside) const {
    const Pose pose = seat(aside);
    const Gap gap = query.gaps(pose, {true, false, false, false, false, 0}).travel;
    return gap.measured() ? gap.value + frame.slide(pose).along : INFINITY;
  }
  double low_between(double a, double b) const {
    const Pose pose = seat(0.5 * (a + b));
    const Gap gap =
        query.least_within(pose, {true, false, false, false, false, 0}, gap::kPoseBall, 0.5 * (b - a), 0).travel;
    return gap.measured() ? gap.low + frame.slide(pose).along : INFINITY;
  }
  /// The stretch that a place is in.
  std::size_t holds(double aside) const {
    const auto next = std::upper_bound(stretches.begin() + 1, stretches.end(), aside,
                                       [](double at, const Stretch& stretch) { return at < stretch.from; });
    return static_cast<std::size_t>(next - stretches.begin()) - 1;
  }
  template <class Use>
  void over(const gap::PlaneBox& box, const Use& use) const {
    if (stretches.empty()) return;
    for (std::size_t i = holds(box.y[0]); i < stretches.size() && stretches[i].from <= box.y[1]; ++i) use(stretches[i]);
  }

  void split(double a, double b, double at_a, double at_b) {
    const double middle = 0.5 * (a + b), at_middle = at(middle);
    const double lowest = std::min({at_a, at_b, at_middle}), highest = std::max({at_a, at_b, at_middle});
    const bool same = std::isinf(lowest) || std::isfinite(highest);
    const double off = std::isinf(highest) ? 0 : std::fabs(at_middle - 0.5 * (at_a + at_b));
    if (same && off <= tolerance) {
      const double low = low_between(a, b);
      const bool none = std::isinf(lowest);
      if (none ? std::isinf(low) : low >= lowest - kStretchJump)
        return stretches.push_back({a, b, at_a, at_b, low, none ? FieldStatus::none : FieldStatus::smooth});
    }
    if (b - a > kFinestStretch) {
      split(a, middle, at_a, at_middle);
      return split(middle, b, at_middle, at_b);
    }
    close_in(a, b, at_a, at_b);
  }

  /// A stretch as fine as they become: its jump is located.
  void close_in(double a, double b, double at_a, double at_b) {
    const double low = low_between(a, b);
    double from = a, to = b, left = at_a, right = at_b;
    while (to - from > kLocated) {
      const double middle = 0.5 * (from + to), here = at(middle);
      const bool first_half =
          std::isinf(here) ? !std::isinf(left) : std::isinf(left) || std::fabs(here - left) > std::fabs(right - here);
      (first_half ? to : from) = middle;
      (first_half ? right : left) = here;
    }
    const bool jumps_here = left != right && !(std::fabs(left - right) <= tolerance);
    if (!jumps_here) return stretches.push_back({a, b, at_a, at_b, low, FieldStatus::jump});
    stretches.push_back({a, from, at_a, left, low, FieldStatus::jump});
    stretches.push_back({from, b, right, at_b, low, FieldStatus::jump});
    const double height = frame.pose({0, from}).height;
    jumps.push_back({height, left - frame.cosine() * height, right - frame.cosine() * height});
  }
};

ContactLift::ContactLift(const ValveToPiston& query, const std::vector<SlideBox>& region, double tolerance)
    : inner_(std::make_shared<const Inner>(query, region, tolerance)) {}

FieldGap ContactLift::travel(const Pose& pose) const {
  const Inner& in = *inner_;
  FieldGap gap;
  gap.status = FieldStatus::outside;
  gap.value = NAN;
  gap.low = -INFINITY;
  const auto [along, aside] = in.frame.slide(pose);
  if (in.stretches.empty() || !(aside >= in.first && aside <= in.last)) return gap;
  const Inner::Stretch& at = in.stretches[in.holds(aside)];
  gap.status = at.status;
  const double share = at.to > at.from ? (aside - at.from) / (at.to - at.from) : 0;
  const bool known = std::isfinite(at.at_from) && std::isfinite(at.at_to);
  gap.value = (known ? at.at_from + share * (at.at_to - at.at_from) : std::min(at.at_from, at.at_to)) - along;
  gap.low = at.low - along;
  return gap;
}

FieldRange ContactLift::within(const SlideBox& box) const {
  FieldRange range;
  inner_->over(gap::box_of(box), [&](const Inner::Stretch& at) {
    range.low = std::min(range.low, at.low);
    const bool smooth = at.status == FieldStatus::smooth;
    range.high = std::max(range.high, smooth ? std::max(at.at_from, at.at_to) : INFINITY);
  });
  return {range.low - box.along_high, range.high - box.along_low};
}

const std::vector<ContactLift::Jump>& ContactLift::jumps() const {
  return inner_->jumps;
}
std::size_t ContactLift::stretches() const {
  return inner_->stretches.size();
}

}  // namespace eyebrow
