#include "study/map_cells.hpp"

#include "study/course.hpp"
#include "study/field_least.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

constexpr std::size_t kKinds = std::size(kGapKinds);

void by_searches(const CellGroup& group, std::vector<CellAtWork>& cells, Pacer& pacer) {
  const std::size_t valves = group.setup->valves.size();
  run_tasks(group.cells.size(), 1, pacer, kPistonUnits, [&](std::size_t i) {
    CellAtWork& cell = cells[group.cells[i]];
    const Setup setup(*group.setup, *cell.engine);
    for (std::size_t valve = 0; valve < valves; ++valve)
      for (std::size_t k = 0; k < kKinds; ++k)
        cell.found.piston[valve][k] = judged_least(setup, static_cast<int>(valve), kGapKinds[k]);
  });
}

void by_fields(const CellGroup& group, std::vector<CellAtWork>& cells, Pacer& pacer) {
  std::vector<Course> courses;
  for (const std::size_t cell : group.cells)
    courses.emplace_back(*group.setup, *cells[cell].engine, Course::Lifts::judged);
  const std::size_t valves = group.setup->valves.size();
  std::vector<std::unique_ptr<FieldLeast>> fields(valves);
  run_tasks(valves, 1, pacer, 0, [&](std::size_t valve) {
    fields[valve] = std::make_unique<FieldLeast>(*group.setup, static_cast<int>(valve), courses);
  });
  run_tasks(group.cells.size(), kChunk, pacer, kPistonUnits, [&](std::size_t i) {
    CellAtWork& cell = cells[group.cells[i]];
    for (std::size_t valve = 0; valve < valves; ++valve) {
      const auto screened = fields[valve]->screened(courses[i]);
      for (std::size_t k = 0; k < kKinds; ++k) {
        const Least least = fields[valve]->least(courses[i], *cell.engine, screened[k], kGapKinds[k]);
        cell.found.piston[valve][k] = least.found ? least.value : NAN;
      }
    }
  });
}

}  // namespace

void find_piston_gaps(const CellGroup& group, std::vector<CellAtWork>& cells, Pacer& pacer) {
  KindValues none;
  none.fill(NAN);
  for (const std::size_t cell : group.cells) cells[cell].found.piston.assign(group.setup->valves.size(), none);
  if (group.cells.size() < kFieldsWorth)
    by_searches(group, cells, pacer);
  else
    by_fields(group, cells, pacer);
}

}  // namespace eyebrow::study
