#include "crown_left_text.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "lines.hpp"

namespace eyebrow {
namespace {

constexpr int kWallName = 44;
constexpr double kAtTheFlat = 0.0127;  // mm
constexpr int kWallValue = 9;

std::string cm3(double mm3) {
  return fmt::format("{:.2f}", mm3 / 1000 + 0.0);
}

std::string wall_line(const MetalLeft& left, const Lengths& lengths) {
  const std::string name = printable(left.pocket, 16) + " pocket to " +
                           (left.to == MetalLeft::To::neighbour ? "" : "the ") + printable(name_beyond(left), 23);
  std::string where;
  if (left.state == MetalLeft::State::not_known) {
    where = left.missing + " not stated";
  } else if (left.state == MetalLeft::State::open) {
    where = left.to == MetalLeft::To::neighbour     ? "they run into each other"
            : left.to == MetalLeft::To::edge        ? "the pocket cuts through it"
            : left.to == MetalLeft::To::ring_groove ? "the pocket breaks into the groove"
                                                    : "the pocket goes through";
  } else {
    const std::string prefix = left.pocket + " pocket ";
    const std::string face = left.face.starts_with(prefix) ? left.face.substr(prefix.size()) : "mouth";
    where = fmt::format("{}, {} {} {} the crown flat", printable(face, 12), lengths.plain(std::fabs(left.point.z)),
                        lengths.unit(), left.point.z > 0 ? "above" : "below");
  }
  return fmt::format("  {}{:>{}}  {}\n", padded(name, kWallName), metal_text(left, lengths), kWallValue, where);
}

}  // namespace

std::string metal_text(const MetalLeft& left, const Lengths& lengths) {
  switch (left.state) {
    case MetalLeft::State::measured:
      return lengths.gap(left.low > 0 ? left.low : left.value);
    case MetalLeft::State::open:
      return "OPEN";
    case MetalLeft::State::not_known:
      break;
  }
  return "NOT KNOWN";
}

bool is_thin(const MetalLeft& wall) {
  return wall.to > MetalLeft::To::underside && wall.state == MetalLeft::State::measured && wall.value < kThinWall;
}

std::string crown_left_text(const std::vector<MetalLeft>& walls, const Lengths& lengths) {
  if (walls.empty()) return "";
  std::string out = fmt::format("\n{}{:>{}}  at its thinnest, {}\n", padded("Crown left", kWallName + 2), "metal",
                                kWallValue, lengths.unit());
  for (const MetalLeft& left : walls) out += wall_line(left, lengths);
  if (std::ranges::any_of(walls, is_thin))
    out +=
        wrapped("    ",
                fmt::format("walls between pockets and at the edge below some {} {} glow and crack (common practice): "
                            "leave more, or cut them away",
                            lengths.place(kThinWall), lengths.unit()),
                6);
  const bool known = std::ranges::any_of(
      walls, [](const MetalLeft& left) { return left.to <= MetalLeft::To::underside && !std::isnan(left.value); });
  if (known)
    out += wrapped("    ",
                   "by the numbers in the file, for a new piston: ribs, oil holes, ring carriers, corner radii of "
                   "the groove and what heat takes from the metal are not in it. The piston maker's limit rules",
                   6);
  return out;
}

std::string ratio_text(double ratio) {
  return fmt::format("{:.2f} : 1", ratio);
}

std::string compression_text(const Compression& of) {
  std::string text =
      fmt::format("compression {}: swept {} cm3; clearance {} cm3 of chamber {}, gasket {}, deck {}, crown {}",
                  ratio_text(of.ratio()), cm3(of.swept), cm3(of.clearance()), cm3(of.chamber), cm3(of.gasket),
                  cm3(of.deck), cm3(of.crown));
  if (of.notches > 0) text += fmt::format(", notches {}", cm3(of.notches));
  if (!std::isnan(of.top_land)) text += fmt::format("; {} cm3 round the top land not counted", cm3(of.top_land));
  return wrapped("    ", text, 6);
}

}  // namespace eyebrow
