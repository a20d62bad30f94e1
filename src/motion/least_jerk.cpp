#include "motion/least_jerk.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "motion/quintic.hpp"
#include "motion/tolerances.hpp"

namespace eyebrow::motion {
namespace {

// The integral of squared jerk over a piece is a quadratic form in lift, velocity * h and acceleration * h^2 of its two
// ends. With D, V, A what they lack at the far end after the terms up to the second power (see `taylor`), and t = 0 ...
// 1,
//   jerk = 6 c3 + 24 c4 t + 60 c5 t^2,  (c3, c4, c5) = M (D, V, A),
//   integral of jerk^2 = 36 c3^2 + 192 c4^2 + 720 c5^2 + 144 c3 c4 + 240 c3 c5 + 720 c4 c5, over h^5.
// D, V, A written out in the six end values and multiplied through give kJerkForm.

struct Vec2 {
  double v = 0, a = 0;
};
struct Mat2 {
  double vv = 0, va = 0, av = 0, aa = 0;
};
Vec2 operator-(Vec2 x, Vec2 y) {
  return {x.v - y.v, x.a - y.a};
}
Mat2 operator-(Mat2 m, Mat2 n) {
  return {m.vv - n.vv, m.va - n.va, m.av - n.av, m.aa - n.aa};
}
Vec2 operator*(Mat2 m, Vec2 x) {
  return {m.vv * x.v + m.va * x.a, m.av * x.v + m.aa * x.a};
}
Mat2 operator*(Mat2 m, Mat2 n) {
  return {m.vv * n.vv + m.va * n.av, m.vv * n.va + m.va * n.aa, m.av * n.vv + m.aa * n.av, m.av * n.va + m.aa * n.aa};
}
Mat2 transposed(Mat2 m) {
  return {m.vv, m.av, m.va, m.aa};
}
Mat2 inverse(Mat2 m) {
  const double d = m.vv * m.aa - m.va * m.av;
  return {m.aa / d, -m.va / d, -m.av / d, m.vv / d};
}

/// A piece's part of the system: two 2 x 2 blocks on the diagonal, one beside it, and what the lifts pull.
struct Stiffness {
  Mat2 from, to, across;    // across: row of `from`, column of `to`
  Vec2 pull_from, pull_to;  // right-hand sides
};

Stiffness stiffness(const LiftPoint& from, const LiftPoint& to) {
  const double h = to.angle - from.angle, rise = to.lift - from.lift;
  const auto block = [h](int row, int column) {
    return Mat2{kJerkForm[row][column] / (h * h * h), kJerkForm[row][column + 1] / (h * h),
                kJerkForm[row + 1][column] / (h * h), kJerkForm[row + 1][column + 1] / h};
  };
  const auto pull = [h, rise](int row) {
    return Vec2{-kJerkForm[row][3] * rise / (h * h * h * h), -kJerkForm[row + 1][3] * rise / (h * h * h)};
  };
  return {block(1, 1), block(4, 4), block(1, 4), pull(1), pull(4)};
}

/// Velocity and acceleration at every point: the block-tridiagonal system of the minimum, by elimination.
std::vector<LiftKnot> smoothest(const std::vector<LiftPoint>& points) {
  std::vector<LiftKnot> knots;
  knots.reserve(points.size());
  for (const LiftPoint& point : points) knots.push_back({point.angle, point.lift, 0, 0});
  const std::size_t inner = points.size() - 2;  // the first and last knots are given
  std::vector<Mat2> beside(inner);
  std::vector<Vec2> right(inner);
  for (std::size_t i = 0; i < inner; ++i) {
    const Stiffness before = stiffness(points[i], points[i + 1]);
    const Stiffness after = stiffness(points[i + 1], points[i + 2]);
    Mat2 diagonal = before.to - Mat2{-after.from.vv, -after.from.va, -after.from.av, -after.from.aa};
    Vec2 pull = before.pull_to - Vec2{-after.pull_from.v, -after.pull_from.a};
    if (i > 0) {
      const Mat2 below = transposed(before.across);
      diagonal = diagonal - below * beside[i - 1];
      pull = pull - below * right[i - 1];
    }
    const Mat2 solve = inverse(diagonal);
    beside[i] = solve * after.across;
    right[i] = solve * pull;
  }
  Vec2 next;
  for (std::size_t i = inner; i-- > 0;) {
    next = right[i] - beside[i] * next;
    knots[i + 1].velocity = next.v;
    knots[i + 1].acceleration = next.a;
  }
  return knots;
}

double slope(const LiftKnot& from, const LiftKnot& to) {
  return (to.lift - from.lift) / (to.angle - from.angle);
}

/// Slope at which, with zero acceleration, both neighbouring pieces surely go one way: the lesser of theirs, zero where
/// they differ in sign. (All control values of their velocities then have the sign of the piece's own slope.)
double safe_velocity(double before, double after) {
  if (before * after <= 0) return 0;
  return std::fabs(before) < std::fabs(after) ? before : after;
}

}  // namespace

std::vector<LiftKnot> least_jerk(const std::vector<LiftPoint>& points) {
  std::vector<LiftKnot> knots = smoothest(points);
  go_one_way(knots);
  return knots;
}

void go_one_way(std::vector<LiftKnot>& knots) {
  const std::size_t n = knots.size();
  double peak = 0;
  for (const LiftKnot& knot : knots) peak = std::max(peak, knot.lift);
  const double span = knots.back().angle - knots.front().angle;
  const double flat = kFlat * peak / span;

  const auto goes_one_way = [&](std::size_t i) {
    const LiftKnot &from = knots[i], &to = knots[i + 1];
    const bool rises = from.lift <= to.lift, falls = from.lift >= to.lift,
               at_peak = from.lift == peak || to.lift == peak;
    return (rises && velocity_at_least(from, to, +1, -flat)) || (falls && velocity_at_least(from, to, -1, -flat)) ||
           (at_peak && acceleration_at_most(from, to, 0));
  };

  // Every piece is judged before any knot is changed, so that a symmetric lobe stays symmetric. A change can make the
  // next piece turn back, hence again; it ends, as a knot changes once and a piece with both knots safe goes one way.
  // All the way at once: going there in eighths gave the same curves on awkward lobes and on rounded tables.
  std::vector<char> safe(n, 0);
  for (bool again = true; again;) {
    std::vector<char> turns_back(n - 1);
    for (std::size_t i = 0; i + 1 < n; ++i) turns_back[i] = !goes_one_way(i);
    again = false;
    for (std::size_t i = 1; i + 1 < n; ++i) {
      if (safe[i] || !(turns_back[i - 1] || turns_back[i])) continue;
      safe[i] = 1;
      again = true;
      knots[i].velocity = safe_velocity(slope(knots[i - 1], knots[i]), slope(knots[i], knots[i + 1]));
      knots[i].acceleration = 0;
    }
  }
}

}  // namespace eyebrow::motion
