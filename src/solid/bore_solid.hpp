// What a valve can hit around the piston: the block with its bore and notches, and the gasket. Block frame.
#pragma once
#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "solid/named_solid.hpp"

namespace eyebrow {

/// The block as a ring from the deck face down past the piston's lowest place, notches cut into its bore.
/// Throws InputError for a notch that cuts nothing, MachineError when the modeller fails.
NamedSolid make_block(const Engine& engine, const Origins& origins);

/// The gasket as a ring on the deck face.
NamedSolid make_gasket(const Engine& engine);

}  // namespace eyebrow
