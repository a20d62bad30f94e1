#include "eyebrow/quick.hpp"

#include <cstdlib>

#include "study/judge.hpp"
#include "study/possible.hpp"
#include "study/running_others.hpp"
#include "study/setup.hpp"
#include "study/sweep.hpp"
#include "study/tasks.hpp"

namespace eyebrow {
namespace {

std::shared_ptr<const Parts> parts_for(const Engine& engine, const Origins& origins, const Engine& before,
                                       const std::shared_ptr<const Parts>& built) {
  if (same_parts(engine, before)) return built;
  return std::make_shared<const Parts>(rebuild_parts(engine, origins, before, *built));
}

}  // namespace

/// Setup refers to the engine and the parts beside it.
struct ReadyEngine::Made {
  std::shared_ptr<const Engine> engine;
  std::shared_ptr<const Parts> parts;
  study::Setup setup;

  Made(Engine of, const Origins& origins)
      : engine(std::make_shared<const Engine>(std::move(of))),
        parts(std::make_shared<const Parts>(build_parts(*engine, origins))),
        setup(*engine, *parts) {}
  Made(const Made& before, Engine of, const Origins& origins)
      : engine(std::make_shared<const Engine>(std::move(of))),
        parts(parts_for(*engine, origins, *before.engine, before.parts)),
        setup(before.setup, *engine, *parts) {}
  Made(const Made& before, Engine of)
      : engine(std::make_shared<const Engine>(std::move(of))), parts(before.parts), setup(before.setup, *engine) {}
};

ReadyEngine::ReadyEngine(Engine engine, const Origins& origins)
    : made_(std::make_shared<const Made>(std::move(engine), origins)) {}

ReadyEngine ReadyEngine::changed(Engine engine, const Origins& origins) const {
  return ReadyEngine(std::make_shared<const Made>(*made_, std::move(engine), origins));
}

std::optional<ReadyEngine> ReadyEngine::moved(Engine engine) const {
  if (!same_crown(engine, *made_->engine) || !same_valves(engine, *made_->engine)) return std::nullopt;
  return ReadyEngine(std::make_shared<const Made>(*made_, std::move(engine)));
}

std::shared_ptr<const Engine> ReadyEngine::engine() const {
  return made_->engine;
}

std::shared_ptr<const Parts> ReadyEngine::parts() const {
  return made_->parts;
}

const Motion& ReadyEngine::motion() const {
  return made_->setup.motion;
}

PoseGaps ReadyEngine::gaps(int valve, double crank) const {
  const study::ValveSetup& of = made_->setup.valves.at(static_cast<std::size_t>(valve));
  return of.to_piston.gaps(made_->setup.pose(valve, crank), {true, true, true, true, false, of.asked.reach});
}

std::vector<Series> ReadyEngine::series(const std::vector<double>& cranks, const CheckOptions& options) const {
  study::Pacer pacer(options, static_cast<double>(cranks.size() * made_->setup.valves.size()));
  return study::sweep(made_->setup, cranks, pacer);
}

std::vector<AskedRow> ReadyEngine::rows() const {
  const Engine& of = *made_->engine;
  return study::judge(of, study::no_gaps(of), study::RunningRows::told).rows;
}

JudgedRows ReadyEngine::judged(const CheckOptions& options) const {
  using namespace study;
  const Setup& setup = made_->setup;
  require_places_of_their_own(setup);
  const std::vector<ValvePair> pairs = valve_pairs(setup);
  require_apart_when_closed(setup, pairs);
  constexpr std::size_t kKinds = std::size(kGapKinds);
  const std::size_t valves = setup.valves.size();
  LeastGaps found = no_gaps(*made_->engine);
  Pacer pacer(options, static_cast<double>(valves * (kKinds + 1) + pairs.size()));
  run_tasks(valves * kKinds, 1, pacer, 1, [&](std::size_t i) {
    found.piston[i / kKinds][i % kKinds] = judged_least(setup, static_cast<int>(i / kKinds), kGapKinds[i % kKinds]);
  });
  run_tasks(valves, 1, pacer, 1, [&](std::size_t i) { found.bore[i] = bore_value(setup, static_cast<int>(i)); });
  run_tasks(pairs.size(), 1, pacer, 1, [&](std::size_t i) { found.pairs[i] = pair_value(setup, pairs[i]); });
  found.head = piston_to_head(*made_->engine);
  found.piston_running.clear();
  found.bore_running.clear();
  found.pairs_running.clear();
  add_running(setup, pairs, found);
  Judged judged = judge(*made_->engine, found, RunningRows::told);
  return {std::move(judged.rows), judged.verdict};
}

std::vector<double> quick_cranks() {
  std::vector<double> cranks;
  for (int degree = -180; degree <= 180; ++degree) {
    const int from_tdc = std::abs(degree);
    const int apart = from_tdc <= 30 ? 1 : from_tdc <= 60 ? 2 : 6;
    if (degree % apart == 0) cranks.push_back(degree * kDegree);
  }
  return cranks;
}

}  // namespace eyebrow
