// A face's loops and its area from its edges and its surface's equation, with nothing of the modeller or the mesh.
#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow::test {

/// Intervals between two points of `Edge::points` in `Edge::fine`: even in the curve's parameter.
inline constexpr std::size_t kFineSteps = 8;

/// One edge of a face, walked forward or back.
struct Walked {
  const Edge* edge;
  bool back;
  const std::vector<Vec3>& chain() const { return edge->fine.empty() ? edge->points : edge->fine; }
  Vec3 from() const { return back ? chain().back() : chain().front(); }
  Vec3 to() const { return back ? chain().front() : chain().back(); }
};

struct Loops {
  std::vector<std::vector<Walked>> closed;
  double widest = 0;  ///< crack between two edges of a loop, mm
  int open = 0;       ///< chains of edges that end nowhere
};

/// Chains the edges of one face end to end. A seam bounds nothing and is left out.
inline Loops loops_of(const Crown& crown, int face, double within) {
  std::vector<const Edge*> left;
  for (const Edge& e : crown.edges)
    if ((e.faces[0] == face) != (e.faces[1] == face)) left.push_back(&e);
  Loops loops;
  while (!left.empty()) {
    std::vector<Walked> loop{{left.back(), false}};
    left.pop_back();
    for (;;) {
      const Vec3 end = loop.back().to();
      double nearest = norm(loop.front().from() - end);
      std::size_t next = left.size();
      bool back = false;
      for (std::size_t i = 0; i < left.size(); ++i)
        for (const bool turned : {false, true})
          if (const double off = norm(Walked{left[i], turned}.from() - end); off < nearest) {
            nearest = off;
            next = i;
            back = turned;
          }
      if (nearest > within) {
        ++loops.open;
        break;
      }
      loops.widest = std::max(loops.widest, nearest);
      if (next == left.size()) {
        loops.closed.push_back(loop);
        break;
      }
      loop.push_back({left[next], back});
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(next));
    }
  }
  return loops;
}

inline double length_of(const Loops& loops) {
  double sum = 0;
  for (const auto& loop : loops.closed)
    for (const Walked& walked : loop)
      for (std::size_t i = 1; i < walked.chain().size(); ++i) sum += norm(walked.chain()[i] - walked.chain()[i - 1]);
  return sum;
}

/// Two numbers (t, g) of a point on a face such that area = closed integral of g dt (Green's theorem on the surface).
/// Plane: t = y, g = x. Surfaces of revolution: t = azimuth; along a meridian of arc length s the circle's radius is
/// r(s), and g is the integral of r ds: R w on a cylinder; r^2 / (2 sin a) on a cone of half angle a; q (R v + q
/// sin v) on a torus of tube q at its angle v. A sheared cone's lines from its apex, r d(t), d = (cos t, sin t, 1 - k
/// cos t): |d x d'| r dr dt, with |d x d'|^2 = 2 - 2 k cos t + k^2. A cone has g = 0 at its apex, so that a loop around
/// it encloses it. A ball is turned about the frame's x, R x: its faces are less than half a ball about z, so no loop
/// comes near or goes around that axis. (Closed form.)
struct Form {
  double t, g;
};

inline Form form_at(const Face& face, Vec3 p) {
  const Vec3 d = p - face.frame.origin;
  const double x = dot(d, face.frame.x), y = dot(d, face.frame.y), w = dot(d, face.frame.z), turn = std::atan2(y, x),
               r = std::hypot(x, y);
  switch (face.kind) {
    case Surface::plane:
      return {y, x};
    case Surface::cylinder:
      return {turn, face.radius * w};
    case Surface::cone:
      return {turn, r * r / (2 * std::sin(face.radius2))};
    case Surface::sphere:
      return {std::atan2(w, y), face.radius * x};
    case Surface::torus: {
      const double v = std::atan2(w, r - face.radius);
      return {turn, face.radius2 * (face.radius * v + face.radius2 * std::sin(v))};
    }
    case Surface::sheared_cone:
      return {turn, 0.5 * r * r * std::sqrt(2 - 2 * face.radius2 * std::cos(turn) + face.radius2 * face.radius2)};
    case Surface::free_form:
      break;
  }
  return {NAN, NAN};
}

/// weights[i][j]: integral over [0, N] of L_i L_j' where the L are the polynomials through 0 ... N (Lagrange). Exact by
/// Gauss-Legendre of N points for the degree 2 N - 1.
template <int N>
const std::array<std::array<double, N + 1>, N + 1>& product_weights() {
  static const auto weights = [] {
    std::array<std::array<double, N + 1>, N + 1> w{};
    const auto basis = [](int i, double t, bool slope) {
      double product = 1, sum = 0;
      for (int k = 0; k <= N; ++k)
        if (k != i) product *= (t - k) / (i - k);
      if (!slope) return product;
      for (int m = 0; m <= N; ++m) {
        if (m == i) continue;
        double term = 1.0 / (i - m);
        for (int k = 0; k <= N; ++k)
          if (k != i && k != m) term *= (t - k) / (i - k);
        sum += term;
      }
      return sum;
    };
    for (int k = 1; k <= N; ++k) {
      double x = std::cos(kPi * (k - 0.25) / (N + 0.5)), slope = 1;  // root of the Legendre polynomial by Newton
      for (int step = 0; step < 50; ++step) {
        double before = 1, at = x;
        for (int j = 2; j <= N; ++j) {
          const double next = ((2 * j - 1) * x * at - (j - 1) * before) / j;
          before = at;
          at = next;
        }
        slope = N * (x * at - before) / (x * x - 1);
        x -= at / slope;
      }
      const double t = 0.5 * N * (1 + x), share = N / ((1 - x * x) * slope * slope);
      for (int i = 0; i <= N; ++i)
        for (int j = 0; j <= N; ++j)
          w[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)] += share * basis(i, t, false) * basis(j, t, true);
    }
    return w;
  }();
  return weights;
}

struct LoopIntegral {
  double value = 0;   ///< of g dt, in the direction walked
  double turned = 0;  ///< about the axis, radians; plane: meaningless
};

/// Along a chain: each piece of the mesh has N + 1 points of the fine chain, even in the curve's parameter, and both
/// numbers are polynomials of it through them. N = 4 takes every other point: what it differs from N = 8 by says what
/// the step leaves.
template <int N>
LoopIntegral along(const Face& face, const Walked& walked) {
  constexpr std::size_t stride = kFineSteps / N;
  const std::vector<Vec3>& points = walked.chain();
  LoopIntegral sum;
  if (walked.edge->fine.empty() || points.size() != kFineSteps * (walked.edge->points.size() - 1) + 1)
    return {NAN, NAN};
  const auto& weights = product_weights<N>();
  for (std::size_t first = 0; first + kFineSteps < points.size(); first += kFineSteps) {
    std::array<Form, N + 1> at;
    for (std::size_t i = 0; i <= N; ++i) {
      at[i] = form_at(face, points[first + stride * i]);
      if (face.kind != Surface::plane && i > 0) at[i].t -= 2 * kPi * std::round((at[i].t - at[i - 1].t) / (2 * kPi));
    }
    sum.turned += at.back().t - at.front().t;
    for (std::size_t i = 0; i <= N; ++i)
      for (std::size_t j = 0; j <= N; ++j) sum.value += weights[i][j] * at[i].g * (at[j].t - at[0].t);
  }
  if (walked.back) sum = {-sum.value, -sum.turned};
  return sum;
}

/// Area within the loops. A face is one piece, so what winds about the axis are one or two loops that bound it on
/// either side, everything else is the outermost loop and holes in it.
template <int N = 8>
double area_of(const Face& face, const Loops& loops) {
  std::vector<double> winding, plain;
  for (const auto& loop : loops.closed) {
    LoopIntegral sum;
    for (const Walked& walked : loop) {
      const LoopIntegral part = along<N>(face, walked);
      sum.value += part.value;
      sum.turned += part.turned;
    }
    const bool winds = face.kind != Surface::plane && std::fabs(sum.turned) > kPi;
    if (winds)
      winding.push_back(sum.turned > 0 ? sum.value : -sum.value);
    else
      plain.push_back(std::fabs(sum.value));
  }
  double area = 0;
  std::sort(plain.begin(), plain.end());
  if (winding.empty() && !plain.empty()) {
    area = plain.back();
    plain.pop_back();
  } else if (winding.size() == 1 && face.kind != Surface::cylinder && face.kind != Surface::torus) {
    area = std::fabs(winding[0]);
  } else if (winding.size() == 2) {
    area = std::fabs(winding[0] - winding[1]);
  } else {
    return NAN;
  }
  for (const double hole : plain) area -= hole;
  return area;
}

}  // namespace eyebrow::test
