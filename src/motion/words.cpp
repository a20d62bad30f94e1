#include "motion/words.hpp"

#include <fmt/format.h>

#include <cmath>

#include <utility>

#include "eyebrow/vec.hpp"

namespace eyebrow::motion {

std::string length_text(double mm) {
  if (std::fabs(mm) < 0.0005) mm = 0;  // no minus before what is printed as zero
  return fmt::format("{:.3f} mm ({:.4f} in)", mm, mm / kInch);
}

std::string angle_text(double radians) {
  return fmt::format("{:.2f} deg", radians / kDegree);
}

Fault fault(std::string message) {
  return {"", 0, 0, std::move(message)};
}

void doubt(std::vector<Fault>& doubts, const Lobe& lobe, const std::string& key, std::string message) {
  doubts.push_back({"", 0, 0, std::move(message), "lobe." + lobe.name + "." + key});
}

}  // namespace eyebrow::motion
