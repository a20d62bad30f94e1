#include "solid/tool.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <vector>

#include "solid/valve_outline.hpp"

namespace eyebrow {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr int kHalvings = 60;          // of an interval of 1000 mm: 1e-15
constexpr int kBoundarySamples = 720;  // round the crown's edge; the least is then sought between neighbours
constexpr double kDepth = 1e-10;       // a depth is met when off by no more: round-off over 100 mm, with room
constexpr int kSteps = 32;             // of the search for a floor that is partly outside the crown
constexpr double kNoTilt = 1e-12;      // sine of a tilt that counts as none: 1e-10 mm over 100 mm

/// Halves [from, to] down to where `inside` turns from false to true.
double turning(double from, double to, const std::function<bool(double)>& inside) {
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (from + to) / 2;
    (inside(middle) ? to : from) = middle;
  }
  return (from + to) / 2;
}

/// Where the least of `f`, falling then rising, lies in [from, to].
double least_at(double from, double to, const std::function<double(double)>& f) {
  const double golden = (std::sqrt(5.0) - 1) / 2;
  double a = to - golden * (to - from), b = from + golden * (to - from), fa = f(a), fb = f(b);
  for (int i = 0; i < 2 * kHalvings / 3; ++i) {
    if (fa <= fb) {
      to = b, b = a, fb = fa, a = to - golden * (to - from), fa = f(a);
    } else {
      from = a, a = b, fa = fb, b = from + golden * (to - from), fb = f(b);
    }
  }
  return (from + to) / 2;
}

/// Horizontal unit vector toward the tool's low side.
Vec3 low_side(const Tool& tool) {
  const double sine = std::hypot(tool.up.x, tool.up.y);
  return sine < kNoTilt ? Vec3{1, 0, 0} : Vec3{tool.up.x / sine, tool.up.y / sine, 0};
}

/// Every local minimum of z on the tool's lower surface.
std::vector<Vec3> low_points(const Tool& tool) {
  const double sine = std::hypot(tool.up.x, tool.up.y);
  const Vec3 side = low_side(tool);
  const Vec3 outward = tool.up.z * side - Vec3{0, 0, sine};  // square to the axis, downhill
  const auto at = [&](double r, double w) { return tool.floor_centre + w * tool.up + r * outward; };
  // On the corner's arc the lowest point looks straight down from the tube's centre; a sharp edge is an arc of radius
  // 0.
  std::vector<Vec3> points{at(tool.radius - tool.corner + tool.corner * sine, tool.corner * (1 - tool.up.z))};
  if (tool.recess > 0) {
    const FaceSphere ball = face_sphere(FaceShape::domed, tool.recess, tool.recess_radius);
    if (ball.radius * sine <= tool.recess_radius) {
      points.push_back(tool.floor_centre + ball.centre * tool.up - Vec3{0, 0, ball.radius});
    }
  }
  return points;
}

Tool moved_along_axis(Tool tool, double along) {
  tool.floor_centre = tool.floor_centre + along * tool.up;
  return tool;
}

}  // namespace

double floor_height(const Tool& tool, double r) {
  if (const double flat = tool.radius - tool.corner; r > flat) {
    const double out = std::min(r - flat, tool.corner);
    return tool.corner - std::sqrt(std::max(0.0, tool.corner * tool.corner - out * out));
  }
  if (tool.recess == 0 || r >= tool.recess_radius) return 0;
  const bool domed = tool.recess > 0;
  const FaceSphere ball =
      face_sphere(domed ? FaceShape::domed : FaceShape::dished, std::fabs(tool.recess), tool.recess_radius);
  const double half_chord = std::sqrt(std::max(0.0, ball.radius * ball.radius - r * r));
  return domed ? ball.centre - half_chord : ball.centre + half_chord;
}

std::optional<Span> on_vertical(const Tool& tool, double x, double y, double top) {
  const Vec3 from = Vec3{x, y, 0} - tool.floor_centre;
  const double w0 = dot(from, tool.up);
  const Vec3 across0 = from - w0 * tool.up;
  const Vec3 across1 = Vec3{0, 0, 1} - tool.up.z * tool.up;
  const double a = dot(across1, across1), b = dot(across0, across1),
               c = dot(across0, across0) - tool.radius * tool.radius;
  const auto w = [&](double z) { return w0 + z * tool.up.z; };
  const auto r = [&](double z) { return norm(across0 + z * across1); };
  const auto inside_by = [&](double z) { return w(z) - floor_height(tool, std::min(r(z), tool.radius)); };

  if (a < kNoTilt * kNoTilt) {
    if (c > 0) return std::nullopt;
    return Span{floor_height(tool, r(0)) - w0, kInfinity};
  }
  const double discriminant = b * b - a * c;
  if (discriminant <= 0) return std::nullopt;
  const double in = (-b - std::sqrt(discriminant)) / a, out = (-b + std::sqrt(discriminant)) / a;
  if (in >= top) return std::nullopt;
  double low = in, high = out;
  if (inside_by(in) < 0) {
    // The common case by itself: the line comes in through the flat floor.
    const double at_floor = -w0 / tool.up.z;
    const double r_floor = r(at_floor);
    const bool on_flat = at_floor > in && at_floor < out && r_floor <= tool.radius - tool.corner &&
                         (tool.recess == 0 || r_floor >= tool.recess_radius);
    double inner = out;
    if (inside_by(out) < 0) {
      // Comes in and goes out through the low surface: the depth inside is concave along the line.
      inner = least_at(in, out, [&](double z) { return -inside_by(z); });
      if (inside_by(inner) <= 0) return std::nullopt;
      high = turning(out, inner, [&](double z) { return inside_by(z) >= 0; });
    }
    low = on_flat ? at_floor : turning(in, inner, [&](double z) { return inside_by(z) >= 0; });
  }
  return Span{low, high};
}

double lowest(const Tool& tool) {
  double z = kInfinity;
  for (const Vec3& point : low_points(tool)) z = std::min(z, point.z);
  return z;
}

std::optional<double> lowest_inside(const Tool& tool, double crown_radius) {
  double z = kInfinity;
  for (const Vec3& point : low_points(tool)) {
    if (std::hypot(point.x, point.y) <= crown_radius) z = std::min(z, point.z);
  }
  if (z == lowest(tool)) return z;
  // Otherwise the least is a local one inside, found above, or lies on the crown's edge.
  const auto on_edge = [&](double azimuth) {
    const auto span = on_vertical(tool, crown_radius * std::cos(azimuth), crown_radius * std::sin(azimuth));
    return span ? span->low : kInfinity;
  };
  const double step = 2 * kPi / kBoundarySamples;
  double best = kInfinity, best_azimuth = 0;
  for (int i = 0; i < kBoundarySamples; ++i) {
    if (const double value = on_edge(i * step); value < best) best = value, best_azimuth = i * step;
  }
  if (best < kInfinity) best = std::min(best, on_edge(least_at(best_azimuth - step, best_azimuth + step, on_edge)));
  z = std::min(z, best);
  return z < kInfinity ? std::optional(z) : std::nullopt;
}

std::optional<Tool> pocket_tool(const Pocket& pocket, const Valve* valve, double crown_radius) {
  Tool tool;
  tool.up = tilted_axis(pocket.tilt, pocket.lean);
  tool.radius = pocket.diameter / 2;
  tool.corner = pocket.corner_radius;
  if (pocket.floor == FloorShape::valve_face && valve != nullptr && valve->face != FaceShape::flat) {
    tool.recess = valve->face == FaceShape::domed ? valve->face_depth : -valve->face_depth;
    tool.recess_radius = valve->head_diameter / 2 - valve->rim_radius;
  }
  const Vec3 crossing{pocket.x, pocket.y, 0};
  const auto at = [&](double z) { return crossing + (z / tool.up.z) * tool.up; };
  switch (pocket.depth_to) {
    case DepthTo::floor_centre:
      tool.floor_centre = at(-pocket.depth) + tool.recess * tool.up;
      return tool;
    case DepthTo::sharp_edge:
      tool.floor_centre = at(-pocket.depth + tool.radius * std::sin(pocket.tilt));
      return tool;
    case DepthTo::deepest:
      break;
  }

  // As if all of the pocket were inside the crown: then the pocket only moves along its axis, and so does its low
  // point.
  tool.floor_centre = crossing;
  tool = moved_along_axis(tool, (-pocket.depth - lowest(tool)) / tool.up.z);
  const auto depth_at = [&](double further) {
    const auto z = lowest_inside(moved_along_axis(tool, -further), crown_radius);
    return z ? -*z : -kInfinity;
  };
  const auto deep_enough = [&](double further) { return depth_at(further) >= pocket.depth - kDepth; };
  if (deep_enough(0)) return tool;
  // Part of it is outside: it must go further down, by no more than its own height (then all of the floor has gone by).
  const double step = (tool.radius + pocket.depth) / kSteps;
  for (double further = step; further <= 2 * kSteps * step; further += step) {
    if (!deep_enough(further)) continue;
    const double found = turning(further - step, further, deep_enough);
    if (std::fabs(depth_at(found) - pocket.depth) > 10 * kDepth) return std::nullopt;  // it jumped: no such depth
    return moved_along_axis(tool, -found);
  }
  return std::nullopt;
}

Tool dish_tool(const Dish& dish) {
  Tool tool;
  tool.floor_centre = {dish.x, dish.y, -dish.depth};
  tool.radius = dish.diameter / 2;
  tool.corner = dish.corner_radius;
  return tool;
}

}  // namespace eyebrow
