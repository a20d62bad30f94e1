// The wedge with another card on its lobes.
#pragma once
#include "spec/support.hpp"

namespace eyebrow::testing {

/// All of [lobe.intake] but its greatest lift and where it is measured is `card`.
inline std::string with_intake_card(const std::string& card, const std::string& measured = "lobe") {
  const std::string text = wedge();
  const auto from = text.find("centre   = 104"), to = text.find("[lobe.exhaust]");
  return text.substr(0, from) + "measured = \"" + measured + "\"\nlift     = 0.430\n" + card + "\n" + text.substr(to);
}

/// Likewise of [lobe.exhaust], in a text that has the wedge's.
inline std::string with_exhaust_card(const std::string& text, const std::string& card) {
  const auto from = text.find("centre   = 110"), to = text.find("[valve.intake]");
  return text.substr(0, from) + "measured = \"lobe\"\nlift     = 0.420\n" + card + "\n\n" + text.substr(to);
}

}  // namespace eyebrow::testing
