#include "eyebrow/stack.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "study/stack_sample.hpp"
#include "study/stack_share.hpp"
#include "study/stack_worst.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace study {
namespace {

/// Shares of all work that the steps end at.
constexpr double kFitDone = 0.75, kWorstDone = 0.88, kSamplesDone = 1;

class Stack {
 public:
  Stack(const Mapper& mapper, const std::vector<Tolerance>& tolerances, const EngineBy& engine_by,
        const StackOptions& options, const CheckOptions& check)
      : drivers_(tolerances),
        engine_by_(engine_by),
        options_(options),
        check_(check),
        engines_(mapper, drivers_, engine_by, check_) {
    result_.engine = mapper.base().name;
    result_.units = mapper.base().units;
    result_.tolerances = tolerances;
    result_.drivers = drivers_.all();
    result_.seed = options.seed;
    result_.samples = options.samples;
    for (const Tolerance& of : tolerances)
      result_.endless =
          result_.endless || (of.shape == Tolerance::Shape::normal && of.plus_minus == 0 && of.worst() > 0);
    for (const MapGap& gap : map_gaps(mapper.base())) result_.gaps.emplace_back().gap = gap;
  }

  StackResult run() {
    engines_.find({StackPoint(drivers_.size(), 0)}, 0, 0);
    if (const MapCell& stated = engines_.at(StackPoint(drivers_.size(), 0)); !stated.possible())
      throw InputError({{"", 0, 0, stated.trouble}});
    fit_ = fit_stack(engines_, drivers_.size(), result_.gaps.size(), options_.seed);
    find_exact();
    lowest_ = lowest_in_stack(engines_, fit_, options_.seed, kFitDone, kWorstDone);
    sample();
    for (std::size_t gap = 0; gap < result_.gaps.size(); ++gap) tell(gap);
    result_.engines = engines_.all().size();
    result_.checked = fit_.checks.size();
    return std::move(result_);
  }

 private:
  std::vector<char> looked_at(Pacer& pacer) {
    std::vector<char> there;
    for (const auto& [point, cell] : engines_.all()) {
      if (cell.possible()) continue;
      ++result_.refused;
      if (result_.trouble.empty()) result_.trouble = cell.trouble;
    }
    if (result_.refused == 0) return there;
    options_.samples = result_.samples = std::min(options_.samples, kStackLooked);
    there.assign(options_.samples, 1);
    run_tasks(options_.samples, kChunk, pacer, 0, [&](std::size_t sample) {
      StackPoint point(drivers_.size());
      draw(drivers_, options_.seed, StackStream::samples, sample, point);
      try {
        engine_by_(drivers_.by(point));
      } catch (const InputError&) {
        there[sample] = 0;
      }
    });
    result_.none = static_cast<std::size_t>(std::ranges::count(there, 0));
    return there;
  }

  void sample() {
    CheckOptions options = check_;
    if (check_.progress)
      options.progress = [&](double share) { check_.progress(kWorstDone + share * (kSamplesDone - kWorstDone)); };
    Pacer pacer(options, static_cast<double>((options_.samples + kStackBlock - 1) / kStackBlock));
    for (std::size_t gap = 0; gap < result_.gaps.size(); ++gap)
      result_.gaps[gap].nominal = engines_.gap(StackPoint(drivers_.size(), 0), gap);
    const StackSamples samples(drivers_, fit_, options_, looked_at(pacer));
    samples.tell([&](std::size_t gap, double value, const StackPoint& point) { return floor_of(gap, value, point); },
                 result_.gaps, pacer);
    tell_joint(samples, pacer);
  }

  void tell_joint(const StackSamples& samples, Pacer& pacer) {
    StackJoint& joint = result_.joint;
    std::vector<double> required;
    for (const std::size_t gap : options_.joint) {
      if (fit_.gaps[gap].kind != StackFitted::Kind::surface) continue;
      joint.gaps.push_back(gap);
      joint.room.push_back(fit_.gaps[gap].room());
      joint.floor.push_back(result_.endless ? -INFINITY : lowest_[gap].value);
      required.push_back(result_.gaps[gap].gap.required);
    }
    if (joint.gaps.empty()) return;
    joint.values = samples.values(joint.gaps, pacer, 0);
    joint.count = result_.samples - result_.none;
    const JointlyShort found = jointly_short(joint, required);
    joint.below = found.below;
    joint.share = joint.count > 0 ? static_cast<double>(found.below) / static_cast<double>(joint.count) : NAN;
    std::tie(joint.low, joint.high) = share_interval(found.surely, found.maybe, joint.count);
  }

  /// No sample may be below the worst case: one that is, on the surface, is computed exactly.
  double floor_of(std::size_t gap, double value, const StackPoint& point) {
    if (value < lowest_[gap].value && within(point)) {
      engines_.find({point}, kSamplesDone, kSamplesDone);
      if (engines_.gap(point, gap) < lowest_[gap].value)
        lowest_ = lowest_in_stack(engines_, fit_, options_.seed, kSamplesDone, kSamplesDone);
    }
    return result_.endless ? -INFINITY : lowest_[gap].value;
  }

  static bool within(const StackPoint& point) {
    return std::ranges::all_of(point, [](double place) { return std::fabs(place) <= 1; });
  }

  /// Gaps without a surface are told from engines drawn at random.
  void find_exact() {
    if (std::ranges::none_of(fit_.gaps, [](const StackFitted& of) { return of.kind == StackFitted::Kind::exact; }))
      return;
    for (std::size_t i = 0; i < kStackExact; ++i) {
      StackPoint point(drivers_.size());
      draw(drivers_, options_.seed, StackStream::exact, i, point);
      exact_.push_back(point);
    }
    engines_.find(exact_, kFitDone, kFitDone);
  }

  void tell_exact(std::size_t gap) {
    StackGap& told = result_.gaps[gap];
    told.exact = true;
    std::vector<float> values;
    for (const StackPoint& point : exact_)
      // An engine without the gap is not below what is asked of it.
      if (const MapCell& cell = engines_.at(point); cell.possible())
        values.push_back(std::isnan(cell.found[gap]) ? INFINITY : static_cast<float>(cell.found[gap]));
    StackGap shares = told;
    tell_values(values, 0, -INFINITY, shares);
    told.below = shares.below;
    told.share = shares.share;
    told.low = shares.low;
    told.high = shares.high;
  }

  void tell(std::size_t gap) {
    StackGap& told = result_.gaps[gap];
    const StackFitted& of = fit_.gaps[gap];
    if (of.kind == StackFitted::Kind::exact) tell_exact(gap);
    if (of.kind != StackFitted::Kind::surface) {
      // What is not there may be asked for all the same.
      for (const auto& [point, cell] : engines_.all())
        if (cell.possible() && within(point)) told.worst.holds = told.worst.holds && cell.holds[gap];
    }
    if (of.kind == StackFitted::Kind::nowhere) return;
    const StackLowest& lowest = lowest_[gap];
    told.worst.value = lowest.value;
    told.worst.bound = lowest.bound;
    if (!std::isnan(lowest.value)) {
      told.worst.by = drivers_.by(lowest.point);
      told.worst.holds = told.worst.holds && engines_.at(lowest.point).holds[gap];
      told.worst.touches = lowest.value < 0 && told.gap.what != "radial";
    }
    if (of.kind != StackFitted::Kind::surface) return;
    told.residual = of.residual;
    told.residual_rms = of.residual_rms;
    double squares = 0;
    for (std::size_t driver = 0; driver < drivers_.size(); ++driver) {
      if (!of.surface.matters(driver)) continue;
      const double down = fit_.reach.down[driver], up = fit_.reach.up[driver];
      double least = 0;
      for (const double place : {-down, -0.5 * down, 0.5 * up, up})
        least = std::fmin(least, of.surface.alone(driver, place));
      squares += least * least;
    }
    told.rss = told.nominal - std::sqrt(squares);
  }

  StackDrivers drivers_;
  const EngineBy& engine_by_;
  StackOptions options_;
  const CheckOptions& check_;
  StackEngines engines_;
  StackFit fit_;
  std::vector<StackLowest> lowest_;
  std::vector<StackPoint> exact_;
  StackResult result_;
};

}  // namespace
}  // namespace study

bool StackResult::holds() const {
  return std::ranges::all_of(gaps, [](const StackGap& of) { return of.worst.holds && !of.worst.touches; });
}

StackResult stack(const Mapper& mapper, const std::vector<Tolerance>& tolerances, const EngineBy& engine_by,
                  const StackOptions& options, const CheckOptions& check) {
  return study::Stack(mapper, tolerances, engine_by, options, check).run();
}

}  // namespace eyebrow
