// What the drawing library leaves to be done to an SVG.
#pragma once
#include <string>
#include <vector>

namespace eyebrow::plot {

/// The library draws letters as outlines and counts its ids on from drawing to drawing. Here the title and what is
/// written go into <title> and <desc> (SVG 1.1, section 5.4), for search and for readers who listen, and the ids are
/// counted from one again.
std::string finished_svg(const std::string& svg, const std::string& title, const std::vector<std::string>& texts);

}  // namespace eyebrow::plot
