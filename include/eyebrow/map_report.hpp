// A map of least gaps as text, CSV and JSON.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/map.hpp"
#include "eyebrow/report.hpp"

namespace eyebrow {

/// A row a value of one input; a table over two. `chosen`: indices into MapResult::gaps of the gaps to show, of two
/// inputs the first counts; empty = of all valves the one with the least margin, over two inputs its margin.
std::string map_text(const MapResult& map, const Format& format, const std::vector<std::size_t>& chosen = {});

/// Sentences that say how far the one input may go (MapResult::allowed).
std::string allowed_text(const MapResult& map);

/// A row a cell: inputs, every gap (empty = none), verdict, and why there is no engine.
std::string map_csv(const MapResult& map, const Format& format);

/// The contract "eyebrow.map/1": lengths of gaps in mm whatever the units, inputs in the unit that is told.
std::string map_json(const MapResult& map);

/// An input's value, as people type it.
std::string input_text(double value);

}  // namespace eyebrow
