#include "solid/valve_solid.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <Standard_Failure.hxx>
#include <cmath>

#include <fmt/format.h>

#include "eyebrow/fault.hpp"
#include "solid/occt.hpp"
#include "solid/outline_volume.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {

TopoDS_Shape make_valve(const Profile& profile, const std::string& name) {
  try {
    const TopoDS_Shape solid = revolve(profile.elements, Frame{});
    const double expected = outline_volume(profile);
    if (!BRepCheck_Analyzer(solid).IsValid() || std::fabs(volume_of(solid) - expected) > kBooleanVolume * expected) {
      throw MachineError(fmt::format("valve {}: the modeller made no valid solid of it", name));
    }
    return solid;
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("valve {}: the modeller failed: {}", name, failure.GetMessageString()));
  }
}

}  // namespace eyebrow
