#include "study/gaps_now.hpp"

namespace eyebrow::study {

GapsNow gaps_now(const Setup& setup, const std::vector<ValvePair>& pairs, double crank) {
  GapsNow out;
  std::vector<double> lifts;
  for (int i = 0; i < static_cast<int>(setup.valves.size()); ++i) {
    const ValveSetup& of = setup.valves[static_cast<std::size_t>(i)];
    GapRequest request;
    request.reach = of.asked.reach;
    lifts.push_back(setup.motion.lift(i, crank));
    out.piston.push_back(of.to_piston.gaps(setup.pose(i, crank), request));
    const ValveToSolid query(setup.bore, setup.parts.profiles[static_cast<std::size_t>(i)], of.place.up);
    GapsNow::Other& bore = out.bore.emplace_back();
    bore.first = i;
    bore.gap = query.closest(setup.rim_centre(i, lifts.back()), false);
    if (bore.gap.other_face >= 0)
      bore.face = setup.parts.bore.faces.at(static_cast<std::size_t>(bore.gap.other_face)).name;
  }
  for (const ValvePair& pair : pairs) {
    GapsNow::Other& other = out.pairs.emplace_back();
    other.first = pair.first();
    other.second = pair.second();
    other.gap =
        pair.gap(lifts[static_cast<std::size_t>(other.first)], lifts[static_cast<std::size_t>(other.second)], false);
    if (other.gap.other_face >= 0)
      other.face = pair.surface().faces.at(static_cast<std::size_t>(other.gap.other_face)).name;
  }
  return out;
}

}  // namespace eyebrow::study
