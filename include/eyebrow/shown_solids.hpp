// Solids to be looked at, not measured: meshed as coarse as the eye allows.
#pragma once
#include "eyebrow/parts.hpp"

namespace eyebrow {

/// The crown's surface meshed anew, no further than `deflection` from the exact one; faces and frame as in
/// Parts::crown. Without solids Parts::crown as it is.
Crown crown_to_show(const Parts& parts, double deflection);

/// The metal that a valve and the crown have in common: its surface in the piston frame, meshed to 0.01 mm; `volume` is
/// the modeller's. Faces have no names. No faces where they have nothing in common, or where the modeller finds
/// nothing. Throws MachineError when the modeller fails.
Crown overlap_solid(const Engine& engine, const Parts& parts, const Placing& placing, int valve);

}  // namespace eyebrow
