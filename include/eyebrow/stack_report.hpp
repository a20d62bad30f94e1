// A tolerance stack as text, CSV, JSON, and what its pictures are drawn of.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/plot.hpp"
#include "eyebrow/report.hpp"
#include "eyebrow/stack.hpp"

namespace eyebrow {

/// `chosen`: indices into StackResult::gaps of the gaps to show; empty = all that there are.
std::string stack_text(const StackResult& stack, const Format& format, const std::vector<std::size_t>& chosen = {});

/// A row a gap.
std::string stack_csv(const StackResult& stack, const Format& format);

/// The contract "eyebrow.stack/1": gaps in mm whatever the units, inputs in the unit that they were given in.
std::string stack_json(const StackResult& stack);

/// The gap with the least margin in its worst case among those that the tolerances move, else the first.
std::size_t tightest_gap(const StackResult& stack);

Histogram stack_histogram(const StackResult& stack, std::size_t gap);

/// What each driver alone takes of a gap at its worse end.
Bars stack_bars(const StackResult& stack, std::size_t gap);

}  // namespace eyebrow
