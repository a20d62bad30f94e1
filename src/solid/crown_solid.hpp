// The crown as an exact solid in the piston frame.
#pragma once
#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "solid/crown_numbers.hpp"
#include "solid/named_solid.hpp"

namespace eyebrow {

/// Body, dome, dish, pockets; each boolean checked, the whole against quadrature. Throws InputError or MachineError.
/// `warnings`: what was left undone.
NamedSolid make_crown(const Engine& engine, const Origins& origins, const CrownNumbers& numbers,
                      std::vector<Fault>& warnings);

}  // namespace eyebrow
