// A valve's rocker: one ratio, or a table of it against lift.
#pragma once
#include "spec/sections.hpp"

namespace eyebrow {

/// `needed`: the valve's lobe is measured at the lobe. NaN where it is faulty, and told.
void read_rocker(Context& context, Section& section, bool needed, Valve& valve);

/// After the lobes have their greatest lift: beside a table, rocker_ratio is the ratio there.
void settle_rockers(Engine& engine);

}  // namespace eyebrow
