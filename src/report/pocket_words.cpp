#include "pocket_words.hpp"

#include <cmath>

#include <fmt/format.h>

namespace eyebrow {

std::string cut_text(double mm, LengthUnit unit) {
  return unit == LengthUnit::inch ? fmt::format("{:.4f}", mm / kInch + 0.0) : fmt::format("{:.3f}", mm + 0.0);
}

const char* depth_word(DepthTo to) {
  switch (to) {
    case DepthTo::deepest:
      return "deepest";
    case DepthTo::sharp_edge:
      return "sharp edge";
    case DepthTo::floor_centre:
      break;
  }
  return "floor centre";
}

std::string angle_text(double radians) {
  const double degrees = std::round(radians / kDegree * 100) / 100;
  return fmt::format("{:g}", degrees + 0.0);
}

std::string bound_text(const Bound& bound) {
  if (bound.by.empty()) return "";
  if (bound.by == "as it is" || bound.by == "no pocket is needed" || bound.by == "the cutters given") return bound.by;
  return "a step less: " + bound.by + " is short";
}

}  // namespace eyebrow
