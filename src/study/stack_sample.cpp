#include "study/stack_sample.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <tuple>

#include "study/stack_share.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// Gaps whose samples are kept at a time: 64 MB of a million samples.
constexpr std::size_t kGapsAtOnce = 16;

double quantile_of(std::vector<float>& values, double share) {
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::ranges::nth_element(values, at);
  return *at;
}

void tell_distribution(const std::vector<float>& values, StackGap& told) {
  const auto [least, most] = std::ranges::minmax(values);
  const double from = least, to = most;
  if (!(to > from)) return;
  for (std::size_t i = 0; i <= kStackBins; ++i)
    told.edges.push_back(from + (to - from) * static_cast<double>(i) / static_cast<double>(kStackBins));
  told.counts.assign(kStackBins, 0);
  for (const float value : values) {
    const double bin = (value - from) / (to - from) * static_cast<double>(kStackBins);
    ++told.counts[std::min(kStackBins - 1, static_cast<std::size_t>(bin))];
  }
}

}  // namespace

void tell_values(std::vector<float>& values, double room, double floor, StackGap& told) {
  if (values.empty()) return;
  std::size_t surely = 0, maybe = 0;
  told.below = 0;
  // What is at the floor is as it was computed, and not off.
  const auto below = [&](double value) { return std::fmax(value, floor) < told.gap.required; };
  double sum = 0, squares = 0;
  for (float& value : values) {
    surely += below(value + room);
    told.below += below(value);
    maybe += below(value - room);
    value = std::fmax(value, static_cast<float>(floor));
    sum += value;
  }
  const auto count = static_cast<double>(values.size());
  told.mean = sum / count;
  for (const float value : values) squares += (value - told.mean) * (value - told.mean);
  told.deviation = std::sqrt(squares / count);
  told.share = static_cast<double>(told.below) / count;
  std::tie(told.low, told.high) = share_interval(surely, maybe, values.size());
  // In any order from here on.
  told.p01 = quantile_of(values, 0.001);
  told.p1 = quantile_of(values, 0.01);
  told.p50 = quantile_of(values, 0.5);
  told.p99 = quantile_of(values, 0.99);
  tell_distribution(values, told);
}

void StackSamples::tell(const Floor& floor, std::vector<StackGap>& gaps, Pacer& pacer) const {
  std::vector<std::size_t> with_surface;
  for (std::size_t gap = 0; gap < gaps.size(); ++gap)
    if (fit_.gaps[gap].kind == StackFitted::Kind::surface) with_surface.push_back(gap);
  const std::size_t blocks = (options_.samples + kStackBlock - 1) / kStackBlock;
  for (std::size_t first = 0; first < with_surface.size(); first += kGapsAtOnce) {
    const std::size_t count = std::min(kGapsAtOnce, with_surface.size() - first);
    const auto from = with_surface.begin() + static_cast<std::ptrdiff_t>(first);
    std::vector<std::vector<float>> values =
        this->values({from, from + static_cast<std::ptrdiff_t>(count)}, pacer,
                     static_cast<double>(blocks * count) / static_cast<double>(with_surface.size()));
    std::vector<double> floors;
    for (std::size_t i = 0; i < count; ++i) {
      const auto lowest = std::ranges::min_element(values[i]);
      StackPoint point(drivers_.size());
      draw(drivers_, options_.seed, StackStream::samples, static_cast<std::uint64_t>(lowest - values[i].begin()),
           point);
      floors.push_back(floor(with_surface[first + i], *lowest, point));
    }
    run_tasks(count, 1, pacer, 0, [&](std::size_t i) {
      const std::size_t gap = with_surface[first + i];
      if (!there_.empty()) std::erase_if(values[i], [](float value) { return std::isinf(value); });
      tell_values(values[i], fit_.gaps[gap].room(), floors[i], gaps[gap]);
      tell_parts(gap, gaps[gap]);
      values[i] = {};
    });
  }
}

std::vector<std::vector<float>> StackSamples::values(const std::vector<std::size_t>& gaps, Pacer& pacer,
                                                     double units) const {
  const std::size_t blocks = (options_.samples + kStackBlock - 1) / kStackBlock;
  std::vector<std::vector<float>> values(gaps.size(), std::vector<float>(options_.samples));
  run_tasks(blocks, 1, pacer, units / static_cast<double>(blocks), [&](std::size_t block) {
    StackPoint point(drivers_.size());
    const std::size_t end = std::min(options_.samples, (block + 1) * kStackBlock);
    for (std::size_t sample = block * kStackBlock; sample < end; ++sample) {
      draw(drivers_, options_.seed, StackStream::samples, sample, point);
      for (std::size_t i = 0; i < gaps.size(); ++i)
        values[i][sample] = is_there(sample) ? static_cast<float>(fit_.gaps[gaps[i]].surface.at(point)) : INFINITY;
    }
  });
  return values;
}

JointlyShort jointly_short(const StackJoint& joint, const std::vector<double>& required) {
  JointlyShort found;
  const std::size_t samples = joint.values.empty() ? 0 : joint.values.front().size();
  for (std::size_t sample = 0; sample < samples; ++sample) {
    bool surely = false, below = false, maybe = false;
    for (std::size_t i = 0; i < joint.values.size(); ++i) {
      const double value = joint.values[i][sample], floor = joint.floor[i];
      surely = surely || std::fmax(value + joint.room[i], floor) < required[i];
      below = below || std::fmax(value, floor) < required[i];
      maybe = maybe || std::fmax(value - joint.room[i], floor) < required[i];
    }
    found.surely += surely;
    found.below += below;
    found.maybe += maybe;
  }
  return found;
}

void StackSamples::tell_parts(std::size_t gap, StackGap& told) const {
  const StackSurface& surface = fit_.gaps[gap].surface;
  std::vector<double> squares(drivers_.size(), 0);
  double sum = 0, sum2 = 0;
  StackPoint one(drivers_.size()), other(drivers_.size());
  for (std::size_t i = 0; i < kStackShares; ++i) {
    draw(drivers_, options_.seed, StackStream::samples, i, one);
    draw(drivers_, options_.seed, StackStream::others, i, other);
    const double value = surface.at(one);
    sum += value - told.nominal;
    sum2 += (value - told.nominal) * (value - told.nominal);
    for (std::size_t driver = 0; driver < drivers_.size(); ++driver) {
      if (!surface.matters(driver)) continue;
      std::swap(one[driver], other[driver]);
      const double change = surface.at(one) - value;
      squares[driver] += change * change;
      std::swap(one[driver], other[driver]);
    }
  }
  constexpr auto kCount = static_cast<double>(kStackShares);
  const double variance = sum2 / kCount - (sum / kCount) * (sum / kCount);
  for (std::size_t driver = 0; driver < drivers_.size(); ++driver)
    if (surface.matters(driver) && variance > 0)
      told.parts.push_back({driver, std::fmin(1, squares[driver] / (2 * kCount * variance)),
                            surface.alone(driver, fit_.reach.up[driver]),
                            surface.alone(driver, -fit_.reach.down[driver])});
  std::ranges::stable_sort(told.parts, std::greater(), &StackPart::share);
}

}  // namespace eyebrow::study
