#include "eyebrow/remedies.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>

#include "study/possible.hpp"
#include "study/row_at.hpp"
#include "study/tasks.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace study {
namespace {

/// What one input one way counts as progress; the last of it is what the change does to other gaps.
constexpr double kWayUnits = 5;

/// An engine with one number changed, its solids with it. Throws InputError where there is none.
struct Changed {
  Engine engine;
  Parts parts;
  Setup setup;
  std::vector<ValvePair> pairs;

  Changed(Engine of, const Setup& like, double deflection)
      : engine(std::move(of)),
        parts(rebuild_parts(engine, {}, like.engine, like.parts, deflection)),
        setup(like, engine, parts) {
    require_places_of_their_own(setup);
    pairs = valve_pairs(setup);
    require_apart_when_closed(setup, pairs);
  }
  Changed(const Changed&) = delete;
};

/// What was found of one input one way, with the engine that holds.
struct Told {
  Remedy remedy;
  std::unique_ptr<Changed> engine;
};

/// One input, one way, for one gap. Places are counted in whole steps.
class Way {
 public:
  Way(const Setup& setup, const EngineWith& engine_with, std::size_t gap, const AskedRow& today,
      const RemedyInput& input, int way, Pacer& pacer)
      : setup_(setup), engine_with_(engine_with), gap_(gap), today_(today), input_(input), way_(way), pacer_(pacer) {}

  Told run() {
    Told told;
    told.remedy.input = input_;
    const double now = input_.now / input_.step;
    // What lies on a whole step but for rounding is on it.
    const long here = std::lround(now);
    const bool on = std::fabs(now - static_cast<double>(here)) < 1e-6;
    start_ = on ? here : static_cast<long>(way_ > 0 ? std::floor(now) : std::ceil(now));
    near_ = {start_, today_.margin};
    scan(told.remedy);
    if (!good_) return told;
    refine();
    if (!settle()) {
      told.remedy.trouble = trouble_;
      return told;
    }
    told.remedy.restores = true;
    told.remedy.value = value(good_->at);
    told.remedy.found = found_;
    told.engine = std::move(engine_);
    return told;
  }

 private:
  struct Place {
    long at = 0;
    double margin = NAN;
  };

  /// A multiple of the step, as people write it: a division by a power of ten is right to the last bit.
  double value(long steps) const { return static_cast<double>(steps) / std::round(1 / input_.step); }
  long reach() const { return std::lround(std::floor((way_ > 0 ? input_.more : input_.less) / input_.step + 1e-6)); }
  long apart() const { return std::labs(good_->at - near_.at); }

  /// Further and further out, until it holds, there is no such engine, or nothing hopes any more.
  void scan(Remedy& remedy) {
    const double unit = input_.unit == "in" ? kInch : 1;
    const double first = input_.unit == "deg" ? kMendFirstCam : kMendFirst / unit;
    int worse = 0;
    for (long out = std::min(std::max(1L, std::lround(first / input_.step)), reach());;
         out = std::min(2 * out, reach())) {
      const long at = start_ + way_ * out;
      if (!look(at)) {
        between(at, remedy);
        break;
      }
      if (good_) return;
      worse = near_.margin < today_.margin - kMendNoise ? worse + 1 : 0;
      if (out == reach() || worse == kMendWorse) break;
    }
    remedy.least = std::min(value(start_), value(near_.at));
    remedy.most = std::max(value(start_), value(near_.at));
  }

  /// Between one that does not hold and one that cannot be made.
  void between(long impossible, Remedy& remedy) {
    for (int i = 0; i < kMendHalvings && !good_ && std::labs(impossible - near_.at) > 1; ++i) {
      const long middle = near_.at + (impossible - near_.at) / 2;
      if (!look(middle)) impossible = middle;
    }
    if (!good_) remedy.trouble = trouble_;
  }

  /// Between near_, which does not hold, and good_, which does, the first that does.
  void refine() {
    bool halve = false;
    while (apart() > 1) {
      double share = 0.5;
      if (!halve && std::isfinite(near_.margin) && good_->margin > near_.margin)
        share = -near_.margin / (good_->margin - near_.margin);
      const long before = apart();
      // The line's own zero, then the place on the other side of it: where the gap goes straight these two are the end.
      const long guess = inside(near_.at + std::lround(share * static_cast<double>(good_->at - near_.at)));
      look(guess);
      if (apart() > 1) look(inside(good_->at == guess ? guess - way_ : guess + way_));
      halve = apart() > before / 2;
    }
  }
  long inside(long guess) const {
    return std::clamp(guess, std::min(near_.at, good_->at) + 1, std::max(near_.at, good_->at) - 1);
  }

  /// The same end with the mesh of a check: outward while it does not hold, inward while it does. False where nothing
  /// holds as far as an input is looked at.
  bool settle() {
    deflection_ = kDeflection;
    long at = good_->at;
    good_.reset();
    for (long by = 1; !good_; at += way_ * by, by *= 2)
      if (std::labs(at - start_) > reach() || !look(at)) return false;
    const long held = good_->at;
    for (long by = 1; good_->at == held || apart() > by; by *= 2) {
      const long nearer = held - way_ * by;
      if ((nearer - start_) * way_ <= 0) {
        near_ = {start_, today_.margin};
        break;
      }
      look(nearer);
      if (near_.at == nearer) break;
    }
    refine();
    return true;
  }

  /// False where there is no such engine, and trouble_ tells why.
  bool look(long at) {
    pacer_.poll();
    try {
      auto changed = std::make_unique<Changed>(engine_with_(input_, value(at)), setup_, deflection_);
      const AskedRow row = judged_row(changed->setup, changed->pairs, gap_);
      if (!row.holds) {
        near_ = {at, row.margin};
        return true;
      }
      good_ = {at, row.margin};
      found_ = row.found;
      engine_ = std::move(changed);
    } catch (const InputError& error) {
      trouble_ = error.faults().front().message;
      return false;
    }
    return true;
  }

  const Setup& setup_;
  const EngineWith& engine_with_;
  std::size_t gap_;
  const AskedRow& today_;
  const RemedyInput& input_;
  int way_;
  Pacer& pacer_;
  double deflection_ = kMendDeflection;
  long start_ = 0;                   ///< today, or the step beside it that is less of a change
  Place near_;                       ///< the furthest that does not hold
  std::optional<Place> good_;        ///< the nearest that holds
  double found_ = NAN;               ///< there
  std::unique_ptr<Changed> engine_;  ///< there
  std::string trouble_;
};

/// Of both ways: the one that restores, the shorter one where both do; else what was looked at.
Told better(Told less, Told more) {
  const auto by = [](const Remedy& of) { return of.restores ? std::fabs(of.value - of.input.now) : INFINITY; };
  if (less.remedy.restores || more.remedy.restores)
    return by(less.remedy) < by(more.remedy) ? std::move(less) : std::move(more);
  less.remedy.most = more.remedy.most;
  if (less.remedy.trouble.empty()) less.remedy.trouble = more.remedy.trouble;
  return less;
}

}  // namespace
}  // namespace study

bool Remedy::spoils() const {
  return std::ranges::any_of(others, [](const Other& other) { return other.held && !other.holds; });
}

std::vector<GapRemedies> remedies(const Mapper& mapper, const Origins& origins, const EngineWith& engine_with,
                                  const CheckOptions& options) {
  using namespace study;
  const Setup& setup = mapper.setup();
  const auto rows = judge(setup.engine, least_gaps(setup, valve_pairs(setup))).rows;
  const std::vector<MapGap> gaps = map_gaps(setup.engine);
  std::vector<std::size_t> short_ones;  // into rows, as `gaps` are
  std::vector<GapRemedies> found;
  for (std::size_t gap = 0; gap < rows.size(); ++gap) {
    if (rows[gap].holds) continue;
    short_ones.push_back(gap);
    found.push_back({gaps[gap], rows[gap].found, {}});
  }

  struct Task {
    std::size_t gap, remedy;
    int way;
    Told told = {};
  };
  std::vector<Task> tasks;
  for (std::size_t i = 0; i < found.size(); ++i)
    for (const RemedyInput& input : remedy_inputs(setup.engine, origins, short_ones[i])) {
      if (input.less > 0) tasks.push_back({i, found[i].remedies.size(), -1});
      if (input.more > 0) tasks.push_back({i, found[i].remedies.size(), 1});
      found[i].remedies.emplace_back().input = input;
    }
  Pacer pacer(options, static_cast<double>(tasks.size()) * kWayUnits);
  run_tasks(tasks.size(), 1, pacer, kWayUnits - 1, [&](std::size_t t) {
    Task& task = tasks[t];
    const std::size_t gap = short_ones[task.gap];
    const RemedyInput& input = found[task.gap].remedies[task.remedy].input;
    task.told = Way(setup, engine_with, gap, rows[gap], input, task.way, pacer).run();
  });
  struct Chosen {
    std::size_t gap;
    Told told;
  };
  std::vector<Chosen> chosen;
  for (std::size_t t = 0; t < tasks.size(); ++t) {
    const bool both = t > 0 && tasks[t - 1].gap == tasks[t].gap && tasks[t - 1].remedy == tasks[t].remedy;
    if (both)
      chosen.back().told = better(std::move(chosen.back().told), std::move(tasks[t].told));
    else
      chosen.push_back({short_ones[tasks[t].gap], std::move(tasks[t].told)});
  }
  run_tasks(chosen.size(), 1, pacer, 1, [&](std::size_t i) {
    Remedy& remedy = chosen[i].told.remedy;
    if (!remedy.restores) return;
    const Changed& changed = *chosen[i].told.engine;
    const auto there = judge(changed.engine, least_gaps(changed.setup, changed.pairs)).rows;
    for (std::size_t gap = 0; gap < rows.size(); ++gap)
      if (gap != chosen[i].gap)
        remedy.others.push_back({gaps[gap], there[gap].found - rows[gap].found, rows[gap].holds, there[gap].holds});
  });
  std::size_t next = 0;
  for (GapRemedies& of : found)
    for (Remedy& remedy : of.remedies) remedy = std::move(chosen[next++].told.remedy);
  return found;
}

}  // namespace eyebrow
