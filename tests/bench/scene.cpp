// One engine's valve over its crown, and the poses that it is timed at.
#include "bench/scene.hpp"

#include <algorithm>
#include <random>
#include <utility>

#include "eyebrow/motion.hpp"

namespace eyebrow::bench {

EngineFile model(const std::string& name) {
  return read_engine(EYEBROW_MODELS "/" + name + ".toml");
}

GapRequest request_for(GapKind kind, bool interval, double reach) {
  return {kind == GapKind::travel,
          kind == GapKind::face,
          kind == GapKind::radial,
          kind == GapKind::closest,
          interval,
          reach};
}

Scene::Scene(EngineFile of, double deflection) : Scene(of, build_parts(of.engine, of.origins, deflection)) {}

Scene::Scene(EngineFile of, Parts built)
    : file(std::move(of)), parts(std::move(built)), target(make_target(parts.crown)) {
  for (std::size_t i = 0; i < file.engine.valves.size(); ++i) {
    const Valve& valve = file.engine.valves[i];
    valves.emplace_back(target, parts.profiles[i],
                        ValvePlace{closed_place(file.engine, valve), up_axis(file.engine, valve)}, valve.pocket);
  }
}

double Scene::reach(std::size_t valve) const {
  return file.engine.asked.valve.at(file.engine.valves[valve].role).reach;
}

PoseSets poses_about_contact(const Scene& scene, std::size_t valve, int count) {
  std::mt19937_64 random(20261);
  std::uniform_real_distribution<double> crank(-60, 60), room(-1.5, 4);
  const Motion motion(scene.file.engine);
  PoseSets sets;
  for (int found = 0; found < count;) {
    Pose pose{motion.height(crank(random) * kDegree), 0};
    const Gap travel = scene.valves[valve].gaps(pose, request_for(GapKind::travel, false, 0)).travel;
    if (!travel.measured()) continue;
    pose.lift = std::max(0.0, travel.value - room(random));
    (pose.lift > travel.value ? sets.overlapping : sets.clear).push_back(pose);
    ++found;
  }
  return sets;
}

}  // namespace eyebrow::bench
