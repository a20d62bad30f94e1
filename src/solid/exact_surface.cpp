#include "solid/exact_surface.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

struct Cylindrical {
  double w;      ///< along the axis
  double r;      ///< from the axis
  Vec3 outward;  ///< unit vector from the axis
};

Cylindrical about_axis(const Frame& frame, Vec3 p) {
  const Vec3 from = p - frame.origin;
  const double w = dot(from, frame.z);
  const Vec3 across = from - w * frame.z;
  const double r = norm(across);
  return {w, r, r > 0 ? (1 / r) * across : frame.x};
}

constexpr std::size_t kMostSurfaces = 6;
// Where two surfaces are tangent their gradients are parallel and only one of the two equations counts; this keeps the
// solution short there and shifts it elsewhere by no more than this fraction of a step.
constexpr double kMostMove =
    0.05;  // mm; the modeller's curves are off by 1e-7 to 1e-5, by up to 0.03 where surfaces meet flatly
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

double off_surface(const Face& face, Vec3 p) {
  switch (face.kind) {
    case Surface::plane:
      return dot(p - face.frame.origin, face.frame.z);
    case Surface::cylinder:
      return about_axis(face.frame, p).r - face.radius;
    case Surface::cone: {
      const Cylindrical at = about_axis(face.frame, p);
      return (at.r - face.radius) * std::cos(face.radius2) - at.w * std::sin(face.radius2);
    }
    case Surface::sphere:
      return norm(p - face.frame.origin) - face.radius;
    case Surface::torus: {
      const Cylindrical at = about_axis(face.frame, p);
      return std::hypot(at.r - face.radius, at.w) - face.radius2;
    }
    case Surface::free_form:
      break;
  }
  return NAN;
}

Vec3 off_surface_gradient(const Face& face, Vec3 p) {
  switch (face.kind) {
    case Surface::plane:
      return face.frame.z;
    case Surface::cylinder:
      return about_axis(face.frame, p).outward;
    case Surface::cone:
      return std::cos(face.radius2) * about_axis(face.frame, p).outward - std::sin(face.radius2) * face.frame.z;
    case Surface::sphere:
      return unit(p - face.frame.origin);
    case Surface::torus: {
      const Cylindrical at = about_axis(face.frame, p);
      return unit((at.r - face.radius) * at.outward + at.w * face.frame.z);
    }
    case Surface::free_form:
      break;
  }
  return {NAN, NAN, NAN};
}

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
