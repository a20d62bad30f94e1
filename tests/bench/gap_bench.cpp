// Time of one pose: each gap of the kernel, alone and with its interval; FCL on the same poses (no sign, no other gap).
#include <benchmark/benchmark.h>

#include "fcl_model.hpp"
#include "poses.hpp"

namespace eyebrow::bench {
namespace {

void kernel(benchmark::State& state, const char* model, GapKind kind, bool bounds) {
  const Poses& set = of(model);
  GapRequest request{kind == GapKind::travel,
                     kind == GapKind::face,
                     kind == GapKind::radial,
                     kind == GapKind::closest,
                     bounds,
                     set.reach};
  std::size_t i = 0;
  for (auto _ : state) benchmark::DoNotOptimize(set.pair->gaps(set.poses[i++ % set.poses.size()], request));
}

void meshes(benchmark::State& state, const char* name) {
  const Poses& set = of(name);
  const auto crown = by_fcl::model_of(set.parts.crown);
  const auto valve = by_fcl::model_of(valve_surface(set.parts.profiles.front(), 0.0005));
  std::size_t i = 0;
  for (auto _ : state) {
    const Vec3 c = set.pair->rim_centre(set.poses[i++ % set.poses.size()]);
    benchmark::DoNotOptimize(by_fcl::distance(crown, valve, by_fcl::placed(frame_about(c, set.place.up))));
  }
}

const bool registered = [] {
  for (const char* model : {"two_valve_wedge", "four_valve_pent_roof", "canted_valve"}) {
    for (const GapKind kind : kGapKinds)
      for (const bool bounds : {false, true})
        benchmark::RegisterBenchmark(
            (std::string(model) + "/" + to_string(kind) + (bounds ? "/interval" : "/value")).c_str(), kernel, model,
            kind, bounds)
            ->Unit(benchmark::kMicrosecond);
    benchmark::RegisterBenchmark((std::string(model) + "/closest/FCL").c_str(), meshes, model)
        ->Unit(benchmark::kMicrosecond);
  }
  return true;
}();

}  // namespace
}  // namespace eyebrow::bench
