// How maps grow with their cells and stacks with their samples.
#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "bench/rows.hpp"
#include "bench/scene.hpp"
#include "bench/timing.hpp"
#include "eyebrow/reading.hpp"
#include "eyebrow/stack.hpp"

namespace eyebrow::bench {
namespace {

constexpr const char* kStackModel = "two_valve_wedge_stack";
constexpr int kMapSides[] = {6, 11, 21, 41}, kSolidCells[] = {2, 4, 8, 16};
constexpr std::size_t kSampleCounts[] = {1000, 10000, 100000, 1000000};
constexpr double kAnySeconds = 10;  // to reach: 100,000 samples of any inputs

/// One row of how the time goes with a count.
template <std::size_t N, class Count, class Work>
void print_growth(const char* what, const Count (&counts)[N], const Work& work) {
  std::vector<double> sizes, times;
  fmt::print("{:58}", what);
  for (const Count count : counts) {
    sizes.push_back(work(count, times));
    fmt::print("{:>9.2f}", times.back());
  }
  fmt::print("{:>9.2f}\n", log_log_slope(sizes, times));
}

Varied evenly(const char* key, double from, double to, int count) {
  Varied input;
  input.key = key;
  for (int i = 0; i < count; ++i) input.values.push_back(from + (to - from) * i / (count - 1));
  return input;
}

/// Seconds of a stack of a model's tolerances, or of those that only move parts.
double stack_seconds(const EngineText& text, const EngineFile& file, bool moving_only, std::size_t samples) {
  std::vector<Tolerance> tolerances;
  for (const Tolerance& each : file.tolerances)
    if (!moving_only || each.key == "gasket.thickness" || each.key == "cylinder.deck_clearance" ||
        each.key == "cam.advance")
      tolerances.push_back(each);
  const EngineBy engine_by = [&](const std::vector<double>& by) {
    std::vector<Override> overrides;
    for (std::size_t i = 0; i < by.size(); ++i)
      overrides.push_back(moved(tolerances[i].key, file.origins.at(tolerances[i].key), by[i]));
    return text.engine(overrides);
  };
  return seconds_of([&] {
    const Mapper mapper(file.engine);
    keep(stack(mapper, tolerances, engine_by, {samples, 1}).gaps.front().nominal);
  });
}

}  // namespace

void study_rows() {
  const EngineText text = EngineText::of_file(EYEBROW_MODELS "/" + std::string(kStackModel) + ".toml");
  const EngineFile file = text.read();
  const Mapper mapper(file.engine);
  fmt::print("\nMaps and stacks of {}, all its gaps, two threads, seconds; slope in logarithms.\n", kStackModel);
  fmt::print("{:58}{:>9}{:>9}{:>9}{:>9}{:>9}\n", "cells", "36", "121", "441", "1681", "slope");
  print_growth("map of advance and gasket (fields, then the kernel)", kMapSides, [&](int side, auto& times) {
    times.push_back(seconds_of([&] {
      keep(mapper
               .map({evenly("cam.advance", -10, 10, side), evenly("gasket.thickness", 0.03, 0.06, side)},
                    [&](const std::vector<double>& at) {
                      return text.engine({{"cam.advance", fmt::format("{}", at[0])},
                                          {"gasket.thickness", fmt::format("{} in", at[1])}});
                    })
               .cells.size());
    }));
    return side * side;
  });
  fmt::print("{:58}{:>9}{:>9}{:>9}{:>9}{:>9}\n", "cells", "2", "4", "8", "16", "slope");
  print_growth("map of a pocket's depth (new solids each)", kSolidCells, [&](int cells, auto& times) {
    times.push_back(seconds_of([&] {
      keep(mapper
               .map({evenly("pocket.intake.depth", 0.14, 0.17, cells)},
                    [&](const std::vector<double>& at) {
                      return text.engine({{"pocket.intake.depth", fmt::format("{} in", at[0])}});
                    })
               .cells.size());
    }));
    return cells;
  });
  fmt::print("{:58}{:>9}{:>9}{:>9}{:>9}{:>9}\n", "samples", "1e3", "1e4", "1e5", "1e6", "slope");
  for (const bool moving : {true, false}) {
    double any = 0;
    print_growth(moving ? "stack of gasket, deck and advance" : "stack of 11 tolerances, most of them of shapes",
                 kSampleCounts, [&](std::size_t samples, auto& times) {
                   times.push_back(stack_seconds(text, file, moving, samples));
                   if (samples == 100000) any = times.back();
                   return static_cast<double>(samples);
                 });
    if (!moving)
      fmt::print("100,000 of any inputs: {:.1f} s, to reach {:.0f}  {}\n", any, kAnySeconds,
                 reached(any <= kAnySeconds));
  }
}

}  // namespace eyebrow::bench
