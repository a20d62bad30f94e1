// Crown left and compression, as lines of a report.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/compression.hpp"
#include "eyebrow/crown_left.hpp"
#include "words.hpp"

namespace eyebrow {

/// Walls of metal beside a pocket below this, mm, glow and crack: common practice, from memory.
inline constexpr double kThinWall = 2;
/// Is it one, to a neighbour or the crown's edge?
bool is_thin(const MetalLeft& wall);

/// A row a wall of metal, and what to make of it. Empty where there is none.
std::string crown_left_text(const std::vector<MetalLeft>& walls, const Lengths& lengths);

/// "0.071", "OPEN" or "NOT KNOWN".
std::string metal_text(const MetalLeft& left, const Lengths& lengths);

/// "9.42 : 1", rounded to nearest.
std::string ratio_text(double ratio);

/// The ratio and what it is made of, a paragraph.
std::string compression_text(const Compression& of);

}  // namespace eyebrow
