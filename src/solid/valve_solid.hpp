// A valve as an exact solid.
#pragma once
#include <TopoDS_Shape.hxx>

#include "eyebrow/profile.hpp"

namespace eyebrow {

/// Revolved about z from its outline: z along the stem from the rim-plane centre. Throws MachineError.
TopoDS_Shape make_valve(const Profile& profile, const std::string& name);

}  // namespace eyebrow
