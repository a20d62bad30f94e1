#include "gap_names.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "options.hpp"
#include "spec/nearest.hpp"

namespace eyebrow::cli {

std::vector<std::size_t> chosen_gaps(const std::vector<MapGap>& gaps, const std::vector<std::string>& names) {
  std::vector<std::string> known;
  for (const MapGap& gap : gaps) known.push_back(gap_name(gap));
  std::vector<std::size_t> chosen;
  for (const std::string& name : names) {
    const auto at = std::ranges::find(known, name);
    if (at == known.end())
      throw UsageError(fmt::format("--gap: there is no gap \"{}\"{}", name, there_are(name, known)));
    chosen.push_back(static_cast<std::size_t>(at - known.begin()));
  }
  return chosen;
}

}  // namespace eyebrow::cli
