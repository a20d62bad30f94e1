// One engine's valve over its crown, and the poses that it is timed at.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/gap.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow::bench {

inline constexpr const char* kModels[] = {"two_valve_wedge", "four_valve_pent_roof", "canted_valve"};

EngineFile model(const std::string& name);

/// Asks for one kind of gap alone, with its interval or the value only.
GapRequest request_for(GapKind kind, bool interval, double reach);

struct Scene {
  EngineFile file;
  Parts parts;
  std::shared_ptr<const Target> target;
  std::vector<ValveToPiston> valves;

  explicit Scene(EngineFile of, double deflection = 0.0005);
  Scene(EngineFile of, Parts built);
  double reach(std::size_t valve) const;
};

/// Poses of one valve.
struct PoseSets {
  std::vector<Pose> clear, overlapping;
};

/// Around the crank angles near overlap TDC, travel to contact from 4 mm down to 1.5 mm of overlap; the same each run.
PoseSets poses_about_contact(const Scene& scene, std::size_t valve, int count);

}  // namespace eyebrow::bench
