#include "eyebrow/parts.hpp"

#include <Standard_Failure.hxx>
#include <algorithm>

#include <fmt/format.h>

#include "solid/bore_solid.hpp"
#include "solid/crown_solid.hpp"
#include "solid/face_names.hpp"
#include "solid/mesh.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"
#include "solid/tolerances.hpp"
#include "solid/valve_outline.hpp"

namespace eyebrow {
namespace {

/// Long enough to stand out of the piston at any pose: a stem that ended within reach would be one more thing to touch.
double stem_length(const Engine& engine, const CrownNumbers& numbers, const Valve& valve) {
  return 4 * valve.head_diameter + numbers.top + engine.cylinder.bore;
}

/// `more` beside `to`, in one list of faces, edges and triangles.
void append(Crown& to, const Crown& more) {
  const int faces = static_cast<int>(to.faces.size()), points = static_cast<int>(to.points.size());
  to.faces.insert(to.faces.end(), more.faces.begin(), more.faces.end());
  to.points.insert(to.points.end(), more.points.begin(), more.points.end());
  for (Edge edge : more.edges) {
    for (int& face : edge.faces) face += faces;
    to.edges.push_back(std::move(edge));
  }
  for (Triangle triangle : more.triangles) {
    for (int& vertex : triangle.vertex) vertex += points;
    triangle.face += faces;
    to.triangles.push_back(triangle);
  }
  to.error = std::max(to.error, more.error);
  to.volume += more.volume;
}

Crown mesh_of(const NamedSolid& solid, double deflection, const std::string& what) {
  Crown crown = mesh_solid(solid.solid, named_faces(solid, what), deflection, what);
  crown.volume = solid.volume;
  return crown;
}

}  // namespace

Parts build_parts(const Engine& engine, const Origins& origins, double deflection) {
  std::vector<Fault> faults;
  const CrownNumbers numbers = check_crown(engine, origins, faults);
  for (const Valve& valve : engine.valves) {
    const std::vector<Fault> more = valve_faults(valve, stem_length(engine, numbers, valve), engine.units, origins);
    faults.insert(faults.end(), more.begin(), more.end());
  }
  if (!faults.empty()) throw InputError(std::move(faults));
  try {
    auto solids = std::make_shared<Solids>();
    Parts parts;
    const NamedSolid crown = make_crown(engine, origins, numbers);
    solids->crown = crown.solid;
    parts.crown = mesh_of(crown, deflection, "the crown");
    const NamedSolid block = make_block(engine, origins), gasket = make_gasket(engine);
    solids->block = block.solid;
    solids->gasket = gasket.solid;
    parts.bore = mesh_of(block, deflection, "the bore");
    append(parts.bore, mesh_of(gasket, deflection, "the gasket"));
    for (const Valve& valve : engine.valves) {
      parts.profiles.push_back(valve_profile(valve, stem_length(engine, numbers, valve)));
      solids->valves.push_back(revolve(parts.profiles.back().elements, Frame{}));
    }
    parts.solids = std::move(solids);
    return parts;
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("the modeller failed: {}", failure.GetMessageString()));
  }
}

}  // namespace eyebrow
