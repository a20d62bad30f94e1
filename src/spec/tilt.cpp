#include "spec/tilt.hpp"

#include <fmt/format.h>

namespace eyebrow {

Tilt from_projected(double tilt_xz, double tilt_yz) {
  const double x = std::tan(tilt_xz), y = std::tan(tilt_yz);
  return {std::atan(std::hypot(x, y)), std::atan2(y, x)};
}

Tilt read_tilt(Context& context, Section& section) {
  const bool turned = section.has("tilt") || section.has("lean");
  const bool projected = section.has("tilt_xz") || section.has("tilt_yz");
  if (turned && projected) {
    for (const char* key : {"tilt", "lean", "tilt_xz", "tilt_yz"}) section.know(key);
    context.fault(
        section.place(section.has("tilt_xz") ? "tilt_xz" : "tilt_yz"),
        fmt::format("[{}] gives its tilt twice: either tilt and lean, or tilt_xz and tilt_yz", section.path()));
    return {NAN, NAN};
  }
  if (projected) {
    for (const char* key : {"tilt", "lean"}) section.know(key);
    const double xz = section.need("tilt_xz"), yz = section.need("tilt_yz");
    return from_projected(xz, yz);
  }
  for (const char* key : {"tilt_xz", "tilt_yz"}) section.know(key);
  const double tilt = section.need("tilt", "tilt_xz and tilt_yz");
  // An upright axis leans nowhere, so that its direction need not be stated.
  const double lean = tilt == 0 ? section.number_or("lean", 0) : section.need("lean");
  return {tilt, lean};
}

}  // namespace eyebrow
