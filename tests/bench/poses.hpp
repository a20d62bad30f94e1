// One example engine's intake valve at the crank angles that a check asks for most.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/gap.hpp"
#include "eyebrow/motion.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow::bench {

struct Poses {
  EngineFile file;
  Parts parts;
  std::shared_ptr<const Target> target;
  ValvePlace place;
  std::unique_ptr<ValveToPiston> pair;
  std::vector<Pose> poses;
  double reach;

  explicit Poses(const std::string& model)
      : file(read_engine(EYEBROW_MODELS "/" + model + ".toml")),
        parts(build_parts(file.engine, file.origins)),
        target(make_target(parts.crown)) {
    const Valve& valve = file.engine.valves.front();
    place = {closed_place(file.engine, valve), up_axis(valve)};
    pair = std::make_unique<ValveToPiston>(target, parts.profiles.front(), place, valve.pocket);
    reach = file.engine.asked.valve.at(valve.role).reach;
    const Motion motion(file.engine);
    for (int degree = -40; degree <= 40; ++degree)
      poses.push_back({motion.height(degree * kDegree), motion.lift(0, degree * kDegree)});
  }
};

inline const Poses& of(const std::string& model) {
  static const Poses wedge("two_valve_wedge"), roof("four_valve_pent_roof"), canted("canted_valve");
  return model == "two_valve_wedge" ? wedge : model == "canted_valve" ? canted : roof;
}

}  // namespace eyebrow::bench
