#include <algorithm>
#include <cmath>
#include <map>
#include <span>

#include "study/map_cells.hpp"
#include "study/positions.hpp"
#include "study/refine.hpp"
#include "study/running_others.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// What a search hangs on, in parts of kAlike; of two that are the same one search is enough.
using Key = std::vector<long>;

void add(Key& key, double value) {
  key.push_back(std::lround(value / kAlike));
}

/// A distance of two valves hangs on which lifts go together, whatever crank angle has them.
Key pair_key(const Setup& setup, const ValvePair& pair) {
  const Motion motion = setup.motion.with(between_stops(setup.engine));
  const double centre = motion.lobe_centre(pair.second());
  Key key;
  for (const double crank : cycle_grid(kFieldGrid))
    for (const int valve : {pair.first(), pair.second()}) {
      const LiftRange lifts = motion.lifts(valve, centre + crank);
      add(key, lifts.least);
      add(key, lifts.greatest);
    }
  for (const int valve : {pair.first(), pair.second()})
    add(key, setup.engine.valves[static_cast<std::size_t>(valve)].sunk);
  return key;
}

/// A distance to the bore hangs on the bore, and on how far the valve opens.
Key bore_key(const Setup& setup, int valve) {
  Key key;
  add(key, setup.motion.greatest_lift(valve));
  add(key, setup.valves[static_cast<std::size_t>(valve)].place.closed.z);
  return key;
}

/// Searches told apart by their keys: which one each cell's is.
struct Searches {
  std::map<Key, std::size_t> known;
  std::vector<std::size_t> first;  ///< of each search, a cell that asks for it
  std::vector<double> value;

  std::size_t number(Key key, std::size_t cell) {
    const auto [at, added] = known.emplace(std::move(key), first.size());
    if (added) first.push_back(cell);
    return at->second;
  }
};

/// Cells with the same block and gasket.
struct Around {
  std::vector<std::size_t> cells;
};

class Others {
 public:
  Others(const CellGroup& group, std::vector<CellAtWork>& cells) : group_(group), cells_(cells) {}

  void run(Pacer& pacer) {
    find_arounds();
    const std::size_t valves = group_.setup->valves.size();
    pair_of_.resize(group_.cells.size());
    bore_of_.resize(group_.cells.size());
    pairs_.resize(group_.pairs.size());
    bores_.resize(valves * around_.size());
    for (std::size_t i = 0; i < group_.cells.size(); ++i) {
      const Setup setup(*group_.setup, engine(i));
      for (std::size_t pair = 0; pair < pairs_.size(); ++pair)
        pair_of_[i].push_back(pairs_[pair].number(pair_key(setup, group_.pairs[pair]), i));
      for (std::size_t valve = 0; valve < valves; ++valve)
        bore_of_[i].push_back(
            bores_[around_of_[i] * valves + valve].number(bore_key(setup, static_cast<int>(valve)), i));
    }
    search(std::span(pairs_), pacer, [&](std::size_t i, std::size_t pair) {
      return pair_value(Setup(*group_.setup, engine(i)), group_.pairs[pair]);
    });
    run_tasks(around_.size(), 1, pacer, 0, [&](std::size_t which) { find_around(which, pacer); });
  }

 private:
  const Engine& engine(std::size_t i) const { return *cells_[group_.cells[i]].engine; }

  void find_arounds() {
    for (std::size_t i = 0; i < group_.cells.size(); ++i) {
      const auto same = std::ranges::find_if(
          around_, [&](const Around& around) { return same_bore(engine(i), engine(around.cells.front())); });
      around_of_.push_back(static_cast<std::size_t>(same - around_.begin()));
      if (same == around_.end())
        around_.push_back({{i}});
      else
        same->cells.push_back(i);
    }
  }

  /// Block and gasket are made here and not kept: a hundred gaskets would fill the memory.
  void find_around(std::size_t which, Pacer& pacer) {
    const std::vector<std::size_t>& cells = around_[which].cells;
    const Engine& of = engine(cells.front());
    Parts parts;
    try {
      parts = rebuild_parts(of, {}, *group_.engine, group_.parts);
    } catch (const InputError& error) {
      for (const std::size_t i : cells) cells_[group_.cells[i]].trouble = error.faults().front().message;
      return;
    }
    const Setup setup(*group_.setup, of, parts);
    const std::size_t valves = group_.setup->valves.size(), own = which * valves;
    search(std::span(bores_).subspan(own, valves), pacer, [&](std::size_t i, std::size_t valve) {
      return bore_value(Setup(setup, engine(i)), static_cast<int>(valve));
    });
    run_tasks(cells.size(), 1, pacer, kOtherUnits, [&](std::size_t at) { tell(cells[at], setup); });
  }

  template <class Of>
  void search(std::span<Searches> all, Pacer& pacer, const Of& of) {
    std::vector<std::pair<std::size_t, std::size_t>> tasks;
    for (std::size_t which = 0; which < all.size(); ++which) {
      all[which].value.resize(all[which].first.size());
      for (std::size_t number = 0; number < all[which].first.size(); ++number) tasks.emplace_back(which, number);
    }
    run_tasks(tasks.size(), 1, pacer, 0, [&](std::size_t task) {
      const auto [which, number] = tasks[task];
      all[which].value[number] = of(all[which].first[number], which);
    });
  }

  /// `around`: with its block and gasket.
  void tell(std::size_t i, const Setup& around) {
    CellAtWork& cell = cells_[group_.cells[i]];
    const std::size_t valves = group_.setup->valves.size();
    LeastGaps& found = cell.found;
    for (std::size_t pair = 0; pair < pairs_.size(); ++pair)
      found.pairs.push_back(pairs_[pair].value[pair_of_[i][pair]]);
    for (std::size_t valve = 0; valve < valves; ++valve)
      found.bore.push_back(bores_[around_of_[i] * valves + valve].value[bore_of_[i][valve]]);
    found.head = piston_to_head(engine(i));
    add_running(Setup(around, engine(i)), group_.pairs, found);
  }

  const CellGroup& group_;
  std::vector<CellAtWork>& cells_;
  std::vector<Around> around_;
  std::vector<Searches> pairs_;  ///< one a pair
  std::vector<Searches> bores_;  ///< one a valve, for each of around_
  std::vector<std::size_t> around_of_;
  std::vector<std::vector<std::size_t>> pair_of_, bore_of_;
};

}  // namespace

void find_other_gaps(const CellGroup& group, std::vector<CellAtWork>& cells, Pacer& pacer) {
  Others(group, cells).run(pacer);
}

}  // namespace eyebrow::study
