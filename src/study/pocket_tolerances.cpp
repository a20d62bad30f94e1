#include "study/pocket_tolerances.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "study/stack_sample.hpp"
#include "study/stack_share.hpp"

namespace eyebrow::study {
namespace {

constexpr int kMostRounds = 6;
/// From this round on nothing is taken out of hand any more, so that pockets that take turns come to an end.
constexpr int kOnlyMore = 3;
/// So much more kept than was needed (mm) is not worth another round: less than half a step of a pocket.
constexpr double kKeptEnough = 0.002;
/// A gap that has more than this (mm) beyond what is kept of it is one that does not bind.
constexpr double kDoesNotBind = 0.02;
/// Of a share in whose place so many engines in a hundred thousand fall short, some two hundred do among these many:
/// the 95 % interval is then about 15 % of it to either side, and half of that is what the pockets have to be better
/// by.
constexpr double kShortSamples = 200;
constexpr std::size_t kLeastSamples = 10000, kMostSamples = 1000000;
constexpr int kHalvings = 30;
constexpr std::size_t kToldDrivers = 3;
/// Of a round: sizing is so much, the stack the rest. Each round is so much of the work that is left.
constexpr double kSizingPart = 0.25, kRoundPart = 0.55;

class Within {
 public:
  Within(const Engine& engine, const PocketTolerances& within, PocketSizer& sizer)
      : given_(engine), within_(within), sizer_(sizer), kept_(engine.valves.size()) {
    options_.seed = within.seed;
    // In the worst case samples only show places that the surface has lower: see stack().
    options_.samples = kLeastSamples;
    if (within.share)
      options_.samples =
          static_cast<std::size_t>(std::clamp(std::round(kShortSamples / (1 - *within.share)),
                                              static_cast<double>(kLeastSamples), static_cast<double>(kMostSamples)));
  }

  PocketsWithin run(const PartOfWork& part_of_work) {
    double done = 0;
    for (int round = 1;; ++round) {
      const double end = done + kRoundPart * (kWithinDone - done), sized = done + kSizingPart * (end - done);
      sizer_.size(kept_, part_of_work(done, sized));
      find(part_of_work(sized, end));
      done = end;
      result_.rounds = round;
      judge_stack();
      RoomKept next = needed();
      if (round >= kOnlyMore) keep_more(next);
      if (result_.holds && (round >= kOnlyMore || !too_much(next))) break;
      if (!sizer_.keeps_all()) {
        result_.why = "no pocket that was found keeps what they take";
        break;
      }
      if (round == kMostRounds) break;
      kept_ = next;
    }
    if (result_.holds) result_.why.clear();
    tell();
    return result_;
  }

 private:
  /// The moved engine with the sized pockets, each changed as the tolerances change the file's own.
  Engine sized_by(const std::vector<double>& by) const {
    Engine engine = within_.engine_by(by);
    const std::vector<Pocket> moved = std::move(engine.piston.pockets);
    const Engine& sized = sizer_.engine();
    engine.piston.pockets = sized.piston.pockets;
    for (std::size_t valve = 0; valve < engine.valves.size(); ++valve)
      engine.valves[valve].pocket = sized.valves[valve].pocket;
    for (std::size_t i = 0; i < moved.size(); ++i)
      for (double Pocket::*number : {&Pocket::x, &Pocket::y, &Pocket::tilt, &Pocket::lean, &Pocket::diameter,
                                     &Pocket::depth, &Pocket::corner_radius, &Pocket::mouth_break})
        engine.piston.pockets[i].*number += moved[i].*number - given_.piston.pockets[i].*number;
    return engine;
  }

  void find(const CheckOptions& check) {
    const Mapper mapper(sizer_.engine());
    chosen_.clear();
    const std::vector<MapGap> gaps = map_gaps(mapper.base());
    for (std::size_t i = 0; i < gaps.size(); ++i)
      if (const auto of = place_of(gaps[i])) chosen_.push_back({i, of->first, of->second});
    options_.joint.clear();
    if (within_.share)
      for (const Chosen& of : chosen_) options_.joint.push_back(of.gap);
    stack_ = stack(
        mapper, within_.tolerances, [this](const std::vector<double>& by) { return sized_by(by); }, options_, check);
  }

  /// Which valve and kind a gap is of; nothing where no pocket can do anything about it, or nothing is asked.
  std::optional<std::pair<std::size_t, std::size_t>> place_of(const MapGap& gap) const {
    for (std::size_t valve = 0; valve < given_.valves.size(); ++valve)
      for (std::size_t kind = 0; kind < std::size(kGapKinds); ++kind) {
        const Valve& of = given_.valves[valve];
        if (gap.valve != of.name || gap.what != to_string(kGapKinds[kind])) continue;
        // The radial gap looks ahead: running, where nothing is asked of it, it may be anything.
        if (gap.running && kGapKinds[kind] == GapKind::radial && !given_.asked.running.contains(of.role)) continue;
        return std::pair(valve, kind);
      }
    return {};
  }

  struct Chosen {
    std::size_t gap, valve, kind;
  };
  const StackGap& of(const Chosen& one) const { return stack_.gaps[one.gap]; }
  double& kept(RoomKept& in, const Chosen& one) const { return in.at(one.valve, one.kind, of(one).gap.running); }

  static bool holds_at_worst(const StackGap& gap) { return gap.worst.holds && !gap.worst.touches; }

  void judge_stack() {
    result_.why.clear();
    result_.holds = std::ranges::all_of(chosen_, [&](const Chosen& one) { return holds_at_worst(of(one)); });
    if (!within_.share) {
      if (!result_.holds) result_.why = "what is kept and what they take did not come to agree";
      return;
    }
    // Without a surface a gap's share is told from few engines: none of its doubt may be left out.
    double doubt = 0;
    std::string doubtful;
    for (const Chosen& one : chosen_) {
      const StackGap& gap = of(one);
      if (gap.exact && gap.high > 0) {
        doubt += gap.high;
        doubtful += (doubtful.empty() ? "" : ", ") + gap_name(gap.gap);
      } else if (!std::isfinite(gap.residual) && !gap.worst.holds) {
        doubt = 1;
        result_.why = fmt::format("{} is nowhere, and nothing else holds it", gap_name(gap.gap));
      }
    }
    const StackJoint& joint = stack_.joint;
    const bool counted = joint.count > 0;
    result_.found = 1 - (counted ? joint.share : 0);
    result_.low = std::max(0.0, 1 - (counted ? joint.high : 0) - doubt);
    result_.high = 1 - (counted ? joint.low : 0);
    result_.holds = result_.low >= *within_.share;
    if (result_.why.empty())
      result_.why = doubt > 1 - *within_.share
                        ? fmt::format(
                              "{} comes and goes within the tolerances, so that the share of engines that "
                              "leave it is known from few",
                              doubtful)
                        : "what is kept and what they take did not come to agree";
  }

  /// What the tolerances take of each gap, as the last stack has it.
  RoomKept needed() const {
    RoomKept next(given_.valves.size());
    for (const Chosen& one : chosen_) {
      const StackGap& gap = of(one);
      double& keep = kept(next, one);
      keep = kept_.at(one.valve, one.kind, gap.gap.running);
      if (std::isfinite(gap.nominal) && std::isfinite(gap.worst.value)) keep = gap.nominal - gap.worst.value;
      // Where it comes and goes there may be no nominal.
      if (!holds_at_worst(gap) && gap.worst.value < gap.gap.required && !std::isfinite(gap.nominal))
        keep += gap.gap.required - gap.worst.value;
    }
    if (within_.share) take_share(next);
    return next;
  }

  /// Of the gaps with a surface what all but a part of the engines leave: the same part of each, as great as the share
  /// of all together lets it be.
  void take_share(RoomKept& next) const {
    const StackJoint& joint = stack_.joint;
    if (joint.count == 0) return;
    std::vector<std::vector<float>> lost(joint.gaps.size());
    std::vector<double> beyond;  // what there is more than is kept, where the gap does not bind
    for (std::size_t i = 0; i < joint.gaps.size(); ++i) {
      const StackGap& gap = stack_.gaps[joint.gaps[i]];
      for (const float value : joint.values[i])
        if (std::isfinite(value))
          lost[i].push_back(static_cast<float>(gap.nominal - std::fmax(value - joint.room[i], joint.floor[i])));
      std::ranges::sort(lost[i]);
      const Chosen& one = *std::ranges::find(chosen_, joint.gaps[i], &Chosen::gap);
      const double more = gap.nominal - gap.gap.required - kept_.at(one.valve, one.kind, gap.gap.running);
      beyond.push_back(more > kDoesNotBind ? more : 0);
    }
    const auto keep_at = [&](double part) {
      std::vector<double> keep;
      for (const std::vector<float>& values : lost) {
        const auto last = static_cast<double>(values.size() - 1);
        keep.push_back(std::fmax(0, values[static_cast<std::size_t>(std::ceil((1 - part) * last))]));
      }
      return keep;
    };
    const auto enough = [&](const std::vector<double>& keep) {
      std::vector<double> required;
      for (std::size_t i = 0; i < keep.size(); ++i)
        // A sample is kept in single precision.
        required.push_back(stack_.gaps[joint.gaps[i]].nominal - keep[i] - beyond[i] - 1e-6);
      const std::size_t maybe = jointly_short(joint, required).maybe;
      return share_interval(0, maybe, joint.count).second <= 1 - *within_.share;
    };
    double part = 0, too_great = 1 - *within_.share;
    if (enough(keep_at(too_great))) part = too_great;
    for (int i = 0; i < kHalvings && part < too_great; ++i) {
      const double middle = 0.5 * (part + too_great);
      (enough(keep_at(middle)) ? part : too_great) = middle;
    }
    const std::vector<double> keep = keep_at(part);
    for (std::size_t i = 0; i < joint.gaps.size(); ++i)
      kept(next, *std::ranges::find(chosen_, joint.gaps[i], &Chosen::gap)) = keep[i];
  }

  void keep_more(RoomKept& next) const {
    for (const Chosen& one : chosen_)
      kept(next, one) = std::fmax(kept(next, one), kept_.at(one.valve, one.kind, of(one).gap.running));
  }

  bool too_much(const RoomKept& next) const {
    return std::ranges::any_of(chosen_, [&](const Chosen& one) {
      return kept_.at(one.valve, one.kind, of(one).gap.running) >
             next.at(one.valve, one.kind, of(one).gap.running) + kKeptEnough;
    });
  }

  void tell() {
    result_.share = within_.share;
    result_.seed = options_.seed;
    result_.samples = stack_.samples;
    result_.engines = stack_.engines;
    result_.checked = stack_.checked;
    result_.endless = stack_.endless;
    result_.tolerances = static_cast<std::size_t>(
        std::ranges::count_if(within_.tolerances, [](const Tolerance& of) { return of.worst() > 0; }));
    for (const Chosen& one : chosen_) {
      const StackGap& gap = of(one);
      if (gap.gap.running && gap.gap.required <= 0 && holds_at_worst(gap)) continue;
      GapWithin told;
      told.gap = gap.gap;
      told.kept = kept_.at(one.valve, one.kind, gap.gap.running);
      told.nominal = gap.nominal;
      told.least = gap.worst.value;
      told.holds = holds_at_worst(gap);
      if (within_.share && !gap.exact && std::isfinite(gap.residual)) {
        told.least = share_has(one.gap);
        told.holds = told.least >= gap.gap.required;
      }
      if (std::isfinite(gap.residual)) result_.off = std::fmax(result_.off, gap.residual);
      for (const StackPart& part : gap.parts) {
        const double takes = std::fmax(0, -std::fmin(part.up, part.down));
        if (takes > 0 && told.by.size() < kToldDrivers) told.by.emplace_back(stack_.drivers[part.driver].label, takes);
      }
      std::ranges::stable_sort(told.by, std::greater(), &std::pair<std::string, double>::second);
      result_.gaps.push_back(told);
    }
  }

  /// What the asked share of the engines drawn has at least of one gap.
  double share_has(std::size_t gap) const {
    const StackJoint& joint = stack_.joint;
    const auto at = static_cast<std::size_t>(std::ranges::find(joint.gaps, gap) - joint.gaps.begin());
    std::vector<float> values;
    for (const float value : joint.values[at])
      if (std::isfinite(value)) values.push_back(std::fmax(value, static_cast<float>(joint.floor[at])));
    if (values.empty()) return NAN;
    const auto place =
        values.begin() + static_cast<std::ptrdiff_t>((1 - *within_.share) * static_cast<double>(values.size() - 1));
    std::ranges::nth_element(values, place);
    return *place;
  }

  const Engine& given_;
  const PocketTolerances& within_;
  PocketSizer& sizer_;
  RoomKept kept_;
  StackOptions options_;
  std::vector<Chosen> chosen_;
  StackResult stack_;
  PocketsWithin result_;
};

}  // namespace

PocketsWithin size_within(const Engine& engine, const PocketTolerances& within, PocketSizer& sizer,
                          const PartOfWork& part_of_work) {
  return Within(engine, within, sizer).run(part_of_work);
}

}  // namespace eyebrow::study
