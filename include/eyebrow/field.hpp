// Gaps of one valve and the piston over a region of their places, computed once and looked up many times. A field
// screens: it tells where a gap is least and what it cannot fall below. What is reported is asked of the kernel there.
#pragma once
#include <memory>
#include <vector>

#include "eyebrow/gap.hpp"

namespace eyebrow {

/// How far a valve is along its own axis toward the piston, and across it: two lengths at right angles in the plane
/// that it moves in against the piston. along = lift + cos(tilt) height, aside = sin(tilt) height.
struct Slide {
  double along = 0, aside = 0;
};
Slide slide_of(const ValvePlace& place, const Pose& pose);

struct SlideBox {
  double along_low = 0, along_high = 0;
  double aside_low = 0, aside_high = 0;
};

/// How finely a field is made, mm.
struct FieldAccuracy {
  double upto = 3;  ///< gaps up to this are wanted to the tolerance; the further above, the coarser
  /// Of `value` against the kernel, tried in the middle of every cell; beside a kink it is up to 5 um too low.
  double tolerance = 5e-4;
  double finest = 0.02;  ///< cells are not made smaller: where a gap jumps, it is located to this
};

enum class FieldStatus {
  smooth,
  jump,     ///< the gap jumps within this cell, or begins to exist: `value` is the lower side's
  none,     ///< there is no such gap in this cell
  outside,  ///< not in the region that the field was made for
};

struct FieldGap {
  double value = INFINITY;  ///< infinite where there is no such gap; NaN outside
  /// What the gap cannot fall below here, nor at any displacement of up to half a micrometre from here. Proven.
  double low = INFINITY;
  FieldStatus status = FieldStatus::none;
};

/// A gap over a box, as far as the region holds the box.
struct FieldRange {
  /// It is nowhere less, nor at half a micrometre from there. Proven. Infinite = there is none.
  double low = INFINITY;
  /// It is nowhere more, as far as the tolerance was tried. Infinite = it jumps in the box, or there is none in a part.
  double high = -INFINITY;
};

/// The lift at which a valve comes to the piston at each height of the piston, as seen from the seat: travel to contact
/// is this less the lift. Its jumps (the rim comes beside another face) are located.
class ContactLift {
 public:
  /// Over what the boxes have of `aside`.
  ContactLift(const ValveToPiston& query, const std::vector<SlideBox>& region,
              double tolerance = FieldAccuracy{}.tolerance);
  /// Travel to contact; infinite where the valve never meets the piston.
  FieldGap travel(const Pose& pose) const;
  FieldRange within(const SlideBox& box) const;

  struct Jump {
    double height;        ///< of the piston, where the jump was located to 1e-9 mm across the axis
    double below, above;  ///< contact lift just under that height and just over it; infinite = never
  };
  const std::vector<Jump>& jumps() const;
  std::size_t stretches() const;

 private:
  struct Inner;
  std::shared_ptr<const Inner> inner_;
};

/// Face, radial or closest gap. Closest: between the corners of a cell it bends down no more than a sphere of the least
/// distance in that cell does (semiconcavity); where the parts overlap it is 1-Lipschitz. Face and radial: a query with
/// the valve drawn out over the cell.
class GapField {
 public:
  /// `kind` is not travel: see ContactLift. `reach`: of the radial gap.
  GapField(const ValveToPiston& query, GapKind kind, double reach, const std::vector<SlideBox>& region,
           const FieldAccuracy& accuracy = {});
  FieldGap at(const Pose& pose) const;
  FieldRange within(const SlideBox& box) const;
  std::size_t cells() const;

 private:
  struct Inner;
  std::shared_ptr<const Inner> inner_;
};

}  // namespace eyebrow
