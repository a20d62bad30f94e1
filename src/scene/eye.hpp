// Where the eye stands, and how much it sees.
#pragma once
#include <vector>

#include "eyebrow/vec.hpp"
#include "scene/written.hpp"

class vtkCamera;

namespace eyebrow::scene {

struct Eye {
  Vec3 toward;              ///< unit vector from what is looked at to the eye
  Vec3 up;                  ///< of the picture, unit vector
  Vec3 target;              ///< in the middle of the picture
  double half_height = 10;  ///< of what is seen, mm
};

/// All places fit into the room that captions leave, with so much of it over: 1 = none. The bore axis points up; the
/// front of the engine where it is looked at from above.
Eye eye_on(const std::vector<Vec3>& places, Vec3 toward, const Written::Room& room, double margin);

void set_camera(vtkCamera* camera, const Eye& eye);

/// The direction of the eye.
Vec3 toward_eye(vtkCamera* camera);

}  // namespace eyebrow::scene
