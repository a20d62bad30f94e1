#include "study/bore.hpp"

#include <algorithm>
#include <cmath>

#include "study/place.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// A span that reaches the peak goes on over it, down the other flank to the same lift.
void carry_over_peak(const Setup& setup, int valve, Least& least) {
  const double peak = setup.valves[valve].peak_crank;
  double& end = peak > 0 ? least.span_to : least.span_from;
  if (peak > 0 ? end < peak : end > peak) return;
  const double lift = setup.motion.lift(valve, peak > 0 ? least.span_from : least.span_to);
  double above = peak, below = peak + (peak > 0 ? kPi : -kPi);
  while (std::fabs(below - above) > kSpanAngle) {
    const double middle = 0.5 * (above + below);
    (setup.motion.lift(valve, middle) >= lift ? above : below) = middle;
  }
  end = above;
}

}  // namespace

Minimum bore_minimum(const Setup& setup, int valve) {
  const ValveSetup& of = setup.valves[valve];
  const Profile& profile = setup.parts.profiles[valve];
  const ValveToSolid query(setup.bore, profile, of.place.up);
  const auto gap_at = [&](double lift, bool bounds) { return query.closest(setup.rim_centre(valve, lift), bounds); };
  // Every lift occurs on one flank already, the one on overlap TDC's side of the peak; closed angles but one are left
  // out, as they are all the same place. The peak was found on a grid: it may lie a little further.
  const double peak = of.peak_crank, side = peak > 0 ? -1 : 1;
  const double shut = lobe_end(setup, valve, peak > 0 ? -1 : 1) + side * kSpanAngle, top = peak - side * kPeakGrid;
  Least least =
      least_over_cycle({[&](double crank) { return gap_at(setup.motion.lift(valve, crank), false).value; },
                        [&](double crank) { return gap_at(setup.motion.lift(valve, crank), true).low; },
                        [&](const Stretch& stretch, double) {
                          // It moves along its axis alone: the valve where it is furthest open, drawn out
                          // upward, is all its places.
                          const Range lift = lift_range(setup, valve, stretch.from, stretch.to);
                          return ValveToSolid(setup.bore, swept_outline(profile, 0, lift.high - lift.low), of.place.up)
                              .closest(setup.rim_centre(valve, lift.high), true)
                              .low;
                        },
                        false, kCoarseTolerance, std::min(shut, top), std::max(shut, top), kOverlapShare});
  carry_over_peak(setup, valve, least);

  Minimum minimum = minimum_at(setup, least);
  minimum.lift = setup.motion.lift(valve, least.crank);
  minimum.gap = gap_at(minimum.lift, true);
  set_proven(minimum, least);
  describe(minimum, GapKind::closest,
           {{}, profile, setup.parts.bore, setup.rim_centre(valve, minimum.lift), of.place.up});
  return minimum;
}

double overhang(const Setup& setup, int valve) {
  const Frame rim = frame_about(setup.rim_centre(valve, 0), setup.valves[valve].place.up);
  const double radius = setup.parts.profiles[valve].rim_radius;
  double reach = 0;
  constexpr int kAround = 3600;  // a tenth of a degree: short of the greatest by less than R (0.05 deg)^2 / 2 = 8e-6 mm
  for (int i = 0; i < kAround; ++i) {
    const double turn = 2 * kPi * i / kAround;
    const Vec3 point = rim.origin + radius * std::cos(turn) * rim.x + radius * std::sin(turn) * rim.y;
    reach = std::max(reach, std::hypot(point.x, point.y));
  }
  return reach - setup.engine.cylinder.bore / 2;
}

}  // namespace eyebrow::study
