#include "scene/section_cut.hpp"

#include <unordered_map>

namespace eyebrow::scene {
namespace {

constexpr double kOffVertices = 1e-5;

}  // namespace

Cut cut_by(const Crown& solid, const Plane& plane) {
  std::vector<double> height;
  height.reserve(solid.points.size());
  for (const Vec3 p : solid.points) height.push_back(dot(p - plane.origin, plane.normal) - kOffVertices);
  Cut cut;
  std::unordered_map<long, int> known;  // an edge of the mesh, by its ends
  const long count = static_cast<long>(solid.points.size());
  const auto crossing = [&](int a, int b) {
    if (a > b) std::swap(a, b);
    const auto [at, is_new] = known.try_emplace(a * count + b, static_cast<int>(cut.points.size()));
    if (is_new) {
      const double ha = height[static_cast<std::size_t>(a)], hb = height[static_cast<std::size_t>(b)];
      const Vec3 pa = solid.points[static_cast<std::size_t>(a)], pb = solid.points[static_cast<std::size_t>(b)];
      cut.points.push_back(pa + (ha / (ha - hb)) * (pb - pa));
    }
    return at->second;
  };
  for (const Triangle& triangle : solid.triangles) {
    int found = 0;
    Cut::Line line{{-1, -1}, triangle.face};
    for (std::size_t i = 0; i < 3; ++i) {
      const int a = triangle.vertex[i], b = triangle.vertex[(i + 1) % 3];
      if ((height[static_cast<std::size_t>(a)] < 0) == (height[static_cast<std::size_t>(b)] < 0)) continue;
      line.ends[static_cast<std::size_t>(found++ % 2)] = crossing(a, b);
    }
    if (found == 2) cut.lines.push_back(line);
  }
  return cut;
}

}  // namespace eyebrow::scene
