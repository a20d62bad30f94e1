// The readers of the engine file's tables. Each reads its own keys and the faults that show within them; what lies
// between tables is in cross_checks.hpp.
#pragma once
#include "eyebrow/engine.hpp"
#include "spec/section.hpp"

namespace eyebrow {

/// Plausible counts for one cylinder.
inline constexpr std::size_t kMostValves = 8, kMostPockets = 16, kMostLobes = 16, kMostNotches = 16, kMostCams = 2;

void read_cylinder(Context& context, Section& top, Cylinder& cylinder);
void read_gasket(Section& top, Gasket& gasket);
void read_head(Context& context, Section& top, Head& head);
void read_piston(Context& context, Section& top, Piston& piston);
void read_pockets(Context& context, Section& top, Piston& piston);
struct CamsAsRead;  // card.hpp
/// Cams with their advance, and the lobes without what settle_cams() adds.
CamsAsRead read_cams_and_lobes(Context& context, Section& top, Engine& engine);
/// After head and cams.
void read_drive(Context& context, Section& top, Engine& engine);
/// After pockets, cams and lobes: a valve finds its own among them.
void read_valves(Context& context, Section& top, Engine& engine);
/// After the valves, whose rockers carry lifts from the lobe to the valve: cards become durations and centres, a cam's
/// separation becomes the centres of those of its lobes that have no events, and is compared with those that have.
void settle_cams(Context& context, Engine& engine, const CamsAsRead& cams);
/// After the valves: a role that is present must have its asked gaps.
void read_asked(Context& context, Section& top, Engine& engine);
void read_check(Section& top, Engine& engine);
/// travel, radial, and where they differ face, closest and reach.
AskedValve read_asked_valve(Section& section);
/// After the valves and cams. What running takes from the gaps, and the gaps asked of the running engine.
void read_running(Context& context, Section& top, Engine& engine);

/// After all that reads numbers: a tolerance is of one of them. `root`: the file with overrides and `like` applied.
void read_tolerances(Context& context, Section& top, const Node& root);

}  // namespace eyebrow
