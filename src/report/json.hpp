// What JSON reports share.
#pragma once
#include <cmath>
#include <nlohmann/json.hpp>

namespace eyebrow {

using Json = nlohmann::ordered_json;

/// Null where there is no such number; never a negative zero.
inline Json json_number(double value) {
  return std::isfinite(value) ? Json(value + 0.0) : Json(nullptr);
}

}  // namespace eyebrow
