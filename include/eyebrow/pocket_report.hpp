// Sized pockets as text, JSON and a drawing for the machinist.
#pragma once
#include <string>

#include "eyebrow/plot.hpp"
#include "eyebrow/pocket_sizing.hpp"
#include "eyebrow/report.hpp"

namespace eyebrow {

/// Every pocket as it is and as it is sized, what binds it, the gaps, the crown left, what asked gaps cost.
std::string pocket_text(const PocketResult& result, const Format& format);

/// The contract "eyebrow.pocket/1": mm and degrees whatever the units.
std::string pocket_json(const PocketResult& result);

/// A page a pocket, one below the other: plan and section with the numbers that a mill needs. Never to scale for
/// taking lengths off it. Throws MachineError where the drawing library fails.
std::string pocket_sheet(const PocketResult& result, PlotFile kind, const Format& format);

/// The changes of the engine file that make its pockets the sized ones.
struct PocketEdit {
  std::string key, typed;  ///< typed empty = taken out
};
/// `stated`: every key of the file. `bare`: the file states its unit, so that a number needs none.
std::vector<PocketEdit> pocket_edits(const PocketResult& result, const std::vector<std::string>& stated, bool bare);

}  // namespace eyebrow
