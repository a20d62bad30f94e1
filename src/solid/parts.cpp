#include "eyebrow/parts.hpp"

#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <future>

#include <fmt/format.h>

#include "solid/bore_solid.hpp"
#include "solid/crown_solid.hpp"
#include "solid/face_names.hpp"
#include "solid/mesh.hpp"
#include "solid/solids.hpp"
#include "solid/step_crown.hpp"
#include "solid/step_valve.hpp"
#include "solid/valve_outline.hpp"
#include "solid/valve_solid.hpp"

namespace eyebrow {
/// Far enough up that the stem's end never comes near the piston: the head must be cleared by the valve's own lift and
/// by what stands above the crown flat. Four head diameters is more than any valve's length by itself.
double stem_length(const Engine& engine, const Valve& valve) {
  double lift = 0;
  for (const Lobe& lobe : engine.lobes) {
    if (lobe.name == valve.lobe) lift = lobe.lift * std::max(1.0, valve.rocker_ratio);
  }
  double dome = engine.piston.round_dome ? engine.piston.round_dome->height : 0.0;
  if (engine.piston.step) dome = engine.cylinder.bore / 2;  // no crown stands higher above its flat
  if (engine.piston.roof_dome) dome = std::max(dome, engine.piston.roof_dome->plateau);
  return 4 * valve.head_diameter + std::max(0.0, lift) + dome;
}

namespace {

/// Parts made before, and the engine that they were made of.
struct Built {
  const Engine& of;
  const Parts& parts;
};

/// Does `work`, and keeps what it finds wrong with the input.
template <class Work>
void gather_faults(std::vector<Fault>& faults, const Work& work) {
  try {
    work();
  } catch (const InputError& error) {
    faults.insert(faults.end(), error.faults().begin(), error.faults().end());
  }
}

/// Block, gasket and valves: what shares nothing with the crown.
void make_around(const Engine& engine, const Origins& origins, double deflection, const Built* built, Parts& parts,
                 Solids& solids) {
  if (built && same_bore(engine, built->of)) {
    parts.bore = built->parts.bore;
    solids.block = built->parts.solids->block;
    solids.gasket = built->parts.solids->gasket;
  } else {
    const BoreSolids bore = make_bore(engine, origins);
    parts.bore = mesh_solid(bore.around.solid, named_faces(bore.around, "bore"), deflection, "bore");
    parts.bore.volume = bore.around.volume;
    solids.block = bore.block;
    solids.gasket = bore.gasket;
  }
  if (built && same_valves(engine, built->of)) {
    parts.profiles = built->parts.profiles;
    solids.valves = built->parts.solids->valves;
    solids.valve_warnings = built->parts.solids->valve_warnings;
    return;
  }
  std::vector<Fault> faults;
  for (const Valve& valve : engine.valves) {
    const double stem = stem_length(engine, valve);
    gather_faults(faults, [&] {
      parts.profiles.push_back(valve.step ? step_valve_profile(engine, valve, stem, origins, solids.valve_warnings)
                                          : valve_profile(valve, stem));
      solids.valves.push_back(make_valve(parts.profiles.back(), valve.name));
    });
  }
  if (!faults.empty()) throw InputError(std::move(faults));
}

void make_its_crown(const Engine& engine, const Origins& origins, const CrownNumbers& numbers, double deflection,
                    const Built* built, Parts& parts, Solids& solids) {
  if (built && same_crown(engine, built->of)) {
    parts.crown = built->parts.crown;
    parts.warnings = built->parts.warnings;
    parts.warnings.resize(parts.warnings.size() - built->parts.solids->valve_warnings.size());
    solids.crown = built->parts.solids->crown;
    solids.crown_faces = built->parts.solids->crown_faces;
    solids.file_names = built->parts.solids->file_names;
  } else if (engine.piston.step) {
    StepCrownSolid made = make_step_crown(engine, origins, deflection, parts.warnings);
    solids.crown = std::move(made.solid);
    solids.crown_faces = std::move(made.faces);
    solids.file_names = std::move(made.file_names);
    parts.crown = std::move(made.mesh);
  } else {
    solids.crown = make_crown(engine, origins, numbers, parts.warnings);
    solids.crown_faces = named_faces(solids.crown, "crown");
    parts.crown = mesh_solid(solids.crown.solid, solids.crown_faces, deflection, "crown");
    parts.crown.volume = solids.crown.volume;
  }
}

Parts parts_of(const Engine& engine, const Origins& origins, const CrownNumbers& numbers, double deflection,
               const Built* built) {
  auto solids = std::make_shared<Solids>();
  Parts parts;
  std::future<void> around =
      std::async(std::launch::async, [&] { make_around(engine, origins, deflection, built, parts, *solids); });
  std::vector<Fault> faults;
  gather_faults(faults, [&] { make_its_crown(engine, origins, numbers, deflection, built, parts, *solids); });
  gather_faults(faults, [&] { around.get(); });
  if (!faults.empty()) throw InputError(std::move(faults));
  parts.warnings.insert(parts.warnings.end(), solids->valve_warnings.begin(), solids->valve_warnings.end());
  parts.solids = std::move(solids);
  return parts;
}

Parts checked_parts(const Engine& engine, const Origins& origins, double deflection, const Built* built) {
  if (!(deflection > 0)) throw MachineError(fmt::format("a mesh cannot be within {} mm of its surface", deflection));
  std::vector<Fault> faults;
  CrownNumbers numbers;
  if (!engine.piston.step) numbers = check_crown(engine, origins, faults);
  check_bore(engine, origins, faults);
  for (const Valve& valve : engine.valves) {
    if (valve.step) continue;
    for (Fault& fault : valve_faults(valve, stem_length(engine, valve), engine.units, origins)) {
      faults.push_back(std::move(fault));
    }
  }
  if (!faults.empty()) throw InputError(std::move(faults));

  try {
    return parts_of(engine, origins, numbers, deflection, built);
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the modeller failed: {}", failure.GetMessageString()));
  }
}

}  // namespace

Parts build_parts(const Engine& engine, const Origins& origins, double deflection) {
  return checked_parts(engine, origins, deflection, nullptr);
}

Parts rebuild_parts(const Engine& engine, const Origins& origins, const Engine& before, const Parts& built,
                    double deflection) {
  const Built known{before, built};
  return checked_parts(engine, origins, deflection, &known);
}

}  // namespace eyebrow
