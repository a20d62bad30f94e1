#include "spec/rim_height.hpp"

#include <fmt/format.h>

namespace eyebrow {
namespace {

/// The two readings may differ by this much: half a degree of tilt error makes 0.009 in (0.23 mm) between them.
constexpr double kHeightAgreement = 0.25;

}  // namespace

double height_from_flush_lift(double flush_lift, double tilt, double radius) {
  return flush_lift * std::cos(tilt) + radius * std::sin(tilt);
}

double flush_lift_from_height(double rim_height, double tilt, double radius) {
  return (rim_height - radius * std::sin(tilt)) / std::cos(tilt);
}

double reconciling_tilt(double rim_height, double flush_lift, double radius, double tilt) {
  // h = A cos(g - p) with A = hypot(f, R), p = atan2(R, f).
  const double amplitude = std::hypot(flush_lift, radius), phase = std::atan2(radius, flush_lift);
  if (std::fabs(rim_height) > amplitude) return NAN;
  const double turn = std::acos(rim_height / amplitude);
  double best = NAN;
  for (const double candidate : {phase - turn, phase + turn}) {
    if (candidate < 0 || candidate > 60 * kDegree) continue;
    if (std::isnan(best) || std::fabs(candidate - tilt) < std::fabs(best - tilt)) best = candidate;
  }
  return best;
}

double read_rim_height(Context& context, Section& section, double tilt, double radius) {
  const auto height = section.number("rim_height");
  const auto flush = section.number("flush_lift");
  if (!height && !flush) return section.need("rim_height", "flush_lift");
  if (!flush) return *height;
  const double from_flush = height_from_flush_lift(*flush, tilt, radius);
  if (!height) return from_flush;
  if (std::fabs(*height - from_flush) > kHeightAgreement) {
    const double agreeing = reconciling_tilt(*height, *flush, radius, tilt);
    context.fault(section.place("flush_lift"),
                  fmt::format("[{}]: rim_height {} and flush_lift {} disagree: at a tilt of {:.4g} deg the flush lift "
                              "makes the height {}; {}",
                              section.path(), context.length_text(*height), context.length_text(*flush), tilt / kDegree,
                              context.length_text(from_flush),
                              std::isnan(agreeing) ? "no tilt from 0 to 60 deg makes them agree"
                                                   : fmt::format("they agree at {:.4g} deg", agreeing / kDegree)));
  }
  return *height;
}

}  // namespace eyebrow
