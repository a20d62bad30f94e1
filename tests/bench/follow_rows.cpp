// What the window waits for: the crank turned a step, and edits until their curves can be drawn.
#include <fmt/format.h>

#include "bench/rows.hpp"
#include "bench/scene.hpp"
#include "bench/timing.hpp"
#include "eyebrow/quick.hpp"

namespace eyebrow::bench {
namespace {

constexpr int kCalls = 5;
constexpr double kToReach = 0.050;  // seconds, of an edit that leaves the solids as they are

double turn_seconds(const ReadyEngine& ready) {
  double crank = -0.3;
  return best_seconds(kCalls, [&] {
    crank += 0.01;
    for (std::size_t i = 0; i < ready.engine()->valves.size(); ++i)
      keep(ready.gaps(static_cast<int>(i), crank).closest.value);
  });
}

double moved_seconds(const ReadyEngine& ready, const Engine& engine) {
  return best_seconds(kCalls, [&] { keep(ready.moved(engine)->series(quick_cranks())[0].travel[0]); });
}

double changed_seconds(const ReadyEngine& ready, const Engine& engine, const Origins& origins) {
  return best_seconds(kCalls, [&] { keep(ready.changed(engine, origins).series(quick_cranks())[0].travel[0]); });
}

}  // namespace

void follow_rows() {
  fmt::print("\nWhat the window waits for, ms: best of {}; edits until {} crank angles are known. To reach {:.0f}.\n",
             kCalls, quick_cranks().size(), kToReach * 1e3);
  fmt::print("{:22}{:>9}{:>9}{:>9}{:>9}{:>9}  {}\n", "model", "a step", "timing", "gasket", "pocket", "verdict",
             "timing and gasket");
  for (const char* name : kModels) {
    const EngineFile file = model(name);
    const ReadyEngine ready(file.engine, file.origins);
    Engine timing = file.engine, gasket = file.engine, pocket = file.engine;
    for (Cam& cam : timing.cams) cam.advance += kDegree;
    gasket.gasket.thickness += 0.05;
    pocket.piston.pockets.front().depth += 0.05;
    const double step = turn_seconds(ready), timed = moved_seconds(ready, timing), thick = moved_seconds(ready, gasket),
                 deep = changed_seconds(ready, pocket, file.origins),
                 judged = best_seconds(2, [&] { keep(ready.judged().rows[0].found); });
    fmt::print("{:22}{:>9.1f}{:>9.0f}{:>9.0f}{:>9.0f}{:>9.0f}  {}\n", name, step * 1e3, timed * 1e3, thick * 1e3,
               deep * 1e3, judged * 1e3, reached(std::max(timed, thick) <= kToReach));
  }
}

}  // namespace eyebrow::bench
