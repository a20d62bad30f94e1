#include "study/possible.hpp"

#include <fmt/format.h>

#include <cmath>

#include "study/piston_gap.hpp"

namespace eyebrow::study {

void require_places_of_their_own(const Setup& setup) {
  std::vector<Fault> faults;
  const auto holds = [&](std::size_t i, std::size_t k) {
    const Frame rim = frame_about(setup.rim_centre(static_cast<int>(i), 0), setup.valves[i].place.up);
    const Vec3 off = setup.rim_centre(static_cast<int>(k), 0) - rim.origin;
    const Profile& profile = setup.parts.profiles[i];
    return std::hypot(dot(off, rim.x), dot(off, rim.y)) < profile.rim_radius - profile.edge_radius &&
           dot(off, rim.z) > -1e-9 && dot(off, rim.z) < profile.margin;
  };
  for (std::size_t i = 0; i < setup.valves.size(); ++i)
    for (std::size_t k = i + 1; k < setup.valves.size(); ++k)
      if (holds(i, k) || holds(k, i))
        faults.push_back({"", 0, 0,
                          fmt::format("valve \"{}\" stands in valve \"{}\": look at x, y, tilt and rim_height of both",
                                      setup.engine.valves[k].name, setup.engine.valves[i].name),
                          "valve." + setup.engine.valves[k].name});
  if (!faults.empty()) throw InputError(faults);
}

void require_apart_when_closed(const Setup& setup, const std::vector<ValvePair>& pairs) {
  const Engine& engine = setup.engine;
  std::vector<Fault> faults;
  for (const ValvePair& pair : pairs)
    if (pair.closed().high < 0)
      faults.push_back({"", 0, 0,
                        fmt::format("valves \"{}\" and \"{}\" run into each other when both are closed, by at least "
                                    "{}: look at x, y, head_diameter, tilt and rim_height of both",
                                    engine.valves[pair.first()].name, engine.valves[pair.second()].name,
                                    length_text(-pair.closed().value, engine.units)),
                        "valve." + engine.valves[pair.second()].name});
  for (std::size_t i = 0; i < setup.valves.size(); ++i) {
    const Pose closed{setup.motion.height(0), 0};
    const Gap gap = setup.valves[i].to_piston.gaps(closed, request_for(GapKind::closest, 0, true)).closest;
    if (gap.high < 0)
      faults.push_back({"", 0, 0,
                        fmt::format("valve \"{}\" is through the piston when it is closed and the piston at TDC, by at "
                                    "least {} ({}): look at rim_height or flush_lift, the gasket's thickness, "
                                    "deck_clearance and the pocket",
                                    engine.valves[i].name, length_text(-gap.value, engine.units),
                                    gap.other_face >= 0 ? setup.parts.crown.faces[gap.other_face].name : "crown"),
                        "valve." + engine.valves[i].name});
  }
  if (!faults.empty()) throw InputError(faults);
}

}  // namespace eyebrow::study
