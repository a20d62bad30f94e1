#include "patch.hpp"

#include <algorithm>
#include <cmath>

#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr double kTurn = kPi / 24;  // of an arc, at most, to one straight piece: seen by eye only
constexpr double kAside = 1e-3;     // mm, from a border's middle to where it is asked on which side the face is
constexpr double kNoArea = 1e-6;    // mm2

/// Area and first moments of what a region has of a disc about the origin, side by side of its border.
struct Moments {
  double area = 0, x = 0, y = 0;

  void triangle(double ax, double ay, double bx, double by) {  // with the origin
    const double twice = ax * by - ay * bx;
    area += 0.5 * twice;
    x += twice * (ax + bx) / 6;
    y += twice * (ay + by) / 6;
  }
  void sector(double ax, double ay, double bx, double by, double radius) {
    const double a = diagonal(ax, ay), b = diagonal(bx, by);
    if (a == 0 || b == 0) return;
    area += 0.5 * radius * radius * std::atan2(ax * by - ay * bx, ax * bx + ay * by);
    x += radius * radius * radius / 3 * (by / b - ay / a);
    y += radius * radius * radius / 3 * (ax / a - bx / b);
  }
  void side(double ax, double ay, double bx, double by, double radius) {
    const double dx = bx - ax, dy = by - ay, square = dx * dx + dy * dy;
    if (square == 0) return;
    const double along = (ax * dx + ay * dy) / square, rest = (ax * ax + ay * ay - radius * radius) / square;
    const double root = along * along - rest;
    if (root <= 0) return sector(ax, ay, bx, by, radius);
    const double in = std::clamp(-along - std::sqrt(root), 0.0, 1.0);
    const double out = std::clamp(-along + std::sqrt(root), 0.0, 1.0);
    const double px = ax + in * dx, py = ay + in * dy, qx = ax + out * dx, qy = ay + out * dy;
    sector(ax, ay, px, py, radius);
    triangle(px, py, qx, qy);
    sector(qx, qy, bx, by, radius);
  }
};

}  // namespace

Patches::Patches(const Target& target, const Profile& profile, Vec3 up) : target_(target), frame_(frame_about({}, up)) {
  const ProfileElement& flat = profile.elements.front();
  if (flat.radius > 0) return;
  radius_ = flat.to.r;
  for (std::size_t i = 0; i < target.trims().size(); ++i) {
    const Face& face = target.crown().faces[i];
    const int number = static_cast<int>(i);
    if (face.kind != Surface::plane || target.tree(number).pieces.empty()) continue;
    const eyebrow::Piece& piece = target.tree(number).pieces.front();
    const Vec3 n = target.normal(piece.triangle);
    if (dot(n, up) < 0 || diagonal(dot(n, frame_.x), dot(n, frame_.y)) > kUpright) continue;
    Plane plane{number, dot(piece.corner[0], up), {}};
    const auto add = [&](Vec3 from, Vec3 middle, Vec3 to) {
      const Vec3 left = unit(cross(n, to - from));
      if (!target.trims()[i].within(middle + kAside * left)) std::swap(from, to);
      plane.sides.push_back({dot(from, frame_.x), dot(from, frame_.y), dot(to, frame_.x), dot(to, frame_.y)});
    };
    for (const Edge& edge : target.crown().edges) {
      if ((edge.faces[0] != number && edge.faces[1] != number) || edge.faces[0] == edge.faces[1]) continue;
      for (const Arc& arc : arcs_through(edge.fine.empty() ? edge.points : edge.fine)) {
        const int pieces = arc.straight ? 1 : std::max(1, static_cast<int>(std::ceil(2 * arc.half / kTurn)));
        const auto at = [&](double k) { return arc.at(arc.half * (2 * k / pieces - 1)); };
        for (int k = 0; k < pieces; ++k) add(at(k), at(k + 0.5), at(k + 1));
      }
    }
    planes_.push_back(std::move(plane));
  }
}

std::optional<Vec3> Patches::middle(int face, Vec3 centre) const {
  const auto plane = std::ranges::find(planes_, face, &Plane::face);
  if (plane == planes_.end()) return std::nullopt;
  const double cx = dot(centre, frame_.x), cy = dot(centre, frame_.y);
  const auto place = [&](double x, double y) {
    return (cx + x) * frame_.x + (cy + y) * frame_.y + plane->height * frame_.z;
  };
  const auto on_face = [&](Vec3 p) { return target_.trims()[static_cast<std::size_t>(face)].within(p); };
  double near = INFINITY;  // square of the border's distance from the axis
  for (const Side& side : plane->sides) {
    const double ax = side.x0 - cx, ay = side.y0 - cy, dx = side.x1 - side.x0, dy = side.y1 - side.y0;
    const double t = std::clamp(-(ax * dx + ay * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    near = std::min(near, (ax + t * dx) * (ax + t * dx) + (ay + t * dy) * (ay + t * dy));
  }
  if (near >= radius_ * radius_) {  // all of the valve's face or nothing
    const Vec3 axis = place(0, 0);
    return on_face(axis) ? std::optional(axis) : std::nullopt;
  }
  Moments moments;
  for (const Side& side : plane->sides) moments.side(side.x0 - cx, side.y0 - cy, side.x1 - cx, side.y1 - cy, radius_);
  if (!(moments.area > kNoArea)) return std::nullopt;
  const double x = moments.x / moments.area, y = moments.y / moments.area;
  if (diagonal(x, y) < radius_ && on_face(place(x, y))) return place(x, y);
  std::optional<Vec3> nearest;
  double least = INFINITY;
  for (const Side& side : plane->sides) {  // the ends lie on the very border
    const double px = side.x0 - cx, py = side.y0 - cy, square = (px - x) * (px - x) + (py - y) * (py - y);
    if (square >= least || diagonal(px, py) > radius_) continue;
    least = square;
    nearest = place(px, py);
  }
  return nearest;
}

}  // namespace eyebrow::gap
