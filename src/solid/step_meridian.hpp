// The outline of a solid of revolution, from its faces.
#pragma once
#include <TopoDS_Shape.hxx>
#include <stdexcept>
#include <string>
#include <vector>

#include "eyebrow/profile.hpp"
#include "eyebrow/vec.hpp"

namespace eyebrow {

struct MeridianPiece {
  ProfileElement shape;        ///< straight or arc; of a curve its ends alone count
  std::vector<Point2> points;  ///< of a curve: along it, ends included; else empty
  std::string face;            ///< "face 3 (\"seat\")", for messages
};

/// Why a solid is no solid of revolution, in words that go on from its file's name.
struct NotRevolved : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// The outline of the solid's outer surface in the half plane (r, w) of `axis` (w along its z, from its origin): from
/// one end on the axis to the other, each piece starting where the one before ends. Which end is first is left open,
/// and so is which side of a piece is metal. Throws NotRevolved.
std::vector<MeridianPiece> meridian_of(const TopoDS_Shape& solid, const std::vector<std::string>& face_names,
                                       const Frame& axis);

/// Of the metal that the outline sweeps, whichever way round it runs.
double swept_volume(const std::vector<MeridianPiece>& outline);

}  // namespace eyebrow
