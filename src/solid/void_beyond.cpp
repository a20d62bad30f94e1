#include "solid/void_beyond.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace eyebrow {
namespace {

constexpr int kMostRounds = 400;        // of the projections onto several bodies in turn: each takes microseconds
constexpr double kStandsStill = 1e-10;  // mm in a round: it has come to rest

double from_axis(Vec3 p) {
  return std::hypot(p.x, p.y);
}

/// The same azimuth as `p`, at (r, z).
Vec3 beside(Vec3 p, double r, double z) {
  const double was = from_axis(p);
  return was > 0 ? Vec3{p.x / was * r, p.y / was * r, z} : Vec3{r, 0, z};
}

/// Of a turned body, from outside it, to the nearest (r, z) in the half plane.
SeenBeyond turned_seen(Vec3 from, double r, double z) {
  const double dr = from_axis(from) - r, dz = from.z - z, distance = std::hypot(dr, dz);
  SeenBeyond seen{distance, beside(from, r, z), {-1, 0, 0}, true};
  if (distance > 0) seen.way = {dr / distance, 0, dz / distance};
  return seen;
}

}  // namespace

double SeenBeyond::at_least(Vec3 p) const {
  if (!turned) return dot(way, p - nearest);
  return way.x * (from_axis(p) - from_axis(nearest)) + way.z * (p.z - nearest.z);
}

SeenBeyond see_underside(double below, Vec3 from) {
  return {from.z + below, {from.x, from.y, -below}, {0, 0, 1}, false};
}

SeenBeyond see_groove(double radius, double below, Vec3 from) {
  const double r = from_axis(from), inward = radius - r, above = from.z + below;
  if (inward > 0 || above > 0) return turned_seen(from, std::max(r, radius), std::min(from.z, -below));
  // Inside the groove: out through its floor or its top flank, whichever is nearer.
  if (inward >= above) return {inward, beside(from, radius, from.z), {-1, 0, 0}, true};
  return {above, {from.x, from.y, -below}, {0, 0, 1}, true};
}

SeenBeyond see_edge(double radius, double chamfer, Vec3 from) {
  const double r = from_axis(from);
  const SeenBeyond side = turned_seen(from, radius, std::min(from.z, -chamfer));
  if (chamfer <= 0) return side;
  // On the chamfer, along its slope from its upper edge.
  const double along = std::clamp((r - (radius - chamfer) - from.z) / 2, 0.0, chamfer);
  const SeenBeyond slope = turned_seen(from, radius - chamfer + along, -along);
  return slope.distance < side.distance ? slope : side;
}

ToolBeyond::ToolBeyond(const Tool& tool, double top, double radius) : tool_(tool), top_(top), radius_(radius) {
  // A floor shaped like a valve face: flat at its lowest place.
  if (tool_.recess > 0) tool_.floor_centre = tool_.floor_centre - tool_.recess * tool_.up;
}

Vec3 ToolBeyond::onto_tool(Vec3 p) const {
  const Vec3 from = p - tool_.floor_centre;
  const double w = dot(from, tool_.up);
  const Vec3 across = from - w * tool_.up;
  const double r = norm(across), flat = tool_.radius - tool_.corner;
  const auto at = [&](double to_r, double to_w) {
    return tool_.floor_centre + to_w * tool_.up + (r > 0 ? to_r / r : 0.0) * across;
  };
  const double out = r - flat, down = tool_.corner - w;
  if (out > 0 && down > 0) {
    const double away = std::hypot(out, down);
    if (away <= tool_.corner) return p;
    return at(flat + out / away * tool_.corner, tool_.corner - down / away * tool_.corner);
  }
  return at(std::min(r, tool_.radius), std::max(w, 0.0));
}

SeenBeyond ToolBeyond::operator()(Vec3 from) const {
  Vec3 nearest = onto_tool(from);
  const auto allowed = [&](Vec3 p) { return p.z <= top_ + 1e-9 && from_axis(p) <= radius_ + 1e-9; };
  if (!allowed(nearest)) {
    // The nearest place of three convex bodies' common part. J. P. Boyle and R. L. Dykstra, "A Method for Finding
    // Projections onto the Intersection of Convex Sets in Hilbert Spaces", 1986: project in turn, each time less what
    // that body's last projection had added.
    std::array<Vec3, 3> added{};
    Vec3 p = from;
    const auto project = [&](int body, Vec3 q) {
      if (body == 0) return onto_tool(q);
      if (body == 1) return Vec3{q.x, q.y, std::min(q.z, top_)};
      return from_axis(q) > radius_ ? beside(q, radius_, q.z) : q;
    };
    for (int round = 0; round < kMostRounds; ++round) {
      const Vec3 before = p;
      for (int body = 0; body < 3; ++body) {
        const Vec3 q = p + added[static_cast<std::size_t>(body)];
        p = project(body, q);
        added[static_cast<std::size_t>(body)] = q - p;
      }
      if (norm(p - before) < kStandsStill) break;
    }
    nearest = p;
  }
  const double distance = norm(from - nearest);
  if (distance == 0) return {0, from, {0, 0, 0}, false};
  return {distance, nearest, (1 / distance) * (from - nearest), false};
}

}  // namespace eyebrow
