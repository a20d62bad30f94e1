#include "solid/exact_surface.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kMostSurfaces = 6;
// mm; the modeller's curves are off by 1e-7 to 1e-5, by up to 0.03 where surfaces meet flatly.
constexpr double kMostMove = 0.05;
// Where two surfaces are tangent their gradients are parallel and only one of the two equations counts; this keeps the
// solution short there and shifts it elsewhere by no more than this fraction of a step.
constexpr double kDamping = 1e-12;

/// Solves the small symmetric system in place.
void solve(std::array<std::array<double, kMostSurfaces>, kMostSurfaces>& m, std::array<double, kMostSurfaces>& rhs,
           std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t row = i + 1; row < n; ++row) {
      const double factor = m[row][i] / m[i][i];
      for (std::size_t column = i; column < n; ++column) m[row][column] -= factor * m[i][column];
      rhs[row] -= factor * rhs[i];
    }
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t column = i + 1; column < n; ++column) rhs[i] -= m[i][column] * rhs[column];
    rhs[i] /= m[i][i];
  }
}

}  // namespace

Vec3 put_on(std::span<const Face* const> faces, const Vec3 start) {
  Vec3 p = start;
  std::array<const Face*, kMostSurfaces> exact{};
  std::size_t n = 0;
  for (const Face* face : faces) {
    if (face->kind != Surface::free_form && n < kMostSurfaces) exact[n++] = face;
  }
  for (int step = 0; step < 20; ++step) {
    std::array<double, kMostSurfaces> off{};
    std::array<Vec3, kMostSurfaces> gradient{};
    std::array<std::array<double, kMostSurfaces>, kMostSurfaces> gram{};
    double worst = 0;
    for (std::size_t i = 0; i < n; ++i) {
      off[i] = off_surface(*exact[i], p);
      gradient[i] = off_surface_gradient(*exact[i], p);
      worst = std::max(worst, std::fabs(off[i]));
      for (std::size_t j = 0; j <= i; ++j) gram[i][j] = gram[j][i] = dot(gradient[i], gradient[j]);
      gram[i][i] += kDamping;
    }
    if (!(worst > kOnSurface / 10)) break;
    solve(gram, off, n);
    for (std::size_t i = 0; i < n; ++i) p = p - off[i] * gradient[i];
  }
  // Not near any common point: the modeller's point is then the better one.
  return norm(p - start) < kMostMove ? p : start;
}

}  // namespace eyebrow
