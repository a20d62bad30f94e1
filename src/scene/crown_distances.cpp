#include "scene/crown_distances.hpp"

#include <cmath>

#include "eyebrow/shown_solids.hpp"
#include "gap/profile_distance.hpp"
#include "scene/finer.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kShownDeflection = 0.01;  // mm; less than a pixel. The kernel's mesh has ten times the points
constexpr double kLongestSide = 1.5;       // mm; bands are drawn straight in between

bool is_upper(const Face& face) {
  return face.group != Group::side && face.group != Group::underside;
}

}  // namespace

struct CrownDistances::Inner {
  /// One point as one valve saw it last.
  struct Seen {
    Vec3 centre;  ///< of the rim, piston frame
    double distance;
  };

  const study::Setup& setup;
  const Crown& crown;
  std::vector<bool> upper;  ///< one a point
  std::vector<gap::ProfileDistance> outlines;
  std::vector<std::vector<Seen>> seen;  ///< by valve and point; empty before the first look
};

Crown plain_crown(const Parts& parts) {
  return crown_to_show(parts, kShownDeflection);
}

Crown colored_crown(const Parts& parts) {
  return finer(plain_crown(parts), kLongestSide, is_upper);
}

CrownDistances::CrownDistances(const study::Setup& setup, const Crown& crown)
    : inner_(new Inner{setup, crown, std::vector<bool>(crown.points.size()), {}, {}}) {
  for (const Triangle& triangle : crown.triangles)
    if (is_upper(crown.faces[static_cast<std::size_t>(triangle.face)]))
      for (const int point : triangle.vertex) inner_->upper[static_cast<std::size_t>(point)] = true;
  for (const study::ValveSetup& valve : setup.valves) inner_->outlines.emplace_back(valve.to_piston.profile());
  inner_->seen.resize(setup.valves.size());
}

CrownDistances::~CrownDistances() = default;

std::vector<float> CrownDistances::beyond() const {
  std::vector<float> out(inner_->upper.size(), NAN);
  for (std::size_t i = 0; i < out.size(); ++i)
    if (inner_->upper[i]) out[i] = kFarthest;
  return out;
}

void CrownDistances::lower(std::vector<float>& distances, double crank) {
  for (std::size_t v = 0; v < inner_->outlines.size(); ++v) {
    const ValveToPiston& valve = inner_->setup.valves[v].to_piston;
    const Vec3 up = valve.place().up, centre = valve.rim_centre(inner_->setup.pose(static_cast<int>(v), crank));
    std::vector<Inner::Seen>& seen = inner_->seen[v];
    if (seen.empty()) seen.resize(distances.size(), {centre, -INFINITY});
    for (std::size_t i = 0; i < distances.size(); ++i) {
      if (!inner_->upper[i] || seen[i].distance - norm(centre - seen[i].centre) >= distances[i]) continue;
      const Vec3 arm = inner_->crown.points[i] - centre;
      const double w = dot(arm, up);
      seen[i] = {centre, inner_->outlines[v].eval(norm(arm - w * up), w).value};
      distances[i] = std::min(distances[i], static_cast<float>(seen[i].distance));
    }
  }
}

}  // namespace eyebrow::scene
