#include "eyebrow/map.hpp"

#include <algorithm>

#include "study/course.hpp"
#include "study/map_cells.hpp"
#include "study/possible.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace study {

std::vector<CellGroup> groups_of(const std::vector<CellAtWork>& cells) {
  std::vector<CellGroup> groups;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (!cells[i].engine) continue;
    const Engine& engine = *cells[i].engine;
    const auto same = std::ranges::find_if(groups, [&](const CellGroup& group) {
      return stand_alike(engine, *group.engine) && same_crown(engine, *group.engine) &&
             same_valves(engine, *group.engine);
    });
    if (same != groups.end()) {
      same->cells.push_back(i);
      continue;
    }
    groups.emplace_back().engine = &engine;
    groups.back().cells.push_back(i);
  }
  return groups;
}

namespace {

std::vector<double> values_at(const std::vector<Varied>& inputs, std::size_t cell) {
  std::vector<double> values;
  for (const Varied& input : inputs) {
    values.push_back(input.values[cell % input.values.size()]);
    cell /= input.values.size();
  }
  return values;
}

void give_up(const CellGroup& group, std::vector<CellAtWork>& cells, const InputError& error) {
  for (const std::size_t cell : group.cells) cells[cell].trouble = error.faults().front().message;
}

/// What was made for an engine before.
struct Ready {
  const Engine& engine;
  const Parts& parts;
  const Setup& setup;
};

void find_gaps(CellGroup& group, const Ready& ready, std::vector<CellAtWork>& cells, Pacer& pacer) {
  try {
    group.parts = rebuild_parts(*group.engine, {}, ready.engine, ready.parts);
    group.setup = std::make_unique<Setup>(ready.setup, *group.engine, group.parts);
    require_places_of_their_own(*group.setup);
    group.pairs = valve_pairs(*group.setup);
  } catch (const InputError& error) {
    give_up(group, cells, error);
    return;
  }
  // How the piston stands is each cell's own.
  std::vector<std::size_t> possible;
  for (const std::size_t i : group.cells) try {
      require_apart_when_closed(Setup(*group.setup, *cells[i].engine), group.pairs);
      possible.push_back(i);
    } catch (const InputError& error) {
      cells[i].trouble = error.faults().front().message;
    }
  group.cells = std::move(possible);
  if (group.cells.empty()) return;
  find_piston_gaps(group, cells, pacer);
  find_other_gaps(group, cells, pacer);
  group.pairs.clear();
  group.setup.reset();
  group.parts = {};
}

MapCell told(CellAtWork& cell) {
  MapCell made;
  made.trouble = std::move(cell.trouble);
  if (!made.trouble.empty()) return made;
  const Judged judged = judge(*cell.engine, cell.found);
  made.verdict = judged.verdict;
  for (const AskedRow& row : judged.rows) {
    made.found.push_back(row.found);
    made.margin.push_back(row.margin);
    made.holds.push_back(row.holds);
  }
  return made;
}

}  // namespace
}  // namespace study

struct Mapper::Made {
  Engine base;
  Parts parts;
  study::Setup setup;
  explicit Made(const Engine& engine) : base(engine), parts(build_parts(base, {})), setup(base, parts) {}
};

Mapper::Mapper(const Engine& base) : made_(std::make_shared<const Made>(base)) {}

const Engine& Mapper::base() const {
  return made_->base;
}

const study::Setup& Mapper::setup() const {
  return made_->setup;
}

MapResult Mapper::map(std::vector<Varied> inputs, const EngineAt& engine_at, const CheckOptions& options) const {
  using namespace study;
  MapResult map;
  map.engine = made_->base.name;
  map.units = made_->base.units;
  map.gaps = map_gaps(made_->base);
  map.inputs = std::move(inputs);
  std::size_t count = 1;
  for (const Varied& input : map.inputs) count *= input.values.size();

  std::vector<CellAtWork> cells(count);
  Pacer pacer(options, static_cast<double>(count) * (kPistonUnits + kOtherUnits));
  run_tasks(count, kChunk, pacer, 0, [&](std::size_t i) {
    try {
      cells[i].engine = engine_at(values_at(map.inputs, i));
    } catch (const InputError& error) {
      cells[i].trouble = error.faults().front().message;
    }
  });
  const Ready ready{made_->base, made_->parts, made_->setup};
  std::vector<CellGroup> groups = groups_of(cells);
  run_tasks(groups.size(), 1, pacer, 0, [&](std::size_t i) { find_gaps(groups[i], ready, cells, pacer); });
  for (CellAtWork& cell : cells) map.cells.push_back(told(cell));
  return map;
}

std::vector<MapGap> map_gaps(const Engine& engine) {
  std::vector<MapGap> gaps;
  for (const AskedRow& row : study::judge(engine, study::no_gaps(engine)).rows)
    gaps.push_back({row.what, row.valve, row.required, row.running});
  return gaps;
}

}  // namespace eyebrow
