// The parts of the table, each printed as it is measured.
#pragma once

namespace eyebrow::bench {

void sweep_rows();   ///< whole checks and memory; to be called first, see program_run.hpp
void pose_rows();    ///< the kernel, one pose
void rival_rows();   ///< other libraries on the same poses
void field_rows();   ///< fields: to make them, look-ups, a map, samples
void follow_rows();  ///< what the window waits for
void growth_rows();  ///< with pockets and valves
void study_rows();   ///< maps with their cells, stacks with their samples

}  // namespace eyebrow::bench
