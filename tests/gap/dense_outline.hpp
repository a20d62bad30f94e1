// The reference's own view of a valve: its outline as a fine polygon, and nothing that src/gap knows of it.
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "eyebrow/profile.hpp"
#include "eyebrow/vec.hpp"

namespace eyebrow::dense {

inline constexpr double kNone = std::numeric_limits<double>::infinity();

/// Chords stand off their arcs by no more than this: what the reference is wrong by in any one distance.
inline constexpr double kSagitta = 1e-5;

class Outline {
 public:
  explicit Outline(const Profile& profile, double sagitta = kSagitta)
      : rim_radius_(profile.rim_radius), margin_(profile.margin), top_(profile.top) {
    corners_.push_back(profile.elements.front().from);
    for (const ProfileElement& e : profile.elements) {
      const std::size_t before = corners_.size();
      if (e.radius > 0) add_arc(e, sagitta);
      corners_.push_back(e.to);
      if (e.part != ValvePart::rim_edge && e.part != ValvePart::margin) continue;
      if (rim_.empty()) rim_.push_back(e.from);
      rim_.insert(rim_.end(), corners_.begin() + before, corners_.end());
    }
    for (const Point2& p : corners_) lowest_ = std::min(lowest_, p.w);
    make_rings();
  }

  double rim_radius() const { return rim_radius_; }
  double margin() const { return margin_; }
  double lowest() const { return lowest_; }
  double top() const { return top_; }

  /// Even-odd rule along the ray toward growing r.
  bool inside(double r, double w) const {
    bool in = false;
    for (const Ring& ring : rings_) {
      if (w < ring.low.w || w > ring.high.w || r > ring.high.r) continue;
      for (std::size_t i = ring.first; i < ring.last; ++i) {
        const Point2 a = corners_[i], b = corners_[i + 1];
        if ((a.w > w) != (b.w > w) && a.r + (w - a.w) / (b.w - a.w) * (b.r - a.r) > r) in = !in;
      }
    }
    return in;
  }

  double signed_distance(double r, double w) const {
    double least = kNone;
    for (const Ring& ring : rings_) {
      const double dr = std::max({ring.low.r - r, 0.0, r - ring.high.r}),
                   dw = std::max({ring.low.w - w, 0.0, w - ring.high.w});
      if (dr * dr + dw * dw >= least) continue;
      for (std::size_t i = ring.first; i < ring.last; ++i)
        least = std::min(least, squared(corners_[i], corners_[i + 1], r, w));
    }
    return (inside(r, w) ? -1 : 1) * std::sqrt(least);
  }

  /// Lowest and highest metal over a circle of radius r; false = none.
  bool column(double r, double& low, double& high) const {
    low = kNone;
    high = -kNone;
    for (const Ring& ring : rings_) {
      if (r < ring.low.r || r > ring.high.r) continue;
      for (std::size_t i = ring.first; i < ring.last; ++i) {
        const Point2 a = corners_[i], b = corners_[i + 1];
        if ((a.r > r) == (b.r > r)) continue;
        const double w = a.w + (r - a.r) / (b.r - a.r) * (b.w - a.w);
        low = std::min(low, w);
        high = std::max(high, w);
      }
    }
    return low <= high;
  }

  /// Radius of the rim (edge radius and margin) at height w, 0 <= w <= margin.
  double rim_at(double w) const {
    double most = -kNone;
    for (std::size_t i = 1; i < rim_.size(); ++i) {
      const Point2 a = rim_[i - 1], b = rim_[i];
      if (w < a.w || w > b.w) continue;
      most = std::max(most, b.w > a.w ? a.r + (w - a.w) / (b.w - a.w) * (b.r - a.r) : b.r);
    }
    return most;
  }

  /// From p along the unit vector n (valve's frame) to the valve: first meeting ahead; where p is inside, minus how far
  /// the valve reaches behind it on the same line.
  double meeting(Vec3 p, Vec3 n) const {
    const bool in = inside(std::hypot(p.x, p.y), p.z);
    double found = in ? 0 : kNone;
    for (const Ring& ring : rings_) {
      if (misses(ring, p, n)) continue;
      for (std::size_t i = ring.first; i < ring.last; ++i)
        for (const double s : roots(corners_[i], corners_[i + 1], p, n))
          if (in ? s < found : s >= 0 && s < found) found = s;
    }
    return found;
  }

 private:
  /// What a run of chords sweeps about the axis: chords that are left out together where a line passes them by.
  struct Ring {
    std::size_t first, last;
    Point2 low{kNone, kNone}, high{0, -kNone};
  };

  void make_rings() {
    constexpr std::size_t kRun = 12;
    for (std::size_t first = 0; first + 1 < corners_.size(); first += kRun) {
      Ring ring{first, std::min(first + kRun, corners_.size() - 1)};
      for (std::size_t i = ring.first; i <= ring.last; ++i) {
        ring.low = {std::min(ring.low.r, corners_[i].r), std::min(ring.low.w, corners_[i].w)};
        ring.high = {std::max(ring.high.r, corners_[i].r), std::max(ring.high.w, corners_[i].w)};
      }
      rings_.push_back(ring);
    }
  }

  /// Never told of a line that is nearly square to the axis.
  static bool misses(const Ring& ring, Vec3 p, Vec3 n) {
    if (std::fabs(n.z) < 0.1) return false;
    const Vec3 a = p + ((ring.low.w - kSlack - p.z) / n.z) * n, b = p + ((ring.high.w + kSlack - p.z) / n.z) * n;
    const double ra = std::sqrt(a.x * a.x + a.y * a.y), rb = std::sqrt(b.x * b.x + b.y * b.y);
    return std::max(ra, rb) < ring.low.r - kSlack || std::min(ra, rb) - norm(b - a) > ring.high.r + kSlack;
  }

  /// Where the line p + s n meets the piece of a cone that a chord makes; NaN where it does not.
  static std::array<double, 2> roots(Point2 a, Point2 b, Vec3 p, Vec3 n) {
    std::array<double, 2> s{NAN, NAN};
    const double dr = b.r - a.r, dw = b.w - a.w;
    // Counted from the height of the chord's own corner, where a line is not square to the axis: a chord of a flat dome
    // is a cone so flat that the roots would drown otherwise.
    const double start = std::fabs(n.z) > 0.1 ? (a.w - p.z) / n.z : 0;
    const Vec3 o = p + start * n;
    if (dw == 0) {
      if (n.z != 0) s[0] = (a.w - o.z) / n.z;
    } else {
      const double A = n.x * n.x + n.y * n.y, B = o.x * n.x + o.y * n.y, C = o.x * o.x + o.y * o.y;
      const double f = a.r + dr * (o.z - a.w) / dw, g = dr * n.z;
      const double qa = dw * dw * A - g * g, qb = dw * B - f * g, qc = C - f * f;
      const double d = qb * qb - qa * qc;
      if (d >= 0) {
        const double q = -(qb + std::copysign(std::sqrt(d), qb));
        if (qa != 0) s[0] = dw * q / qa;
        if (q != 0) s[1] = dw * qc / q;
      }
    }
    for (double& t : s) {
      const double z = o.z + t * n.z;
      if (!(z >= std::min(a.w, b.w) - kSlack && z <= std::max(a.w, b.w) + kSlack)) {
        t = NAN;
        continue;
      }
      const Vec3 there = o + t * n;
      const double r = std::sqrt(there.x * there.x + there.y * there.y), length = std::sqrt(dr * dr + dw * dw);
      const double along = ((r - a.r) * dr + (z - a.w) * dw) / length, off = (r - a.r) * dw - (z - a.w) * dr;
      // The root may lie on the cone's other half or beyond the chord.
      t = std::fabs(off) < kSlack * length && along >= -kSlack && along <= length + kSlack ? t + start : NAN;
    }
    return s;
  }

  static constexpr double kSlack = 1e-8;  ///< mm; neighbouring chords leave no crack between them

  void add_arc(const ProfileElement& e, double sagitta) {
    const double from = std::atan2(e.from.w - e.centre.w, e.from.r - e.centre.r);
    const double turn = std::remainder(std::atan2(e.to.w - e.centre.w, e.to.r - e.centre.r) - from, 2 * kPi);
    const int count = static_cast<int>(std::ceil(std::fabs(turn) / (2 * std::acos(1 - sagitta / e.radius))));
    for (int i = 1; i < count; ++i) {
      const double a = from + turn * i / count;
      corners_.push_back({e.centre.r + e.radius * std::cos(a), e.centre.w + e.radius * std::sin(a)});
    }
  }

  static double squared(Point2 a, Point2 b, double r, double w) {
    const double dr = b.r - a.r, dw = b.w - a.w;
    const double t = std::clamp(((r - a.r) * dr + (w - a.w) * dw) / (dr * dr + dw * dw), 0.0, 1.0);
    const double x = a.r + t * dr - r, y = a.w + t * dw - w;
    return x * x + y * y;
  }

  std::vector<Point2> corners_;  // from the axis below, outward, to the axis above
  std::vector<Point2> rim_;      // the part that is the rim
  std::vector<Ring> rings_;
  double rim_radius_, margin_, top_, lowest_ = 0;
};

}  // namespace eyebrow::dense
