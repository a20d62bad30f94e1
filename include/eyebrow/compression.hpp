// Compression ratio of one cylinder, from the solids and the chamber's stated volume.
#pragma once
#include <optional>

#include "eyebrow/crown.hpp"
#include "eyebrow/engine.hpp"

namespace eyebrow {

/// Volumes in mm3. Any handbook: ratio = (swept + clearance) / clearance.
struct Compression {
  double swept = 0;  ///< bore's area times the way from TDC to BDC; with an offset pin that is a little over the stroke
  double chamber = 0;  ///< as stated
  double gasket = 0;   ///< inside the fire ring, compressed
  double deck = 0;     ///< over the crown flat up to the deck; a proud crown takes from the gasket's room, negative
  double notches = 0;  ///< in the bore's edge
  double crown = 0;    ///< what pockets, dish and chamfer take from the crown, less what stands above the crown flat
  double clearance() const { return chamber + gasket + deck + notches + crown; }
  double ratio() const { return (swept + clearance()) / clearance(); }
  /// Round the top land down to the ring, which is not counted, as is common; NaN = the land's height is not stated.
  double top_land = NAN;
};

/// None where the engine file does not state the chamber's volume. Throws InputError where nothing is left of the
/// clearance.
std::optional<Compression> compression(const Engine& engine, const Crown& crown);

}  // namespace eyebrow
