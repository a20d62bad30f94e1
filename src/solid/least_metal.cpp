#include "solid/least_metal.hpp"

#include <algorithm>
#include <queue>

namespace eyebrow {
namespace {

constexpr double kMetalClose = 1e-4;  // mm: looked no further; a wall is not measured better than to a hundredth
constexpr int kMostPieces = 200000;   // then `low` tells what is not proven; none of our crowns comes near

struct MetalPiece {
  double low;
  std::array<Vec3, 3> corner;
  int face;
  bool operator<(const MetalPiece& other) const { return low > other.low; }  // the least on top
};

class MetalSearch {
 public:
  MetalSearch(const Crown& crown, const std::function<SeenBeyond(Vec3)>& see, double enough)
      : crown_(crown), see_(see), enough_(enough) {}

  void add(std::array<Vec3, 3> corner, int face) {
    const SeenBeyond seen = see_((1.0 / 3) * (corner[0] + corner[1] + corner[2]));
    double low = seen.at_least(corner[0]);
    for (const Vec3& p : corner) low = std::min(low, seen.at_least(p));
    if (low < least_.value - kMetalClose) pieces_.push({low, corner, face});
  }

  /// `p` lies on the exact face.
  void look(Vec3 p, int face) {
    const SeenBeyond seen = see_(p);
    if (seen.distance < least_.value) least_ = {seen.distance, NAN, p, seen.nearest, face};
  }

  bool ended() const { return least_.value < enough_; }

  LeastMetal run() {
    int opened = 0;
    double left = INFINITY;
    while (!pieces_.empty() && !ended()) {
      const MetalPiece piece = pieces_.top();
      if (piece.low >= least_.value - kMetalClose || ++opened > kMostPieces) {
        left = piece.low;
        break;
      }
      pieces_.pop();
      halve(piece);
    }
    least_.low = std::min(left, least_.value - kMetalClose) - crown_.error;
    return least_;
  }

 private:
  void halve(const MetalPiece& piece) {
    const auto& c = piece.corner;
    std::size_t longest = 0;
    const auto side = [&](std::size_t i) { return norm(c[(i + 1) % 3] - c[i]); };
    for (std::size_t i = 1; i < 3; ++i)
      if (side(i) > side(longest)) longest = i;
    const Vec3 from = c[longest], to = c[(longest + 1) % 3], tip = c[(longest + 2) % 3];
    const Vec3 middle = 0.5 * (from + to);
    look(on_face(middle, piece.face), piece.face);
    add({from, middle, tip}, piece.face);
    add({middle, to, tip}, piece.face);
  }
  /// A chord's middle is off its face by less than the mesh's error, where one step is exact.
  Vec3 on_face(Vec3 p, int number) const {
    const Face& face = crown_.faces[static_cast<std::size_t>(number)];
    const double off = off_surface(face, p);
    return std::isnan(off) ? p : p - off * off_surface_gradient(face, p);
  }

  const Crown& crown_;
  const std::function<SeenBeyond(Vec3)>& see_;
  double enough_;
  std::priority_queue<MetalPiece> pieces_;
  LeastMetal least_;
};

/// The nearest places of two stretches. Christer Ericson, "Real-Time Collision Detection", 2005, 5.1.9.
std::pair<Vec3, Vec3> nearest_places(Vec3 p1, Vec3 q1, Vec3 p2, Vec3 q2) {
  const Vec3 d1 = q1 - p1, d2 = q2 - p2, r = p1 - p2;
  const double a = dot(d1, d1), e = dot(d2, d2), f = dot(d2, r), c = dot(d1, r), b = dot(d1, d2);
  const double denominator = a * e - b * b;
  double s = denominator > 1e-12 * a * e ? std::clamp((b * f - c * e) / denominator, 0.0, 1.0) : 0.0;
  double t = e > 0 ? (b * s + f) / e : 0;
  if (t < 0 || t > 1) {
    t = std::clamp(t, 0.0, 1.0);
    s = a > 0 ? std::clamp((b * t - c) / a, 0.0, 1.0) : 0;
  }
  return {p1 + s * d1, p2 + t * d2};
}

}  // namespace

LeastMetal least_metal(const Crown& crown, const std::vector<bool>& wanted, const std::function<SeenBeyond(Vec3)>& see,
                       double enough) {
  MetalSearch search(crown, see, enough);
  std::vector<int> face_of(crown.points.size(), -1);
  for (const Triangle& triangle : crown.triangles)
    if (wanted[static_cast<std::size_t>(triangle.face)])
      for (const int vertex : triangle.vertex) face_of[static_cast<std::size_t>(vertex)] = triangle.face;
  for (std::size_t i = 0; i < face_of.size(); ++i)
    if (face_of[i] >= 0) search.look(crown.points[i], face_of[i]);
  for (const Triangle& triangle : crown.triangles) {
    if (search.ended()) break;
    if (!wanted[static_cast<std::size_t>(triangle.face)]) continue;
    const auto corner = [&](std::size_t i) { return crown.points[static_cast<std::size_t>(triangle.vertex[i])]; };
    search.add({corner(0), corner(1), corner(2)}, triangle.face);
  }
  return search.run();
}

LeastMetal least_between_edges(const Crown& crown, const std::vector<bool>& one, const std::vector<bool>& other) {
  const auto of = [&](const Edge& edge, const std::vector<bool>& faces) {
    for (const int face : edge.faces)
      if (face >= 0 && faces[static_cast<std::size_t>(face)]) return face;
    return -1;
  };
  LeastMetal least;
  for (const Edge& first : crown.edges) {
    const int face = of(first, one);
    if (face < 0) continue;
    for (const Edge& second : crown.edges) {
      if (of(second, other) < 0) continue;
      for (std::size_t i = 1; i < first.points.size(); ++i)
        for (std::size_t k = 1; k < second.points.size(); ++k) {
          const auto [p, q] =
              nearest_places(first.points[i - 1], first.points[i], second.points[k - 1], second.points[k]);
          if (const double d = norm(p - q); d < least.value) least = {d, d - 2 * crown.error, p, q, face};
        }
    }
  }
  return least;
}

}  // namespace eyebrow
