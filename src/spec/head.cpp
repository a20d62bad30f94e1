// [head] and [head.angle_milled].
#include <fmt/format.h>

#include "spec/sections.hpp"

namespace eyebrow {
namespace {

/// More than this is a slip of a number or a unit. Angle milled heads are turned by half a degree to two (common
/// practice).
constexpr double kMostAngleMilled = 5 * kDegree;
/// A bore's axis stands near the middle of its head (common practice). Nearer to an edge a number most likely lacks its
/// unit.
constexpr double kNearAnEdge = 0.2;

AngleMilled read_angle_milled(Context& context, Section& section) {
  AngleMilled angled;
  angled.deep = section.need("deep");
  angled.shallow = section.need("shallow");
  angled.width = section.need("width");
  angled.bore_from_deep = section.need("bore_from_deep");
  angled.toward = section.need("toward");
  section.finish();
  const auto text = [&](double mm) { return context.length_text(mm); };
  if (angled.deep < angled.shallow)
    context.fault(section.place("deep"),
                  fmt::format("{}.deep {} is less than shallow, {}: exchange the two, and turn toward by 180 deg",
                              section.path(), text(angled.deep), text(angled.shallow)));
  if (angled.bore_from_deep > angled.width)
    context.fault(section.place("bore_from_deep"),
                  fmt::format("{}.bore_from_deep {} is more than width, {}: the bore axis lies between the two lines "
                              "that were measured",
                              section.path(), text(angled.bore_from_deep), text(angled.width)));
  else if (std::fabs(angled.bore_from_deep / angled.width - 0.5) > 0.5 - kNearAnEdge)
    context.warn(
        section.place("bore_from_deep"),
        fmt::format("{}.bore_from_deep {} is {:.2g} of width, {}; usual is about half (common practice): check "
                    "both numbers and their units",
                    section.path(), text(angled.bore_from_deep), angled.bore_from_deep / angled.width,
                    text(angled.width)));
  const double turn = std::atan(angled.slope());
  if (turn > kMostAngleMilled)
    context.fault(section.place("width"),
                  fmt::format("[{}] turns the head by {:.3g} deg: {} less {} over {}; allowed is to {:g} deg, usual is "
                              "0.5 to 2 (common practice): check the numbers and their units",
                              section.path(), turn / kDegree, text(angled.deep), text(angled.shallow),
                              text(angled.width), kMostAngleMilled / kDegree));
  return angled;
}

}  // namespace

void read_head(Context& context, Section& top, Head& head) {
  Section section = top.table("head");
  head.milled = section.number_or("milled", 0);
  head.chamber_volume = section.number("chamber_volume");
  Section angled = section.table("angle_milled");
  if (angled.exists()) head.angle_milled = read_angle_milled(context, angled);
  section.finish();
}

}  // namespace eyebrow
