#include "solid/outline_cover.hpp"

#include <algorithm>
#include <cmath>

#include "eyebrow/vec.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kMostPlaces = 80;
constexpr double kOnLine = 1e-9;
constexpr int kOutward = 3;  // places tried at each point: on the curve, half the way out, all the way out

Point2 outward_at(const std::vector<Point2>& curve, std::size_t i) {
  const Point2 a = curve[i == 0 ? 0 : i - 1], b = curve[std::min(i + 1, curve.size() - 1)];
  const double length = std::hypot(b.r - a.r, b.w - a.w);
  return {(b.w - a.w) / length, -(b.r - a.r) / length};
}

/// The least number of pieces, then the least error.
class Cover {
 public:
  Cover(const std::vector<Point2>& curve, double within) : curve_(curve), within_(within) {
    const std::size_t count = curve.size();
    const std::size_t places = std::min(count, kMostPlaces);
    for (std::size_t k = 0; k < places; ++k) {
      const std::size_t i = k * (count - 1) / (places - 1);
      const bool end = k == 0 || k + 1 == places;
      const Point2 out = outward_at(curve, i);
      for (int step = 0; step < (end ? 1 : kOutward); ++step) {
        const double by = within * step / (kOutward - 1);
        nodes_.push_back({{curve[i].r + by * out.r, curve[i].w + by * out.w}, i});
      }
    }
  }

  OutlineCover best() {
    nodes_.front().pieces = 0;
    for (std::size_t b = 1; b < nodes_.size(); ++b)
      for (std::size_t a = 0; a < b; ++a) {
        if (nodes_[a].pieces < 0 || nodes_[a].place >= nodes_[b].place) continue;
        const int pieces = nodes_[a].pieces + 1;
        Node& node = nodes_[b];
        if (node.pieces >= 0 && node.pieces < pieces) continue;
        const double off = error_of(nodes_[a], node);
        const double error = std::max(off, nodes_[a].error);
        if (!std::isfinite(off) || (node.pieces == pieces && node.error <= error)) continue;
        node.pieces = pieces;
        node.error = error;
        node.before = a;
      }
    OutlineCover cover;
    if (nodes_.back().pieces < 0) return cover;
    cover.error = nodes_.back().error;
    for (std::size_t at = nodes_.size() - 1;; at = nodes_[at].before) {
      cover.points.push_back(nodes_[at].at);
      if (at == 0) break;
    }
    std::reverse(cover.points.begin(), cover.points.end());
    return cover;
  }

 private:
  struct Node {
    Point2 at;
    std::size_t place;
    int pieces = -1;  // from the first; -1 = out of reach
    double error = 0;
    std::size_t before = 0;
  };

  /// Of the straight piece from one to the other; infinite where the curve comes out of it, or it goes too far.
  double error_of(const Node& a, const Node& b) const {
    const double dr = b.at.r - a.at.r, dw = b.at.w - a.at.w, length = std::hypot(dr, dw);
    double error = std::max(std::hypot(a.at.r - curve_[a.place].r, a.at.w - curve_[a.place].w),
                            std::hypot(b.at.r - curve_[b.place].r, b.at.w - curve_[b.place].w));
    for (std::size_t i = a.place; i <= b.place; ++i) {
      const double inward = (dr * (curve_[i].w - a.at.w) - dw * (curve_[i].r - a.at.r)) / length;
      if (inward < -kOnLine) return INFINITY;
      error = std::max(error, inward);
    }
    return error <= within_ * (1 + 1e-9) ? error : INFINITY;
  }

  const std::vector<Point2>& curve_;
  double within_;
  std::vector<Node> nodes_;
};

}  // namespace

OutlineCover cover_outside(const std::vector<Point2>& curve, double within) {
  for (double allowed = within; allowed < 1e3 * within; allowed *= 2)
    if (OutlineCover cover = Cover(curve, allowed).best(); !cover.points.empty()) return cover;
  return {};
}

std::vector<Point2> arc_points(const ProfileElement& arc, int count) {
  const double first = std::atan2(arc.from.w - arc.centre.w, arc.from.r - arc.centre.r);
  const double last = std::atan2(arc.to.w - arc.centre.w, arc.to.r - arc.centre.r);
  const double turn = std::remainder(last - first, 2 * kPi);
  std::vector<Point2> points{arc.from};
  for (int i = 1; i < count; ++i)
    points.push_back({arc.centre.r + arc.radius * std::cos(first + turn * i / count),
                      arc.centre.w + arc.radius * std::sin(first + turn * i / count)});
  points.push_back(arc.to);
  return points;
}

}  // namespace eyebrow
