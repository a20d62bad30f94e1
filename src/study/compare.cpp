#include "eyebrow/compare.hpp"

#include <algorithm>
#include <cmath>

#include "eyebrow/motion.hpp"
#include "study/clock.hpp"
#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace {

/// A valve pushed down its axis to the plane of the crown flat, the piston at TDC: its rim's centre in the piston
/// frame.
Vec3 rim_at_crown(const Engine& engine, const Valve& valve) {
  const Vec3 closed = closed_place(engine, valve), up = up_axis(engine, valve);
  const double crown = -(engine.gasket.thickness + engine.cylinder.deck_clearance);
  const double along = (crown - closed.z) / up.z;
  return {closed.x + along * up.x, closed.y + along * up.y, 0};
}

/// Of two unit vectors; exact for small ones too.
double angle_between(Vec3 a, Vec3 b) {
  return std::atan2(norm(cross(a, b)), dot(a, b));
}

/// The first engine's pocket for another engine's valve; -1 = none.
int pocket_for(const Engine& first, const Engine& engine, const Valve& valve) {
  const auto same = std::ranges::find(first.valves, valve.name, &Valve::name);
  if (same != first.valves.end() && same->pocket >= 0) return same->pocket;
  const Vec3 at = rim_at_crown(engine, valve);
  int best = -1;
  double nearest = INFINITY;
  for (std::size_t i = 0; i < first.piston.pockets.size(); ++i) {
    const Pocket& pocket = first.piston.pockets[i];
    const double off = std::hypot(at.x - pocket.x, at.y - pocket.y);
    if (off >= pocket.diameter / 2 || off >= nearest) continue;
    nearest = off;
    best = static_cast<int>(i);
  }
  return best;
}

bool bored_alike(const Pocket& one, const Pocket& other) {
  return one.x == other.x && one.y == other.y && one.tilt == other.tilt && one.lean == other.lean &&
         one.diameter == other.diameter;
}

}  // namespace

std::vector<ComparedGap> gaps_beside(const std::vector<CheckResult>& checks) {
  std::vector<ComparedGap> gaps;
  for (std::size_t engine = 0; engine < checks.size(); ++engine)
    for (const AskedRow& row : checks[engine].asked) {
      const std::string name = gap_name({row.what, row.valve, row.required, row.running});
      auto gap = std::ranges::find(gaps, name, &ComparedGap::name);
      if (gap == gaps.end()) {
        gap = gaps.insert(gaps.end(), {name, row.what, row.valve, row.running, {}});
        gap->of.resize(checks.size());
      }
      gap->of[engine] = {true, row.required, row.found, row.margin, row.holds};
    }
  // What only later engines have of the bench stands before what running leaves.
  std::ranges::stable_partition(gaps, [](const ComparedGap& gap) { return !gap.running; });
  return gaps;
}

Landing landing(const Engine& engine, const Valve& valve, const Engine& piston, int pocket) {
  const Pocket& of = piston.piston.pockets.at(static_cast<std::size_t>(pocket));
  const Vec3 rim = rim_at_crown(engine, valve), up = up_axis(engine, valve);
  const Vec3 centre{of.x, of.y, 0}, axis = tilted_axis(of.tilt, of.lean);
  Landing out;
  out.valve = valve.name;
  out.pocket = of.name;
  out.x = rim.x - centre.x;
  out.y = rim.y - centre.y;
  out.tilt_apart = angle_between(up, axis);
  out.radius_more = of.diameter / 2 - valve.head_diameter / 2;
  out.clock = study::spot_of(rim + Vec3{out.x, out.y, 0}, rim, up).clock;
  for (int hour = 0; hour < 12; ++hour) {
    const Vec3 point = rim + valve.head_diameter / 2 * study::direction_at(hour, rim, up);
    const Vec3 arm = point - centre;
    out.rim_to_wall[static_cast<std::size_t>(hour)] = of.diameter / 2 - norm(arm - dot(arm, axis) * axis);
  }
  return out;
}

std::vector<Landing> landings(const std::vector<const Engine*>& engines) {
  std::vector<Landing> out;
  const Engine& first = *engines.front();
  for (std::size_t e = 0; e < engines.size(); ++e) {
    const Engine& engine = *engines[e];
    for (const Valve& valve : engine.valves) {
      const auto add = [&](std::size_t piston, int pocket) {
        Landing made;
        made.valve = valve.name;
        made.rim_to_wall.fill(NAN);
        if (pocket >= 0) made = landing(engine, valve, *engines[piston], pocket);
        made.engine = e;
        made.piston = piston;
        out.push_back(std::move(made));
      };
      if (e == 0) {
        if (valve.pocket >= 0) add(0, valve.pocket);
        continue;
      }
      const int theirs = pocket_for(first, engine, valve);
      const bool alike = theirs >= 0 && valve.pocket >= 0 &&
                         bored_alike(first.piston.pockets[static_cast<std::size_t>(theirs)],
                                     engine.piston.pockets[static_cast<std::size_t>(valve.pocket)]);
      if (!alike && !first.piston.pockets.empty()) add(0, theirs);
      if (valve.pocket >= 0) add(e, valve.pocket);
    }
  }
  return out;
}

std::vector<LiftDifference> lift_differences(const std::vector<const Engine*>& engines) {
  constexpr double kSameLift = 0.001, kNearTdc = 30 * kDegree;
  std::vector<LiftDifference> out;
  const Engine& first = *engines.front();
  const Motion base(first);
  for (std::size_t e = 1; e < engines.size(); ++e) {
    const Motion motion(*engines[e]);
    for (std::size_t v = 0; v < engines[e]->valves.size(); ++v) {
      const std::string& name = engines[e]->valves[v].name;
      const auto same = std::ranges::find(first.valves, name, &Valve::name);
      if (same == first.valves.end()) continue;
      const int valve = static_cast<int>(v), its = static_cast<int>(same - first.valves.begin());
      LiftDifference made{e, name};
      for (const double crank : study::cycle_grid(study::kPeakGrid)) {
        const double by = motion.lift(valve, crank) - base.lift(its, crank);
        if (std::fabs(by) > std::fabs(made.most)) {
          made.most = by;
          made.crank = crank;
        }
        if (std::fabs(crank) <= kNearTdc && std::fabs(by) > std::fabs(made.near_tdc)) {
          made.near_tdc = by;
          made.near_crank = crank;
        }
      }
      if (std::fabs(made.most) > kSameLift) out.push_back(made);
    }
  }
  return out;
}

Verdict Comparison::verdict() const {
  Verdict worst = Verdict::holds;  // in the order of the enumeration
  for (const CheckResult& check : checks) worst = std::max(worst, check.verdict);
  return worst;
}

}  // namespace eyebrow
