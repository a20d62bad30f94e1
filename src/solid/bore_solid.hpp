// Block and gasket around the bore: what a valve could hit there. Block frame; the head is no part of it.
#pragma once
#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "solid/named_solid.hpp"

namespace eyebrow {

struct BoreSolids {
  NamedSolid around;   ///< block and gasket as one solid
  TopoDS_Shape block;  ///< each by itself, for export
  TopoDS_Shape gasket;
};

/// Adds every fault found in the numbers of bore, notches and gasket to `faults`.
void check_bore(const Engine& engine, const Origins& origins, std::vector<Fault>& faults);

/// Needs numbers that passed check_bore. Throws InputError or MachineError.
BoreSolids make_bore(const Engine& engine, const Origins& origins);

}  // namespace eyebrow
