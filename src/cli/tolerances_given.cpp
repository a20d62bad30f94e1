#include "tolerances_given.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace eyebrow::cli {

void require_tolerances(const EngineFile& file, const std::string& what) {
  if (std::ranges::any_of(file.tolerances, [](const Tolerance& of) { return of.worst() > 0; })) return;
  throw InputError(
      {{"", 0, 0,
        file.tolerances.empty()
            ? fmt::format(
                  "no number has a tolerance: {} needs the table [tolerance], with lines such as "
                  "\"gasket.thickness\" = \"\u00b1 0.05 mm\", or --set \"tolerance.gasket.thickness=+- 0.05 mm\"",
                  what)
            : "every tolerance is 0: no number moves"}});
}

EngineBy engine_by_tolerances(const EngineText& text, const EngineFile& file, const std::vector<Override>& given) {
  return [&](const std::vector<double>& by) {
    // Every number that has a tolerance is written, moved or not: see Tolerance.
    std::vector<Override> overrides = given;
    for (std::size_t i = 0; i < by.size(); ++i)
      overrides.push_back(moved(file.tolerances[i].key, file.origins.at(file.tolerances[i].key), by[i]));
    return text.engine(overrides);
  };
}

}  // namespace eyebrow::cli
