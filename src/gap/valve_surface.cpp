#include <algorithm>
#include <cmath>

#include "eyebrow/gap.hpp"

namespace eyebrow {
namespace {

/// Points along one element such that chords stay within `deflection`; the end point is left to the next element.
void chords(const ProfileElement& e, double deflection, std::vector<Point2>& points) {
  points.push_back(e.from);  // as it is stated: on the axis it is a pole
  if (e.radius <= 0) return;
  const double a = std::atan2(e.from.w - e.centre.w, e.from.r - e.centre.r);
  double turn = std::atan2(e.to.w - e.centre.w, e.to.r - e.centre.r) - a;
  turn = std::remainder(turn, 2 * kPi);
  const double step = 2 * std::acos(1 - std::min(deflection / e.radius, 1.0));
  const int n = std::max(1, static_cast<int>(std::ceil(std::fabs(turn) / step)));
  for (int i = 1; i < n; ++i)
    points.push_back(
        {e.centre.r + e.radius * std::cos(a + turn * i / n), e.centre.w + e.radius * std::sin(a + turn * i / n)});
}

/// The surface that an element sweeps about the axis.
Face face_of(const ProfileElement& e) {
  Face face;
  face.group = Group::side;
  face.name = to_string(e.part);
  face.frame = frame_about({0, 0, e.radius > 0 ? e.centre.w : e.from.w}, {0, 0, 1});
  if (e.radius > 0) {
    face.kind = e.centre.r == 0 ? Surface::sphere : Surface::torus;
    face.radius = e.centre.r == 0 ? e.radius : e.centre.r;
    face.radius2 = e.radius;
    // A ball's pole that is on the face lies along its frame's axis.
    if (face.kind == Surface::sphere && (e.from.r == 0 ? e.from.w : e.to.w) < e.centre.w)
      face.frame = frame_about(face.frame.origin, {0, 0, -1});
  } else if (e.from.w == e.to.w) {
    face.kind = Surface::plane;
    // The metal lies to the left of the way along the outline: outward it is below, and the normal points down.
    if (e.to.r > e.from.r) face.frame = frame_about(face.frame.origin, {0, 0, -1});
  } else if (e.from.r == e.to.r) {
    face.kind = Surface::cylinder;
    face.radius = e.from.r;
  } else {
    face.kind = Surface::cone;
    // The radius grows along the frame's axis.
    const bool widens = (e.to.r > e.from.r) == (e.to.w > e.from.w);
    if (!widens) face.frame = frame_about(face.frame.origin, {0, 0, -1});
    face.radius = e.from.r;
    face.radius2 = std::atan2(std::fabs(e.to.r - e.from.r), std::fabs(e.to.w - e.from.w));
  }
  return face;
}

/// A circle about the axis: first point again at the end.
std::vector<Vec3> circle(Point2 p, int count) {
  std::vector<Vec3> points;
  for (int i = 0; i <= count; ++i) {
    const double t = 2 * kPi * (i % count) / count;
    points.push_back({p.r * std::cos(t), p.r * std::sin(t), p.w});
  }
  return points;
}

/// Points between those of the mesh: what the straight pieces of a face's border may be off goes with their square.
constexpr int kFiner = 8;

}  // namespace

Crown valve_surface(const Profile& profile, double deflection) {
  Crown crown;
  crown.error = 2 * deflection;  // chords along the outline and around the axis add up
  const double step = 2 * std::acos(1 - std::min(deflection / profile.rim_radius, 0.5));
  const int around = std::max(12, static_cast<int>(std::ceil(2 * kPi / step)));
  std::vector<int> ring;  // first point of the newest ring; a ring on the axis has one point
  int last = -1;
  bool last_on_axis = false;
  const auto add_ring = [&](Point2 p) {
    const int first = static_cast<int>(crown.points.size());
    const bool on_axis = p.r == 0;
    for (int i = 0; i < (on_axis ? 1 : around); ++i) {
      const double t = 2 * kPi * i / around;
      crown.points.push_back({p.r * std::cos(t), p.r * std::sin(t), p.w});
    }
    return std::pair{first, on_axis};
  };
  for (std::size_t k = 0; k < profile.elements.size(); ++k) {
    const ProfileElement& e = profile.elements[k];
    const int id = static_cast<int>(crown.faces.size());
    crown.faces.push_back(face_of(e));
    if (id > 0)
      crown.edges.push_back({{id - 1, id},
                             circle(profile.elements[k - 1].to, around),
                             circle(profile.elements[k - 1].to, kFiner * around)});
    std::vector<Point2> points;
    chords(e, deflection, points);
    points.push_back(e.to);
    for (std::size_t i = k == 0 ? 0 : 1; i < points.size(); ++i) {
      const auto [first, on_axis] = add_ring(points[i]);
      if (last >= 0) {
        for (int j = 0; j < around; ++j) {
          const int n = (j + 1) % around;
          const int a = last + (last_on_axis ? 0 : j), b = last + (last_on_axis ? 0 : n);
          const int c = first + (on_axis ? 0 : j), d = first + (on_axis ? 0 : n);
          // Walking the outline with the metal on the left: a, c forward; j turns counter-clockwise about w.
          if (!last_on_axis) crown.triangles.push_back({{a, b, d}, id});
          if (!on_axis) crown.triangles.push_back({{a, d, c}, id});
          if (last_on_axis) crown.triangles.back() = {{a, d, c}, id};
          if (on_axis) crown.triangles.back() = {{a, b, c}, id};
        }
      }
      last = first;
      last_on_axis = on_axis;
    }
  }
  return crown;
}

}  // namespace eyebrow
