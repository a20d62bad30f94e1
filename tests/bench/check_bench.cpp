// Time of what a user waits for: solids and meshes, and the whole check of one engine.
#include <benchmark/benchmark.h>

#include "eyebrow/check.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow {
namespace {

void build(benchmark::State& state, const char* model) {
  const EngineFile file = read_engine(std::string(EYEBROW_MODELS "/") + model + ".toml");
  for (auto _ : state) benchmark::DoNotOptimize(build_parts(file.engine, file.origins));
}

void check(benchmark::State& state, const char* model) {
  const EngineFile file = read_engine(std::string(EYEBROW_MODELS "/") + model + ".toml");
  const Parts parts = build_parts(file.engine, file.origins);
  for (auto _ : state) benchmark::DoNotOptimize(run_check(file.engine, parts));
}

const bool registered = [] {
  for (const char* model : {"two_valve_wedge", "inline_six_stock", "four_valve_pent_roof", "canted_valve"}) {
    benchmark::RegisterBenchmark((std::string(model) + "/build_parts").c_str(), build, model)
        ->Unit(benchmark::kMillisecond)
        ->UseRealTime();
    benchmark::RegisterBenchmark((std::string(model) + "/run_check").c_str(), check, model)
        ->Unit(benchmark::kMillisecond)
        ->UseRealTime();
  }
  return true;
}();

}  // namespace
}  // namespace eyebrow
