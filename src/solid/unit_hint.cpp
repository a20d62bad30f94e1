#include "solid/unit_hint.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

namespace eyebrow {

std::string unit_hint(double found, double wanted) {
  for (const auto& [factor, words] :
       {std::pair{25.4, "inches taken for mm"}, std::pair{1 / 25.4, "mm taken for inches"},
        std::pair{1000.0, "m taken for mm"}, std::pair{1e-3, "mm taken for m"}, std::pair{10.0, "cm taken for mm"},
        std::pair{0.1, "mm taken for cm"}})
    if (std::fabs(found * factor / wanted - 1) < 0.05)
      return fmt::format("; that is nearly {:.4g} times too {}: {} where the file was written?",
                         std::max(factor, 1 / factor), factor > 1 ? "small" : "large", words);
  return "";
}

}  // namespace eyebrow
