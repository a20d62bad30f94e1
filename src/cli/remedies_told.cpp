#include "remedies_told.hpp"

#include <fmt/format.h>

#include "interrupt.hpp"
#include "messages.hpp"
#include "progress.hpp"

namespace eyebrow::cli {

std::vector<GapRemedies> find_remedies(const EngineText& source, const MeasuredCylinder& cylinder,
                                       const std::vector<Override>& given, const std::string& what, bool quiet) {
  const EngineWith engine_with = [&](const RemedyInput& input, double value) {
    std::vector<Override> overrides = given;
    overrides.push_back({input.key, fmt::format("{}{}{}", value, input.unit.empty() ? "" : " ", input.unit)});
    return source.engine(overrides, cylinder.name);
  };
  const Mapper mapper = with_places(cylinder.origins, [&] { return Mapper(cylinder.engine); });
  Progress progress(what, quiet);
  CheckOptions options;
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  return remedies(mapper, cylinder.origins, engine_with, options);
}

}  // namespace eyebrow::cli
