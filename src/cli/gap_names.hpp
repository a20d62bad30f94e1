// --gap: which gaps to show.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/map.hpp"

namespace eyebrow::cli {

/// Their numbers among `gaps`. Throws UsageError that lists them for a name that there is not.
std::vector<std::size_t> chosen_gaps(const std::vector<MapGap>& gaps, const std::vector<std::string>& names);

}  // namespace eyebrow::cli
