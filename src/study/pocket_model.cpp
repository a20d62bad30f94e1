#include "study/pocket_model.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solid/void_volume.hpp"
#include "study/positions.hpp"

namespace eyebrow::study {
namespace {

constexpr double kPoseStep = 1.0 * kDegree;
constexpr int kRimPoints = 48;
constexpr int kMouthPoints = 96;
constexpr double kNear =
    1.5;  // mm: higher over the crown than that and what is asked, a rim does not matter; room for corrections
constexpr double kLiftsApart = 0.05;
constexpr int kVolumeRings = 16;
constexpr int kFloorRings = 4;  // of a floor that goes out through the crown's edge, where its middle is nearest

}  // namespace

PocketModel::PocketModel(const Setup& setup, int valve, Vec3 axis, double corner)
    : piston_(setup.engine.piston), axis_(axis), corner_(corner) {
  const auto number = static_cast<std::size_t>(valve);
  const ValveSetup& of = setup.valves[number];
  const Profile& profile = of.to_piston.profile();
  up_ = of.place.up;
  head_radius_ = profile.rim_radius;
  const double sine = std::hypot(axis.x, axis.y);
  across_ = sine > 1e-12 ? Vec3{axis.x / sine, axis.y / sine, 0} : Vec3{1, 0, 0};
  aside_ = {-across_.y, across_.x, 0};
  // Round the rim, from the side that leans lowest.
  const double lean = std::hypot(up_.x, up_.y);
  const Vec3 low = lean > 1e-12 ? Vec3{up_.x / lean, up_.y / lean, 0} : Vec3{1, 0, 0};
  const Vec3 first = unit(low - dot(low, up_) * up_), second = cross(up_, first);
  const double near =
      kNear + std::max({of.asked.travel, of.asked.face, of.asked.radial, of.asked.closest, of.asked.reach});
  const Motion motion = setup.motion.with(judged_lifts(setup.engine));
  for (double crank = -2 * kPi; crank < 2 * kPi; crank += kPoseStep) {
    const LiftRange range = motion.lifts(valve, crank);
    std::vector<double> lifts{range.greatest};
    if (range.greatest - range.least > kLiftsApart) {
      lifts.push_back(range.least);
      lifts.push_back(0.5 * (range.least + range.greatest));
    }
    for (const double lift : lifts) {
      const Vec3 centre = of.place.closed - lift * up_ - Vec3{0, 0, setup.motion.height(crank)};
      const auto add = [&](Vec3 place, bool rim) {
        const double crown = (place.z - blank_top(piston_, place.x, place.y)) / up_.z;
        if (crown < near) points_.push_back({place, crown, rim});
      };
      for (int i = 0; i < kRimPoints; ++i) {
        const double azimuth = 2 * kPi * i / kRimPoints;
        add(centre + head_radius_ * (std::cos(azimuth) * first + std::sin(azimuth) * second), true);
      }
      if (profile.lowest < 0) add(centre + profile.lowest * up_, false);
    }
  }
}

/// Height along the axis at which the pocket's wall, or a circle within it, comes out of the crown in the direction
/// `out`, square to the axis; minus infinity outside the crown.
double PocketModel::mouth(const PocketShape& shape, double radius, Vec3 out) const {
  const Vec3 base = Vec3{shape.x, shape.y, 0} + radius * out;
  double along = -base.z / axis_.z;
  if (piston_.round_dome || piston_.roof_dome || piston_.top_chamfer > 0)
    for (int i = 0; i < 3; ++i) {
      const Vec3 at = base + along * axis_;
      along = (blank_top(piston_, at.x, at.y) - base.z) / axis_.z;
    }
  const Vec3 at = base + along * axis_;
  return std::hypot(at.x, at.y) > piston_.crown_diameter / 2 ? -INFINITY : along;
}

ModelMargins PocketModel::margins(const PocketShape& shape, const AskedValve& asked) const {
  // The mouth round the wall, once.
  const Vec3 e1 = unit(across_ - dot(across_, axis_) * axis_), e2 = cross(axis_, e1);
  std::array<double, kMouthPoints> mouths;
  for (int i = 0; i < kMouthPoints; ++i) {
    const double azimuth = 2 * kPi * i / kMouthPoints;
    mouths[static_cast<std::size_t>(i)] = mouth(shape, shape.radius, std::cos(azimuth) * e1 + std::sin(azimuth) * e2);
  }
  const double flat = shape.radius - corner_, floor = shape.floor, lean = dot(axis_, up_);
  const auto profile = [&](double r) {
    if (r <= flat) return floor;
    const double out = std::min(r - flat, corner_);
    return floor + corner_ - std::sqrt(std::max(0.0, corner_ * corner_ - out * out));
  };
  ModelMargins least;
  const Vec3 origin{shape.x, shape.y, 0};
  for (const Point& point : points_) {
    const Vec3 from = point.place - origin;
    const double w = dot(from, axis_), u = dot(from, e1), v = dot(from, e2), r = std::hypot(u, v);
    double azimuth = std::atan2(v, u) / (2 * kPi) * kMouthPoints;
    if (azimuth < 0) azimuth += kMouthPoints;
    const auto i = static_cast<std::size_t>(azimuth) % kMouthPoints;
    const double part = azimuth - std::floor(azimuth);
    const double m0 = mouths[i], m1 = mouths[(i + 1) % kMouthPoints];
    const double mouth_here = std::isinf(m0) || std::isinf(m1) ? std::min(m0, m1) : m0 + part * (m1 - m0);

    // Along the valve's axis, to crown or floor, whichever is met later.
    double travel = point.crown, face = point.crown * up_.z;
    if (r <= shape.radius) {
      double down = (w - profile(r)) / lean;
      if (lean < 1 - 1e-9) {  // not parallel: where it lands decides
        const Vec3 landed = from - down * up_;
        down = (w - profile(std::min(shape.radius, norm(landed - dot(landed, axis_) * axis_)))) / lean;
      }
      travel = std::max(travel, down);
      face = std::max(face, r <= flat ? w - floor : INFINITY);
    }
    if (r > shape.radius && (travel < asked.travel || face < asked.face)) {
      least.outside = std::min(least.outside, shape.radius - r);
      continue;
    }
    least.travel = std::min(least.travel, travel - asked.travel);
    least.face = std::min(least.face, face - asked.face);

    // Square to the axis, at the lowest place within its reach.
    const double lowest = std::max(w - asked.reach, floor);
    if (point.rim && lowest < mouth_here) {
      const double at = std::max(0.0, floor + corner_ - lowest);
      const double wall = flat + std::sqrt(std::max(0.0, corner_ * corner_ - at * at));
      least.radial = std::min(least.radial, (wall - r) * lean - asked.radial);
    }
    // Any way.
    if (r <= flat) {
      if (floor < mouth_here || point.crown <= (w - floor))
        least.closest_floor = std::min(least.closest_floor, std::max(point.crown * up_.z, w - floor) - asked.closest);
    } else if (w < floor + corner_ && mouth_here > floor) {
      least.closest_floor =
          std::min(least.closest_floor, corner_ - std::hypot(r - flat, floor + corner_ - w) - asked.closest);
    }
    if (mouth_here > floor + corner_ && w >= floor + corner_) {
      const double above = std::max(0.0, w - mouth_here);
      const double side = shape.radius - r;
      const double gap = side > 0 ? std::hypot(side, above) : above > 0 ? std::min(above, point.crown * up_.z) : side;
      least.closest_wall = std::min(least.closest_wall, gap - asked.closest);
    }
  }
  return least;
}

double PocketModel::volume(const PocketShape& shape) const {
  const Vec3 e1 = unit(across_ - dot(across_, axis_) * axis_), e2 = cross(axis_, e1);
  const double flat = shape.radius - corner_;
  double volume = 0;
  for (int ring = 0; ring < kVolumeRings; ++ring) {
    const double r = shape.radius * (ring + 0.5) / kVolumeRings;
    const double out = std::max(0.0, std::min(r - flat, corner_));
    const double bottom =
        shape.floor + (out > 0 ? corner_ - std::sqrt(std::max(0.0, corner_ * corner_ - out * out)) : 0);
    for (int i = 0; i < kMouthPoints; ++i) {
      const double azimuth = 2 * kPi * (i + 0.5) / kMouthPoints;
      const double top = mouth(shape, r, std::cos(azimuth) * e1 + std::sin(azimuth) * e2);
      if (top > bottom) volume += r * (top - bottom);
    }
  }
  return volume * shape.radius / kVolumeRings * 2 * kPi / kMouthPoints;
}

Tool PocketModel::tool(const PocketShape& shape) const {
  Tool tool;
  tool.up = axis_;
  tool.radius = shape.radius;
  tool.corner = corner_;
  tool.floor_centre = Vec3{shape.x, shape.y, 0} + shape.floor * axis_;
  return tool;
}

std::vector<Vec3> PocketModel::surface(const PocketShape& shape) const {
  const Vec3 e1 = unit(across_ - dot(across_, axis_) * axis_), e2 = cross(axis_, e1);
  std::vector<Vec3> places;
  for (int i = 0; i < kMouthPoints; ++i) {
    const double azimuth = 2 * kPi * i / kMouthPoints;
    const Vec3 out = std::cos(azimuth) * e1 + std::sin(azimuth) * e2;
    const double top = mouth(shape, shape.radius, out);
    const auto add = [&](double r, double w) {
      const Vec3 at = Vec3{shape.x, shape.y, 0} + r * out + w * axis_;
      if (w <= top && std::hypot(at.x, at.y) <= piston_.crown_diameter / 2) places.push_back(at);
    };
    for (int k = 1; k < kFloorRings; ++k) add((shape.radius - corner_) * k / kFloorRings, shape.floor);
    for (int k = 0; k <= 4; ++k) {
      const double turn = kPi / 2 * k / 4;
      add(shape.radius - corner_ + corner_ * std::sin(turn), shape.floor + corner_ * (1 - std::cos(turn)));
    }
    for (int k = 1; k <= 4; ++k) add(shape.radius, shape.floor + corner_ + (top - shape.floor - corner_) * k / 4);
  }
  return places;
}

double PocketModel::edge(const PocketShape& shape) const {
  const Vec3 e1 = unit(across_ - dot(across_, axis_) * axis_), e2 = cross(axis_, e1);
  double least = INFINITY;
  for (int i = 0; i < kMouthPoints; ++i) {
    const double azimuth = 2 * kPi * i / kMouthPoints;
    const Vec3 out = std::cos(azimuth) * e1 + std::sin(azimuth) * e2;
    // Where the wall meets the flat; or the floor, which comes out before it.
    Vec3 at = Vec3{shape.x, shape.y, 0} + shape.radius * out;
    const double along = -at.z / axis_.z;
    at = at + along * axis_;
    if (along <= shape.floor) {
      const double r = -shape.floor * axis_.z / out.z;
      if (!(out.z > 0) || !(r > 0)) continue;
      at = Vec3{shape.x, shape.y, 0} + r * out + shape.floor * axis_;
    }
    least = std::min(least, piston_.crown_diameter / 2 - piston_.top_chamfer - std::hypot(at.x, at.y));
  }
  return least;
}

PocketShape PocketModel::start() const {
  // Under the rim's middle where it comes lowest.
  const Point* lowest = nullptr;
  for (const Point& point : points_)
    if (point.rim && (lowest == nullptr || point.place.z < lowest->place.z)) lowest = &point;
  PocketShape shape;
  if (lowest == nullptr) return shape;
  // That point is on the low side of the rim: its middle is a radius back.
  const double lean = std::hypot(up_.x, up_.y);
  const Vec3 low = lean > 1e-12 ? Vec3{up_.x / lean, up_.y / lean, 0} : Vec3{1, 0, 0};
  const Vec3 centre = lowest->place - head_radius_ * unit(low - dot(low, up_) * up_);
  const Vec3 crossing = centre - (centre.z / axis_.z) * axis_;
  shape.x = crossing.x;
  shape.y = crossing.y;
  shape.radius = head_radius_ + corner_ + 1;
  shape.floor = -3;
  return shape;
}

}  // namespace eyebrow::study
