#include "scene/finer.hpp"

#include <algorithm>
#include <unordered_map>

namespace eyebrow::scene {
namespace {

class Halver {
 public:
  Halver(Crown& solid, double longest, const std::function<bool(const Face&)>& chosen)
      : solid_(solid), longest_(longest) {
    for (const Face& face : solid.faces) chosen_.push_back(chosen(face));
  }

  /// True where something was halved.
  bool pass() {
    middles_.clear();
    for (const Triangle& each : solid_.triangles)
      if (chosen_[static_cast<std::size_t>(each.face)])
        for (std::size_t i = 0; i < 3; ++i) halve(each.vertex[i], each.vertex[(i + 1) % 3]);
    if (middles_.empty()) return false;
    const std::vector<Triangle> before = std::move(solid_.triangles);
    solid_.triangles.clear();
    for (const Triangle& each : before) split(each);
    return true;
  }

 private:
  Vec3 point(int i) const { return solid_.points[static_cast<std::size_t>(i)]; }

  static long side(int a, int b) { return static_cast<long>(std::min(a, b)) << 32 | std::max(a, b); }

  void halve(int a, int b) {
    if (norm(point(a) - point(b)) <= longest_) return;
    const auto [at, is_new] = middles_.try_emplace(side(a, b), static_cast<int>(solid_.points.size()));
    if (is_new) solid_.points.push_back(0.5 * (point(a) + point(b)));
  }

  /// -1 = the side is whole.
  int middle(int a, int b) const {
    const auto at = middles_.find(side(a, b));
    return at == middles_.end() ? -1 : at->second;
  }

  void add(int a, int b, int c, int face) { solid_.triangles.push_back({{a, b, c}, face}); }

  void split(const Triangle& t) {
    int v[] = {t.vertex[0], t.vertex[1], t.vertex[2]};
    int m[] = {middle(v[0], v[1]), middle(v[1], v[2]), middle(v[2], v[0])};
    const int halved = (m[0] >= 0) + (m[1] >= 0) + (m[2] >= 0);
    // Turned so that with one side halved it is the first, with two the last is whole.
    while ((halved == 1 && m[0] < 0) || (halved == 2 && m[2] >= 0)) {
      std::rotate(v, v + 1, v + 3);
      std::rotate(m, m + 1, m + 3);
    }
    if (halved == 0) return add(v[0], v[1], v[2], t.face);
    if (halved == 1) {
      add(v[0], m[0], v[2], t.face);
      return add(m[0], v[1], v[2], t.face);
    }
    add(m[0], v[1], m[1], t.face);
    if (halved == 2) {
      add(v[0], m[0], m[1], t.face);
      return add(v[0], m[1], v[2], t.face);
    }
    add(v[0], m[0], m[2], t.face);
    add(m[2], m[1], v[2], t.face);
    add(m[0], m[1], m[2], t.face);
  }

  Crown& solid_;
  double longest_;
  std::vector<bool> chosen_;  ///< one a face
  std::unordered_map<long, int> middles_;
};

}  // namespace

Crown finer(const Crown& solid, double longest, const std::function<bool(const Face&)>& chosen) {
  Crown out = solid;
  Halver halver(out, longest, chosen);
  while (halver.pass()) {
  }
  return out;
}

}  // namespace eyebrow::scene
