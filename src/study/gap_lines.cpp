#include "eyebrow/gap_lines.hpp"

#include <fmt/format.h>

#include "eyebrow/map.hpp"
#include "study/gaps_now.hpp"

namespace eyebrow {

std::vector<NamedLine> gap_lines(const Engine& engine, const Parts& parts, double crank) {
  const study::Setup setup(engine, parts);
  const study::GapsNow gaps = study::gaps_now(setup, study::valve_pairs(setup), crank);
  std::vector<NamedLine> lines;
  const auto add = [&](const std::string& what, const std::string& whose, const Gap& gap, Vec3 place) {
    if (gap.measured())
      lines.push_back({fmt::format("{} {:.3f} mm", gap_name({what, whose, 0, false}), gap.value), gap.on_valve + place,
                       gap.on_other + place});
  };
  const auto name = [&](int valve) { return engine.valves.at(static_cast<std::size_t>(valve)).name; };
  const Vec3 piston{0, 0, engine.gasket.thickness + setup.motion.height(crank)};
  for (std::size_t i = 0; i < gaps.piston.size(); ++i)
    for (const GapKind kind : kGapKinds) add(to_string(kind), name(static_cast<int>(i)), gaps.piston[i][kind], piston);
  for (const study::GapsNow::Other& pair : gaps.pairs)
    add("valve to valve", name(pair.first) + " / " + name(pair.second), pair.gap, {});
  for (const study::GapsNow::Other& bore : gaps.bore) add("valve to bore", name(bore.first), bore.gap, {});
  return lines;
}

}  // namespace eyebrow
