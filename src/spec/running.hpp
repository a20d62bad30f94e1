// The readers of [running]'s tables, and what they share.
#pragma once
#include <string>
#include <vector>

#include "spec/sections.hpp"

namespace eyebrow {

/// `use` and `source`, which every cause has.
void read_cause(Section& section, Cause& cause);

/// Does the table state the effect itself (any of `effect`)? A fault where it states beside that what the effect is
/// computed from (any of `parts`). Makes all of these keys known.
bool effect_given(Context& context, Section& section, const std::vector<std::string>& effect,
                  const std::vector<std::string>& parts);

/// The table of one role under `parent`, a fault (and no table) for a role that no valve has. `pattern`: of its keys.
Section role_table(Context& context, Section& parent, const Engine& engine, Role role, const std::string& pattern);

RodStretch read_rod_stretch(Context& context, Section& section, const Engine& engine);
BearingPlay read_bearings(Section& section);
Growth read_growth(Context& context, Section& section, const Engine& engine);
Rock read_rock(Context& context, Section& section, const Engine& engine);
ThinGasket read_thin_gasket(Context& context, Section& section, const Engine& engine);

GuidePlay read_guides(Context& context, Section& section, const Engine& engine, Role role);
Loft read_loft(Context& context, Section& section);
/// [running.chain], or one table a cam.
std::map<std::string, DriveSlack> read_slack(Context& context, Section& running, const Engine& engine);
PumpUp read_pump_up(Context& context, Section& section, const Engine& engine);

}  // namespace eyebrow
