#include <cmath>

#include "eyebrow/crown.hpp"
#include "valve_frame.hpp"

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

/// Of how far a place is outside a sheared cone, counted along its axis.
Vec3 sheared_gradient(const Face& face, Vec3 p) {
  return about_axis(face.frame, p).outward - face.radius2 * face.frame.x - face.frame.z;
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
      return gap::diagonal(at.r - face.radius, at.w) - face.radius2;
    }
    case Surface::sheared_cone: {
      const Cylindrical at = about_axis(face.frame, p);
      const double along = at.r - face.radius - at.w - face.radius2 * dot(p - face.frame.origin, face.frame.x);
      return along / norm(sheared_gradient(face, p));
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
    case Surface::sheared_cone:
      return unit(sheared_gradient(face, p));
    case Surface::free_form:
      break;
  }
  return {NAN, NAN, NAN};
}

}  // namespace eyebrow
