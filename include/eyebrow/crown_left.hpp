// Crown left: how much metal stands between a pocket and the next void.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/crown.hpp"
#include "eyebrow/engine.hpp"

namespace eyebrow {

/// The least thickness of one wall of metal, by the numbers of the engine file. Points in the piston frame.
struct MetalLeft {
  enum class To { ring_groove, underside, neighbour, edge };
  enum class State {
    measured,
    open,       ///< there is no metal: the pocket breaks through, or the two run into each other
    not_known,  ///< the engine file does not say where the other side is: `missing`
  };
  std::string pocket;
  To to = To::ring_groove;
  std::string other;  ///< of a neighbour: "exhaust pocket", "dish"
  State state = State::not_known;
  double value = NAN;   ///< mm; open: how far beyond the pocket reaches, negative, or 0. NaN where not known
  double low = NAN;     ///< no thickness is below this
  Vec3 point, beyond;   ///< on the pocket, and on what lies beyond the metal
  std::string face;     ///< of the pocket, that `point` lies on
  std::string missing;  ///< the keys that would make it known: "piston.underside"
};

/// Of every pocket, in their order: ring groove, underside, each later pocket and the dish, the crown's edge.
/// The groove counts as reaching down without end: the engine file has its top alone. A neighbour's floor that is
/// shaped like a valve face counts as flat at its lowest place: less metal, never more.
std::vector<MetalLeft> crown_left(const Engine& engine, const Crown& crown);

/// "ring groove", "underside", "edge", or the neighbour's name.
std::string name_beyond(const MetalLeft& left);

}  // namespace eyebrow
