#include "scene/sight.hpp"

#include <algorithm>

namespace eyebrow::scene {
namespace {

constexpr double kSkin = 0.02;  // mm
constexpr int kAzimuths = 24;
constexpr double kElevations[] = {12, 22, 32, 45, 60};  // degrees

Vec3 placed(const Frame& frame, Vec3 p) {
  return frame.origin + p.x * frame.x + p.y * frame.y + p.z * frame.z;
}

/// How far along the ray the triangle is met; negative = it is not. Moller and Trumbore, "Fast, minimum storage
/// ray/triangle intersection", Journal of Graphics Tools 2 (1997).
double met_at(Vec3 from, Vec3 way, const std::array<Vec3, 3>& triangle) {
  const Vec3 ab = triangle[1] - triangle[0], ac = triangle[2] - triangle[0], p = cross(way, ac);
  const double det = dot(ab, p);
  if (std::fabs(det) < 1e-14) return -1;
  const Vec3 t = from - triangle[0], q = cross(t, ab);
  const double u = dot(t, p) / det, v = dot(way, q) / det;
  if (u < 0 || v < 0 || u + v > 1) return -1;
  return dot(ac, q) / det;
}

}  // namespace

void Obstacles::add(const Crown& solid, const Frame& place) {
  for (const Triangle& triangle : solid.triangles) {
    std::array<Vec3, 3> corners;
    for (std::size_t i = 0; i < 3; ++i)
      corners[i] = placed(place, solid.points[static_cast<std::size_t>(triangle.vertex[i])]);
    triangles_.push_back(corners);
  }
}

bool Obstacles::clear(Vec3 from, Vec3 toward_eye, double skin) const {
  return std::ranges::none_of(triangles_, [&](const auto& each) { return met_at(from, toward_eye, each) > skin; });
}

Vec3 best_direction(const Obstacles& obstacles, Vec3 on_valve, Vec3 on_piston, Vec3 outward, const Vec3* beyond) {
  const Vec3 line = on_valve - on_piston;
  const double length = norm(line);
  const Vec3 flat = unit(Vec3{outward.x, outward.y, 0});
  Vec3 best{0, -0.8, 0.6};
  double most = -1e9;
  for (const double degrees : kElevations)
    for (int i = 0; i < kAzimuths; ++i) {
      const double azimuth = 2 * kPi * i / kAzimuths, elevation = degrees * kDegree;
      const Vec3 eye{std::cos(elevation) * std::cos(azimuth), std::cos(elevation) * std::sin(azimuth),
                     std::sin(elevation)};
      if (beyond != nullptr && dot(*beyond, eye) < 0.3) continue;
      double score = -std::fabs(degrees - 32) / 40;
      if (std::isfinite(flat.x)) score += 0.7 * (flat.x * std::cos(azimuth) + flat.y * std::sin(azimuth));
      if (length > 0) score += norm(cross(eye, line)) / length;
      // Nothing is gained by more where the rest cannot make up for what is hidden.
      if (score + 8 <= most) continue;
      for (const double share : {0.0, 0.5, 1.0})
        score += (share == 0.5 ? 2 : 3) * obstacles.clear(on_piston + share * line, eye, kSkin);
      if (score > most) most = score, best = eye;
    }
  return best;
}

}  // namespace eyebrow::scene
