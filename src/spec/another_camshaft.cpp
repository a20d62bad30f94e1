#include "spec/another_camshaft.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/overrides.hpp"

namespace eyebrow {

void tell_another_camshaft(Context& context, const Engine& engine) {
  for (const Lobe& lobe : engine.lobes) {
    const std::string key = "lobe." + lobe.name + ".centre";
    const auto origin = context.origins.find(key);
    if (origin == context.origins.end() || origin->second.file != kSetFile) continue;
    const auto others = std::count_if(engine.lobes.begin(), engine.lobes.end(),
                                      [&](const Lobe& other) { return other.cam == lobe.cam; });
    if (others < 2) continue;
    context.warn({kSetFile, 0, 0},
                 fmt::format("{}: its camshaft carries {} lobes, ground together: with this centre it is a different "
                             "camshaft; to turn the one that is there set {}.advance, which moves them all",
                             key, others, engine.cams.size() == 1 && lobe.cam == "cam" ? "cam" : "cam." + lobe.cam));
  }
}

}  // namespace eyebrow
