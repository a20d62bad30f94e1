// What a user waits for: solids and meshes, the check on one and two threads, the program as a process; its memory.
#include <fmt/format.h>
#include <tbb/global_control.h>

#include <algorithm>
#include <vector>

#include "bench/program_run.hpp"
#include "bench/rows.hpp"
#include "bench/scene.hpp"
#include "bench/timing.hpp"
#include "eyebrow/check.hpp"

namespace eyebrow::bench {
namespace {

constexpr int kProcesses = 5, kCalls = 2;
constexpr double kMegabytes = 300;  // to reach

struct ToReach {
  const char* model;
  double seconds;  // of the process; 0 = nothing was promised
};
constexpr ToReach kToReach[] = {{kModels[0], 0.3}, {kModels[1], 0.6}, {kModels[2], 0}};

double check_seconds(const EngineFile& file, const Parts& parts, std::size_t threads) {
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
  return best_seconds(kCalls, [&] { keep(run_check(file.engine, parts).piston_to_head); });
}

ProgramRun best_process(const char* name) {
  ProgramRun best = run_check_program(EYEBROW_MODELS "/" + std::string(name) + ".toml");
  for (int i = 1; i < kProcesses; ++i) {
    const ProgramRun run = run_check_program(EYEBROW_MODELS "/" + std::string(name) + ".toml");
    best = {std::min(best.seconds, run.seconds), std::min(best.cpu_seconds, run.cpu_seconds),
            std::max(best.peak_megabytes, run.peak_megabytes)};
  }
  return best;
}

}  // namespace

void sweep_rows() {
  std::vector<ProgramRun> processes;  // all before the first solid is built here
  for (const ToReach& of : kToReach) processes.push_back(best_process(of.model));

  fmt::print(
      "\nWhole check, ms: best of {}, the process best of {}. Memory, MB: most that the process held, to reach "
      "{:.0f}.\n",
      kCalls, kProcesses, kMegabytes);
  fmt::print("{:22}{:>9}{:>18}{:>32}\n", "", "solids", "check, threads", "program, as a process");
  fmt::print("{:22}{:>9}{:>9}{:>9}{:>11}{:>11}{:>10}  {:13}{:>7}\n", "model", "and mesh", "1", "2", "all", "processor",
             "to reach", "", "memory");
  for (std::size_t i = 0; i < processes.size(); ++i) {
    const auto& [name, seconds] = kToReach[i];
    const EngineFile file = model(name);
    Parts parts;
    const double build = best_seconds(kCalls, [&] { parts = build_parts(file.engine, file.origins); });
    const double one = check_seconds(file, parts, 1), two = check_seconds(file, parts, 2);
    fmt::print("{:22}{:>9.0f}{:>9.0f}{:>9.0f}{:>11.0f}{:>11.0f}{:>10}  {:13}{:>7.0f}  {}\n", name, build * 1e3,
               one * 1e3, two * 1e3, processes[i].seconds * 1e3, processes[i].cpu_seconds * 1e3,
               seconds > 0 ? fmt::format("{:.0f}", seconds * 1e3) : "-",
               seconds > 0 ? reached(processes[i].seconds <= seconds) : "", processes[i].peak_megabytes,
               reached(processes[i].peak_megabytes <= kMegabytes));
  }
}

}  // namespace eyebrow::bench
