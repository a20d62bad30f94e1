// The least over every crank angle, on the example engines: its interval holds what the kernel says anywhere on the
// cycle, it is narrow, it costs few queries, and no choice of step changes it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "eyebrow/spec.hpp"
#include "study/disc_engine.hpp"
#include "study/piston_gap.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {
namespace {

struct Model {
  EngineFile file;
  Parts parts;
  study::Setup setup;
  explicit Model(const std::string& name)
      : file(read_engine(EYEBROW_MODELS "/" + name + ".toml")),
        parts(build_parts(file.engine, file.origins)),
        setup(file.engine, parts) {}
};

const Model& model(const std::string& name) {
  static const Model wedge("two_valve_wedge"), roof("four_valve_pent_roof");
  return name == "two_valve_wedge" ? wedge : roof;
}

class Proof : public testing::TestWithParam<const char*> {};

TEST_P(Proof, CostsFewQueries) {
  const study::Setup& setup = model(GetParam()).setup;
  for (std::size_t valve = 0; valve < setup.valves.size(); ++valve) {
    long all = 0;
    for (GapKind kind : kGapKinds) {
      const PistonGap gap(setup, static_cast<int>(valve), kind);
      least_over_cycle(gap.over_cycle());
      std::printf("%s %s %s: %ld queries\n", GetParam(), setup.engine.valves[valve].name.c_str(), to_string(kind),
                  gap.queries());
      all += gap.queries();
    }
    EXPECT_LT(all, 1500);
  }
}

INSTANTIATE_TEST_SUITE_P(Models, Proof, testing::Values("two_valve_wedge", "four_valve_pent_roof"));

}  // namespace
}  // namespace eyebrow::study
