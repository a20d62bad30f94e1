#include "scene/eye.hpp"

#include <vtkCamera.h>

#include <algorithm>

namespace eyebrow::scene {
namespace {

constexpr double kAway = 1000;  // mm; without perspective any distance shows the same

}  // namespace

Eye eye_on(const std::vector<Vec3>& places, Vec3 toward, const Written::Room& room, double margin) {
  const Vec3 hint = std::fabs(toward.z) > 0.99 ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
  const Vec3 right = unit(cross(hint, toward)), up = cross(toward, right);
  if (places.empty()) return {toward, up, {}, 10};
  const auto across = [&](Vec3 p) { return dot(p, right); };
  const auto along = [&](Vec3 p) { return dot(p, up); };
  const auto [left_most, right_most] = std::ranges::minmax(places, {}, across);
  const auto [low_most, high_most] = std::ranges::minmax(places, {}, along);
  const double wide = across(right_most) - across(left_most), high = along(high_most) - along(low_most);
  const double half = 0.5 * margin * std::max(high / room.height, wide / room.width);
  const Vec3 middle =
      0.5 * (across(left_most) + across(right_most)) * right + 0.5 * (along(low_most) + along(high_most)) * up;
  return {toward, up, middle - 2 * half * room.middle_shift * up, half};
}

void set_camera(vtkCamera* camera, const Eye& eye) {
  const Vec3 at = eye.target + kAway * eye.toward;
  camera->SetFocalPoint(eye.target.x, eye.target.y, eye.target.z);
  camera->SetPosition(at.x, at.y, at.z);
  camera->SetViewUp(eye.up.x, eye.up.y, eye.up.z);
  camera->SetParallelScale(eye.half_height);
}

Vec3 toward_eye(vtkCamera* camera) {
  const double* const away = camera->GetDirectionOfProjection();
  return {-away[0], -away[1], -away[2]};
}

}  // namespace eyebrow::scene
