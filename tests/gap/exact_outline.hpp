// A valve's outline by its straight pieces and arcs, for the reference on exact faces: closed form, and nothing of
// src/gap.
#pragma once
#include <algorithm>
#include <cmath>
#include <limits>

#include "eyebrow/profile.hpp"

namespace eyebrow::exact {

inline constexpr double kNone = std::numeric_limits<double>::infinity();

class Outline {
 public:
  explicit Outline(const Profile& profile) : profile_(profile) {
    while (profile_.elements[upper_].part <= ValvePart::margin) ++upper_;
  }
  const Profile& profile() const { return profile_; }

  /// Height of the valve's underside over a circle of radius r; kNone beyond the rim.
  double low(double r) const {
    for (std::size_t i = 0; i < upper_; ++i) {
      const ProfileElement& e = profile_.elements[i];
      if (e.part != ValvePart::margin && r <= e.to.r) return height(e, r);
    }
    return r <= profile_.rim_radius ? profile_.elements[upper_ - 1].from.w : kNone;
  }
  /// Height of its upper side; -kNone beyond the rim.
  double high(double r) const {
    for (std::size_t i = upper_; i < profile_.elements.size(); ++i) {
      const ProfileElement& e = profile_.elements[i];
      if (e.from.r > e.to.r && r >= e.to.r && r <= e.from.r) return height(e, r);
    }
    return -kNone;
  }

  double signed_distance(double r, double w) const {
    double square = kNone;
    for (const ProfileElement& e : profile_.elements) square = std::min(square, squared(e, r, w));
    return (r <= profile_.rim_radius && w > low(r) && w < high(r) ? -1 : 1) * std::sqrt(square);
  }

  /// Radius of rim edge and margin at the height w; -kNone where there is neither.
  double rim_at(double w) const {
    const double foot = profile_.elements[upper_ - 1].from.w;
    if (w > profile_.margin) return -kNone;
    if (w >= foot) return profile_.rim_radius;
    const ProfileElement& edge = profile_.elements[upper_ - 2];
    if (edge.part != ValvePart::rim_edge || w < edge.from.w) return -kNone;
    const double h = w - edge.centre.w;
    return edge.centre.r + std::sqrt(std::max(0.0, edge.radius * edge.radius - h * h));
  }
  /// Height of the rim's lowest place.
  double rim_foot() const {
    const ProfileElement& edge = profile_.elements[upper_ - 2];
    return edge.part == ValvePart::rim_edge ? edge.from.w : profile_.elements[upper_ - 1].from.w;
  }

 private:
  static double height(const ProfileElement& e, double r) {
    if (e.radius == 0) return e.from.w + (e.to.w - e.from.w) * (r - e.from.r) / (e.to.r - e.from.r);
    const double x = r - e.centre.r, h = std::sqrt(std::max(0.0, e.radius * e.radius - x * x));
    return e.bulges ? e.centre.w - h : e.centre.w + h;
  }
  static double squared(const ProfileElement& e, double r, double w) {
    const auto to = [&](Point2 p) { return (p.r - r) * (p.r - r) + (p.w - w) * (p.w - w); };
    if (e.radius == 0) {
      const double x = e.to.r - e.from.r, y = e.to.w - e.from.w;
      const double t = std::clamp(((r - e.from.r) * x + (w - e.from.w) * y) / (x * x + y * y), 0.0, 1.0);
      return to({e.from.r + t * x, e.from.w + t * y});
    }
    // On the arc when on its chord's outer side, seen from the centre (each arc is less than half a turn).
    const double x = r - e.centre.r, y = w - e.centre.w;
    const double a = (e.from.r - e.centre.r) * y - (e.from.w - e.centre.w) * x,
                 b = x * (e.to.w - e.centre.w) - y * (e.to.r - e.centre.r);
    const double middle = x * (0.5 * (e.from.r + e.to.r) - e.centre.r) + y * (0.5 * (e.from.w + e.to.w) - e.centre.w);
    if ((e.bulges ? a >= 0 && b >= 0 : a <= 0 && b <= 0) && middle > 0) {
      const double off = std::hypot(x, y) - e.radius;
      return off * off;
    }
    return std::min(to(e.from), to(e.to));
  }

  Profile profile_;
  std::size_t upper_ = 0;  ///< first element above the margin
};

}  // namespace eyebrow::exact
