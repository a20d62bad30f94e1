// The metal that a valve and the crown have in common, as a solid to be looked at.
#pragma once
#include "eyebrow/parts.hpp"

namespace eyebrow {

/// Its surface in the piston frame, meshed to 0.01 mm; `volume` is the modeller's. Faces have no names. No faces where
/// they have nothing in common, or where the modeller finds nothing. Throws MachineError when the modeller fails.
Crown overlap_solid(const Engine& engine, const Parts& parts, const Placing& placing, int valve);

}  // namespace eyebrow
