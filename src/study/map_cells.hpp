// The engines of a map, put together by what they share.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/map.hpp"
#include "study/judge.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// The engine at one place of a map, on its way to a MapCell.
struct CellAtWork {
  std::optional<Engine> engine;  ///< nothing: `trouble` says why
  std::string trouble;
  LeastGaps found;
};

/// Cells whose engines have the same crown and valves, the valves in the same places: what moves the parts may differ,
/// and the bore and gasket around.
struct CellGroup {
  std::vector<std::size_t> cells;
  const Engine* engine = nullptr;  ///< of the first cell
  Parts parts;                     ///< made of that
  std::unique_ptr<Setup> setup;
  std::vector<ValvePair> pairs;
};

/// Those of the cells that have an engine, in the order of their first cells.
std::vector<CellGroup> groups_of(const std::vector<CellAtWork>& cells);

/// Fills `piston` of the group's cells: from fields where they are many.
void find_piston_gaps(const CellGroup& group, std::vector<CellAtWork>& cells, Pacer& pacer);

/// Fills the rest, and after `piston` what is running. Searches that
/// hang on the same lifts are made once.
void find_other_gaps(const CellGroup& group, std::vector<CellAtWork>& cells, Pacer& pacer);

/// What each of the two counts as progress, a cell.
inline constexpr double kPistonUnits = 4, kOtherUnits = 1;

}  // namespace eyebrow::study
