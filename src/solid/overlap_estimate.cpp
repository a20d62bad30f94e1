#include "solid/overlap_estimate.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace eyebrow {
namespace {

// Lines a side of the grid. With 240 a disc's area is good to some 1e-4.
constexpr int kSide = 240;
// How often the grid is drawn in to the overlap before it is measured; each time gains what the last left empty.
constexpr int kDrawIns = 3;
// Shifts of the grid in cells, spread evenly (the additive sequence of the plastic number), and how many.
constexpr int kShifts = 4;
constexpr double kShiftX = 0.7548776662466927, kShiftY = 0.5698402909980532;
// The grid is turned against the crown's axes by this, so that no straight edge of a crown runs along it.
constexpr double kTurn = 1.0;
// An overlap that no line of the grid meets has an area of few cells; this many are allowed for.
constexpr double kUnseenCells = 10;

struct Box {
  double x0 = INFINITY, y0 = INFINITY, x1 = -INFINITY, y1 = -INFINITY;
  void add(double x, double y) {
    x0 = std::min(x0, x), x1 = std::max(x1, x);
    y0 = std::min(y0, y), y1 = std::max(y1, y);
  }
};

/// What of a valve lies at one distance from its axis: bottom and top; empty outside its rim.
struct Extent {
  double low = INFINITY, high = -INFINITY;
};

Extent extent_at(const Profile& profile, double r) {
  Extent extent;
  for (const ProfileElement& e : profile.elements) {
    const bool outward = e.to.r > e.from.r;  // walked outward under the head, inward over it
    if (e.to.r == e.from.r || r < std::min(e.from.r, e.to.r) || r > std::max(e.from.r, e.to.r)) continue;
    double w = e.from.w + (e.to.w - e.from.w) * (r - e.from.r) / (e.to.r - e.from.r);
    if (e.radius > 0) {
      const double up = std::sqrt(std::max(0.0, e.radius * e.radius - (r - e.centre.r) * (r - e.centre.r)));
      w = e.centre.w + (outward == e.bulges ? -up : up);
    }
    extent.low = std::min(extent.low, w);
    extent.high = std::max(extent.high, w);
  }
  return extent;
}

/// Whether p lies to the left of a -> b, the same in b -> a but for the sign: so a line through an edge crosses just
/// one of the edge's two triangles.
bool left_of(Vec3 a, Vec3 b, double x, double y) {
  const bool swap = b.x < a.x || (b.x == a.x && b.y < a.y);
  if (swap) std::swap(a, b);
  const bool left = (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x) > 0;
  return left != swap;
}

double height_in(Vec3 a, Vec3 b, Vec3 c, double x, double y) {
  const Vec3 n = cross(b - a, c - a);
  const double w = n.z == 0 ? a.z : a.z - (n.x * (x - a.x) + n.y * (y - a.y)) / n.z;
  return std::clamp(w, std::min({a.z, b.z, c.z}), std::max({a.z, b.z, c.z}));
}

/// One line of the grid: the length within both parts, its moment, and how often the line is inside the mesh at its
/// upper end (0 unless rounding lost a crossing).
struct Line {
  double low = 0, high = -1;
  double length = 0, moment = 0;
  int inside = 0;
};

struct Sum {
  double volume = 0, x = 0, y = 0, w = 0;  // with the first moments
  double area = 0, sides = 0;              // seen along the stem; of what stands upright
  double lost = 0;                         // volume of lines that cannot be told
  Box seen;
};

class Grid {
 public:
  Grid(const Crown& crown, const Profile& profile, const Frame& place) : crown_(crown), profile_(profile) {
    points_.reserve(crown.points.size());
    for (const Vec3& p : crown.points) {
      const Vec3 d = p - place.origin;
      points_.push_back({dot(d, place.x), dot(d, place.y), dot(d, place.z)});
      top_ = std::max(top_, points_.back().z);
    }
  }

  Sum over(const Box& box, double shift_x, double shift_y) const {
    const double hx = (box.x1 - box.x0) / kSide, hy = (box.y1 - box.y0) / kSide;
    const auto x_of = [&](int i) { return box.x0 + (i + shift_x) * hx; };
    const auto y_of = [&](int j) { return box.y0 + (j + shift_y) * hy; };
    std::vector<Line> lines(static_cast<std::size_t>(kSide) * kSide);
    for (int j = 0; j < kSide; ++j)
      for (int i = 0; i < kSide; ++i) {
        const Extent extent = extent_at(profile_, std::hypot(x_of(i), y_of(j)));
        lines[j * kSide + i].low = extent.low;
        lines[j * kSide + i].high = std::min(extent.high, top_);
      }
    for (const Triangle& triangle : crown_.triangles) {
      const Vec3 a = points_[triangle.vertex[0]], b = points_[triangle.vertex[1]], c = points_[triangle.vertex[2]];
      const auto first = [](double at) { return static_cast<int>(std::clamp(std::floor(at), 0.0, 1.0 * kSide)); };
      const auto last = [](double at) { return static_cast<int>(std::clamp(std::ceil(at), -1.0, kSide - 1.0)); };
      const int i0 = first((std::min({a.x, b.x, c.x}) - box.x0) / hx - shift_x);
      const int i1 = last((std::max({a.x, b.x, c.x}) - box.x0) / hx - shift_x);
      const int j0 = first((std::min({a.y, b.y, c.y}) - box.y0) / hy - shift_y);
      const int j1 = last((std::max({a.y, b.y, c.y}) - box.y0) / hy - shift_y);
      for (int j = j0; j <= j1; ++j)
        for (int i = i0; i <= i1; ++i) cross_at(lines[j * kSide + i], a, b, c, x_of(i), y_of(j));
    }
    return summed(lines, hx, hy, x_of, y_of);
  }

 private:
  /// A crossing out of the metal ends a length, one into it begins one.
  static void cross_at(Line& line, Vec3 a, Vec3 b, Vec3 c, double x, double y) {
    if (line.low > line.high) return;
    const bool left = left_of(a, b, x, y);
    if (left_of(b, c, x, y) != left || left_of(c, a, x, y) != left) return;
    const int out = left ? 1 : -1;  // counter-clockwise from the void: seen from above, the metal ends here
    const double w = std::clamp(height_in(a, b, c, x, y), line.low, line.high);
    line.length += out * w;
    line.moment += out * w * w / 2;
    line.inside += out;
  }

  template <typename X, typename Y>
  static Sum summed(std::vector<Line>& lines, double hx, double hy, X x_of, Y y_of) {
    Sum sum;
    const double cell = hx * hy;
    for (int j = 0; j < kSide; ++j)
      for (int i = 0; i < kSide; ++i) {
        Line& line = lines[j * kSide + i];
        if (line.inside != 0) {
          sum.lost += cell * (line.high - line.low);
          line.length = line.moment = 0;
        }
        line.length = std::max(0.0, line.length);
        if (i > 0) sum.sides += hy * std::fabs(line.length - lines[j * kSide + i - 1].length);
        if (j > 0) sum.sides += hx * std::fabs(line.length - lines[(j - 1) * kSide + i].length);
        if (line.length == 0) continue;
        sum.volume += cell * line.length;
        sum.x += cell * line.length * x_of(i);
        sum.y += cell * line.length * y_of(j);
        sum.w += cell * line.moment;
        sum.area += cell;
        sum.seen.add(x_of(i), y_of(j));
      }
    return sum;
  }

  const Crown& crown_;
  const Profile& profile_;
  std::vector<Vec3> points_;  // x, y square to the stem, z along it
  double top_ = -INFINITY;
};

/// The box of what was seen and two cells around it, within the old one.
Box drawn_in(const Box& box, const Box& seen) {
  const double mx = 2 * (box.x1 - box.x0) / kSide, my = 2 * (box.y1 - box.y0) / kSide;
  return {std::max(box.x0, seen.x0 - mx), std::max(box.y0, seen.y0 - my), std::min(box.x1, seen.x1 + mx),
          std::min(box.y1, seen.y1 + my)};
}

}  // namespace

OverlapEstimate estimate_overlap(const Crown& crown, const Profile& profile, Vec3 rim_centre, Vec3 up) {
  Frame place = frame_about(rim_centre, up);
  place.x = std::cos(kTurn) * place.x + std::sin(kTurn) * place.y;
  place.y = cross(place.z, place.x);
  const Grid grid(crown, profile, place);

  const double reach = profile.rim_radius;
  Box box{-reach, -reach, reach, reach};
  const double unseen =
      kUnseenCells * (2 * reach / kSide) * (2 * reach / kSide) * std::max(profile.margin, -profile.lowest);
  OverlapEstimate estimate;
  for (int i = 0; i < kDrawIns; ++i) {
    const Sum sum = grid.over(box, 0.5, 0.5);
    if (sum.volume == 0) {
      estimate.error = sum.lost + unseen;
      return estimate;
    }
    box = drawn_in(box, sum.seen);
  }

  Sum all;
  double least = INFINITY, most = 0;
  for (int k = 0; k < kShifts; ++k) {
    const Sum sum = grid.over(box, std::fmod(0.5 + k * kShiftX, 1), std::fmod(0.5 + k * kShiftY, 1));
    least = std::min(least, sum.volume);
    most = std::max(most, sum.volume);
    all.volume += sum.volume;
    all.x += sum.x;
    all.y += sum.y;
    all.w += sum.w;
    all.area += sum.area / kShifts;
    all.sides += sum.sides / kShifts;
    all.lost += sum.lost / kShifts;
  }
  estimate.volume = all.volume / kShifts;
  // The overlap's surface is at most what is seen of it from above and from below, and what stands upright.
  estimate.error = 2 * (most - least) + crown.error * (2 * all.area + all.sides) + all.lost;
  if (all.volume > 0) {
    const double share = 1 / all.volume;
    estimate.centre = place.origin + share * all.x * place.x + share * all.y * place.y + share * all.w * place.z;
  }
  return estimate;
}

}  // namespace eyebrow
