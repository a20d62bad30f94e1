#include "remedies_told.hpp"

#include <fmt/format.h>

#include "interrupt.hpp"
#include "messages.hpp"
#include "progress.hpp"

namespace eyebrow::cli {

std::vector<GapRemedies> find_remedies(const EngineText& source, const EngineFile& file,
                                       const CheckArguments& arguments) {
  if (!file.cylinders.empty()) return {};
  const EngineWith engine_with = [&](const RemedyInput& input, double value) {
    std::vector<Override> overrides = arguments.overrides;
    overrides.push_back({input.key, fmt::format("{}{}{}", value, input.unit.empty() ? "" : " ", input.unit)});
    return source.engine(overrides);
  };
  const Mapper mapper = with_places(file.origins, [&] { return Mapper(file.engine); });
  Progress progress("looking for remedies", arguments.quiet);
  CheckOptions options;
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  return remedies(mapper, file.origins, engine_with, options);
}

}  // namespace eyebrow::cli
