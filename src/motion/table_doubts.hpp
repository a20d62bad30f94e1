// What is doubtful about a lift table.
#pragma once
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow::motion {

/// Adds the doubts about the table of `lobe`, which moves `valve`; nothing when it has none, or gives no curve.
void doubt_table(const Lobe& lobe, const Valve& valve, std::vector<Fault>& doubts);

}  // namespace eyebrow::motion
