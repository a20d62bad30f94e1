// For each asked gap that is short: the least single change of a number of the engine file that restores it.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "eyebrow/map.hpp"

namespace eyebrow {

/// Which numbers of the file are worth a change for a gap (into map_gaps): pocket, gasket, seat and place of its
/// valves, and the advance of their cams; of a cam with stops nothing, as its stops limit what it can reach. Only what
/// the file states, but for how far a seat is sunk, which is 0 where it states none.
std::vector<RemedyInput> remedy_inputs(const Engine& engine, const Origins& origins, std::size_t gap);

/// The engine with one number replaced, in the unit of the file. Throws InputError where there is none. Asked from
/// several threads at once.
using EngineWith = std::function<Engine(const RemedyInput& input, double value)>;

/// Of every gap that does not hold, in the order of map_gaps. Throws Interrupted.
std::vector<GapRemedies> remedies(const Mapper& mapper, const Origins& origins, const EngineWith& engine_with,
                                  const CheckOptions& options = {});

}  // namespace eyebrow
