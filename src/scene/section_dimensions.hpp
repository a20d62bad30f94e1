// What a section through a valve's axis measures.
#pragma once
#include "scene/section_cut.hpp"
#include "study/setup.hpp"

namespace eyebrow::scene {

/// The section's plane in the block frame, and the direction within it that is square to the valve's axis.
struct ValveSection {
  Plane plane;
  Vec3 across;  ///< unit vector; to the right for one who looks at the plane
};

/// See Section::clock. `gaps`: of this valve at this crank angle. `focus`: of the gap that Look::focus names, block
/// frame.
ValveSection valve_section(const study::Setup& setup, int valve, double clock, double crank, const PoseGaps& gaps,
                           std::optional<Vec3> focus);

/// Travel, face gap and both radial gaps as far as they are there. Measured between the valve's exact outline and the
/// crown's mesh, within the plane; where one is, to 2 um, the gap that the kernel has anywhere around the valve, it is
/// that gap: value and label are then the kernel's. `crown`: the cut of the crown, in the piston frame.
std::vector<SectionDimension> section_dimensions(const study::Setup& setup, int valve, double crank,
                                                 const ValveSection& section, const Cut& crown, const PoseGaps& gaps,
                                                 const Format& format);

}  // namespace eyebrow::scene
