#include "edge_kind.hpp"

#include <map>
#include <tuple>
#include <utility>

#include "tolerances.hpp"

namespace eyebrow::gap {
namespace {

using Place = std::tuple<double, double, double>;
Place place(Vec3 p) {
  return {p.x, p.y, p.z};
}

/// Which triangles of the mesh have a side.
class Sides {
 public:
  explicit Sides(const Crown& crown) {
    for (std::size_t i = 0; i < crown.points.size(); ++i) number_[place(crown.points[i])] = static_cast<int>(i);
    for (std::size_t t = 0; t < crown.triangles.size(); ++t)
      for (int k = 0; k < 3; ++k) {
        const auto& v = crown.triangles[t].vertex;
        triangle_[{v[static_cast<std::size_t>(k)], v[static_cast<std::size_t>((k + 1) % 3)]}] = static_cast<int>(t);
      }
  }
  /// The triangle that is walked from a to b; -1 = none.
  int walked(Vec3 a, Vec3 b) const {
    const auto from = number_.find(place(a)), to = number_.find(place(b));
    if (from == number_.end() || to == number_.end()) return -1;
    const auto found = triangle_.find({from->second, to->second});
    return found == triangle_.end() ? -1 : found->second;
  }

 private:
  std::map<Place, int> number_;
  std::map<std::pair<int, int>, int> triangle_;
};

bool sticks_out(const Edge& edge, const Target& target, const Sides& sides) {
  const Crown& crown = target.crown();
  for (std::size_t i = 0; i + 1 < edge.points.size(); ++i) {
    const Vec3 a = edge.points[i], b = edge.points[i + 1];
    const int left = sides.walked(a, b), right = sides.walked(b, a);
    if (left < 0 || right < 0) return true;
    const auto normal = [&](int triangle) {
      const Vec3 n = plain_normal(
          crown.faces[static_cast<std::size_t>(crown.triangles[static_cast<std::size_t>(triangle)].face)], a);
      return dot(n, target.normal(triangle)) < 0 ? -n : n;
    };
    const Vec3 n = normal(left);
    if (dot(normal(right), cross(n, unit(b - a))) < -kSmooth) return true;  // the left face goes down behind the right
  }
  return false;
}

}  // namespace

Vec3 plain_normal(const Face& face, Vec3 p) {
  const Vec3 d = p - face.frame.origin, aside = d - dot(d, face.frame.z) * face.frame.z;
  switch (face.kind) {
    case Surface::cylinder:
      return unit(aside);
    case Surface::cone:
      return std::cos(face.radius2) * unit(aside) - std::sin(face.radius2) * face.frame.z;
    case Surface::sphere:
      return unit(d);
    case Surface::torus:
      return unit(d - face.radius * unit(aside));
    case Surface::plane:
    case Surface::free_form:
      break;
  }
  return face.frame.z;
}

std::vector<bool> edges_that_stick_out(const Target& target) {
  const Sides sides(target.crown());
  std::vector<bool> out;
  for (const Edge& edge : target.crown().edges) out.push_back(sticks_out(edge, target, sides));
  return out;
}

}  // namespace eyebrow::gap
