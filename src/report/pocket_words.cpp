#include "pocket_words.hpp"

#include <algorithm>
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

std::string place_text(const SizedPocket& one, LengthUnit unit) {
  std::vector<std::pair<std::string, std::string>> told;  // what, which ways
  const char* const word = unit == LengthUnit::inch ? "in" : "mm";
  const auto says = [&](const PlaceBound& bound, const std::string& ways) {
    const std::string at = cut_text(bound.at, unit);
    return bound.by.empty() ? fmt::format("{}: free for {} {}", ways, at, word)
                            : fmt::format("{} {} over ({}): {} is short", at, word, ways, bound.by);
  };
  for (const PlaceBound& bound : one.place) {
    const std::string way = fmt::format("{} {}", bound.axis, bound.way < 0 ? "less" : "more");
    const std::string key = says(bound, "");
    const auto same = std::ranges::find(told, key, &std::pair<std::string, std::string>::first);
    if (same == told.end())
      told.emplace_back(key, way);
    else
      same->second += ", " + way;
  }
  std::string out;
  for (const auto& [key, ways] : told)
    for (const PlaceBound& bound : one.place)
      if (says(bound, "") == key) {
        out += (out.empty() ? "" : "; ") + says(bound, ways);
        break;
      }
  return out;
}

std::string within_text(const PocketsWithin& within) {
  return within.share ? fmt::format("in {:.10g} % of engines within the tolerances", 100 * *within.share)
                      : "anywhere within the tolerances";
}

std::string bound_text(const Bound& bound) {
  if (bound.by.empty()) return "";
  if (bound.by == "as it is" || bound.by == "no pocket is needed" || bound.by == "the cutters given") return bound.by;
  return "a step less: " + bound.by + " is short";
}

std::string shortfall_text(const Miss& miss, const PocketResult& result, const Lengths& lengths) {
  if (std::isfinite(miss.asked))
    return std::isfinite(miss.found) ? fmt::format(", {} of {} {}", lengths.gap(std::max(0.0, miss.found)),
                                                   lengths.required(miss.asked), lengths.unit())
                                     : fmt::format(", none of {} {}", lengths.required(miss.asked), lengths.unit());
  for (const AskedRow& row : result.asked)
    if (gap_name({row.what, row.valve, row.required, row.running}) == miss.what)
      return std::isfinite(row.margin)
                 ? fmt::format(": {} {} too little", lengths.required(-row.margin), lengths.unit())
                 : ": there is none";
  return "";
}

}  // namespace eyebrow
