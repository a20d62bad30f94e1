// A crown taken from a STEP file (ISO 10303-21) in place of dish, dome, roof and pockets.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/crown.hpp"
#include "eyebrow/vec.hpp"

namespace eyebrow {

/// What a face of the file is, where the user says so and not its geometry.
struct StepFace {
  std::string face;  ///< its name in the file, or its number there, counted from 1; empty beside `point`
  Group group = Group::flat;
  std::string valve;               ///< whose pocket, for floor, corner, wall and mouth; else empty
  std::optional<Vec3> point = {};  ///< in place of `face`: a place on it, piston frame
};

struct StepCrown {
  std::string file;                         ///< path, as it was opened
  std::shared_ptr<const std::string> text;  ///< all of the file
  std::string solid;                        ///< which, by name or number; empty = the file has one
  std::optional<Vec3> up;                   ///< direction in the file toward the head; none = its z
  std::optional<Vec3> front;                ///< direction in the file toward the engine's front; none = its y
  double turn = 0;                          ///< then turned so far about the bore axis, from +x toward +y
  std::optional<double> flat;               ///< the crown flat's place along `up` from the file's origin; none = found
  double mend = 0;  ///< faces no further apart than this may be joined, should the solid not be sound; 0 = none may
  std::vector<StepFace> faces;
};

}  // namespace eyebrow
