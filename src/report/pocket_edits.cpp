#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "eyebrow/pocket_report.hpp"
#include "pocket_words.hpp"

namespace eyebrow {

std::vector<PocketEdit> pocket_edits(const PocketResult& result, const std::vector<std::string>& stated, bool bare) {
  std::vector<PocketEdit> edits;
  const auto has = [&](const std::string& key) { return std::ranges::find(stated, key) != stated.end(); };
  const auto length = [&](double mm) {
    const bool inch = result.units == LengthUnit::inch;
    const std::string text = cut_text(mm, result.units);
    // A cutter that was given in mm stays what it is.
    if (std::fabs(std::stod(text) * (inch ? kInch : 1) - mm) > 1e-9) return fmt::format("{:.10g} mm", mm);
    return bare ? text : text + (inch ? " in" : " mm");
  };
  for (const SizedPocket& one : result.pockets) {
    if (!one.changed) continue;
    const Pocket& is = one.pocket;
    const std::string key = "pocket." + is.name + ".";
    const auto differs = [&](double Pocket::*number) {
      return !one.before || one.before.value().*number != is.*number;
    };
    const auto write = [&](const char* name, const std::string& typed) { edits.push_back({key + name, typed}); };
    if (differs(&Pocket::x)) write("x", length(is.x));
    if (differs(&Pocket::y)) write("y", length(is.y));
    if (differs(&Pocket::tilt)) write("tilt", angle_text(is.tilt));
    if (differs(&Pocket::lean)) write("lean", angle_text(is.lean));
    if (differs(&Pocket::diameter)) {
      for (const char* other : {"arc_chord", "arc_height"})
        if (has(key + other)) edits.push_back({key + other, ""});
      write("diameter", length(is.diameter));
    }
    if (differs(&Pocket::depth)) write("depth", length(is.depth));
    if (one.before ? one.before->depth_to != is.depth_to : is.depth_to != DepthTo::deepest)
      write("depth_to", depth_word(is.depth_to));
    if (one.before ? differs(&Pocket::corner_radius) : is.corner_radius > 0)
      write("corner_radius", length(is.corner_radius));
    const std::string link = "valve." + result.engine.valves[static_cast<std::size_t>(one.valve)].name + ".pocket";
    if (!one.before) edits.push_back({link, is.name});
  }
  return edits;
}

}  // namespace eyebrow
