#include "solid/step_surface.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepTools.hxx>
#include <algorithm>
#include <cmath>
#include <math_Jacobi.hxx>
#include <math_Matrix.hxx>
#include <optional>
#include <vector>

#include "solid/occt.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

constexpr int kAcross = 14;
/// Normals that are square to an axis; what is left of a null vector's eigenvalue, of the greatest.
constexpr double kSquareNormals = 1e-6, kNull = 1e-10;
/// No crown or valve has a rounding so wide that it is not as good as flat or upright, mm.
constexpr double kWidest = 1e5;

struct Sample {
  Vec3 p, n;
};

/// A circle through points of a plane, by least squares of (distance^2 - radius^2), which is linear: I. Kasa, A circle
/// fitting procedure and its error analysis, IEEE Trans. Instrum. Meas. 25, 1976 (from memory). Exact points give an
/// exact circle.
struct Circle2 {
  double x = 0, y = 0, radius = 0;
};
std::optional<Circle2> circle_through(const std::vector<Point2>& points) {
  double mx = 0, my = 0;
  const double count = static_cast<double>(points.size());
  for (const Point2& p : points) mx += p.r / count, my += p.w / count;
  double xx = 0, xy = 0, yy = 0, xz = 0, yz = 0, zz = 0;
  for (const Point2& p : points) {
    const double x = p.r - mx, y = p.w - my, z = x * x + y * y;
    xx += x * x, xy += x * y, yy += y * y, xz += x * z, yz += y * z, zz += z;
  }
  const double det = xx * yy - xy * xy;
  if (!(det > 1e-12 * (xx + yy) * (xx + yy))) return std::nullopt;
  const double a = (xz * yy - yz * xy) / det / 2, b = (yz * xx - xz * xy) / det / 2;
  const double radius = std::sqrt(zz / count + a * a + b * b);
  if (!(radius < kWidest)) return std::nullopt;
  return Circle2{a + mx, b + my, radius};
}

class Recogniser {
 public:
  explicit Recogniser(const TopoDS_Face& face) {
    double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
    BRepTools::UVBounds(face, u0, u1, v0, v1);
    const BRepGProp_Face surface(face);
    for (int i = 0; i <= kAcross; ++i)
      for (int j = 0; j <= kAcross; ++j) {
        gp_Pnt at;
        gp_Vec normal;
        surface.Normal(u0 + (u1 - u0) * i / kAcross, v0 + (v1 - v0) * j / kAcross, at, normal);
        if (normal.Magnitude() > 1e-12) samples_.push_back({to_vec(at), unit(to_vec(normal.XYZ()))});
      }
    for (const Sample& s : samples_) middle_ = middle_ + (1 / static_cast<double>(samples_.size())) * s.p;
  }

  std::optional<Face> surface() const {
    if (samples_.size() < kAcross * kAcross) return std::nullopt;
    for (const auto& one : {plane(), cylinder(), sphere(), turned()})
      if (one && holds(*one)) return one;
    return std::nullopt;
  }

 private:
  bool holds(const Face& face) const {
    return std::all_of(samples_.begin(), samples_.end(),
                       [&](const Sample& s) { return std::fabs(off_surface(face, s.p)) < kSameSurface; });
  }

  static Face made(Surface kind, Vec3 origin, Vec3 along, double radius = 0, double radius2 = 0) {
    Face face;
    face.kind = kind;
    face.frame = frame_about(origin, along);
    face.radius = radius;
    face.radius2 = radius2;
    return face;
  }

  std::optional<Face> plane() const { return made(Surface::plane, middle_, samples_.front().n); }

  /// The direction that all normals are square to.
  std::optional<Face> cylinder() const {
    math_Matrix sums(1, 3, 1, 3, 0.0);
    for (const Sample& s : samples_) {
      const double n[] = {s.n.x, s.n.y, s.n.z};
      for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) sums(i + 1, j + 1) += n[i] * n[j];
    }
    math_Jacobi eigen(sums);
    if (!eigen.IsDone()) return std::nullopt;
    int least = 1;
    for (int i = 2; i <= 3; ++i)
      if (eigen.Value(i) < eigen.Value(least)) least = i;
    const Vec3 axis{eigen.Vectors()(1, least), eigen.Vectors()(2, least), eigen.Vectors()(3, least)};
    for (const Sample& s : samples_)
      if (std::fabs(dot(s.n, axis)) > kSquareNormals) return std::nullopt;
    const Frame frame = frame_about(middle_, axis);
    std::vector<Point2> across;
    for (const Sample& s : samples_) across.push_back({dot(s.p - middle_, frame.x), dot(s.p - middle_, frame.y)});
    const std::optional<Circle2> circle = circle_through(across);
    if (!circle) return std::nullopt;
    return made(Surface::cylinder, middle_ + circle->x * frame.x + circle->y * frame.y, axis, circle->radius);
  }

  /// The point that all normals meet in: least squares of the distances from them.
  std::optional<Face> sphere() const {
    math_Matrix sums(1, 3, 1, 3, 0.0);
    Vec3 rhs;
    for (const Sample& s : samples_) {
      const double n[] = {s.n.x, s.n.y, s.n.z};
      for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) sums(i + 1, j + 1) += (i == j ? 1 : 0) - n[i] * n[j];
      const Vec3 from = s.p - middle_;
      rhs = rhs + from - dot(from, s.n) * s.n;
    }
    if (std::fabs(sums.Determinant()) < 1e-12) return std::nullopt;
    const math_Matrix inverse = sums.Inverse();
    const auto row = [&](int i) { return inverse(i, 1) * rhs.x + inverse(i, 2) * rhs.y + inverse(i, 3) * rhs.z; };
    const Vec3 centre = middle_ + Vec3{row(1), row(2), row(3)};
    const double radius = norm(samples_.front().p - centre);
    if (!(radius < kWidest)) return std::nullopt;
    return made(Surface::sphere, centre, {0, 0, 1}, radius);
  }

  /// Normals of a surface of revolution all meet its axis: with moments p x n they solve one linear equation for the
  /// axis' direction and moment. (H. Pottmann, J. Wallner, Computational Line Geometry, 2001, on line complexes; from
  /// memory.)
  std::optional<Face> turned() const {
    double size = 0;
    for (const Sample& s : samples_) size = std::max(size, norm(s.p - middle_));
    math_Matrix sums(1, 6, 1, 6, 0.0);
    for (const Sample& s : samples_) {
      const Vec3 m = (1 / size) * cross(s.p - middle_, s.n);
      const double row[] = {m.x, m.y, m.z, s.n.x, s.n.y, s.n.z};
      for (int i = 0; i < 6; ++i)
        for (int j = 0; j < 6; ++j) sums(i + 1, j + 1) += row[i] * row[j];
    }
    math_Jacobi eigen(sums);
    if (!eigen.IsDone()) return std::nullopt;
    int least = 1;
    double most = 0;
    for (int i = 1; i <= 6; ++i) {
      if (eigen.Value(i) < eigen.Value(least)) least = i;
      most = std::max(most, eigen.Value(i));
    }
    if (!(std::fabs(eigen.Value(least)) < kNull * most)) return std::nullopt;
    const math_Matrix& v = eigen.Vectors();
    const Vec3 along{v(1, least), v(2, least), v(3, least)}, moment{v(4, least), v(5, least), v(6, least)};
    if (!(norm(along) > 1e-6)) return std::nullopt;
    const Vec3 axis = unit(along);
    // The axis' moment is its point cross its direction.
    const Vec3 point = middle_ + (size / dot(along, along)) * cross(along, moment);
    std::vector<Point2> outline;
    for (const Sample& s : samples_) {
      const Vec3 from = s.p - point;
      outline.push_back({norm(from - dot(from, axis) * axis), dot(from, axis)});
    }
    if (const std::optional<Face> cone = cone_of(outline, point, axis); cone && holds(*cone)) return cone;
    const std::optional<Circle2> circle = circle_through(outline);
    if (!circle || !(circle->x > 0)) return std::nullopt;
    return made(Surface::torus, point + circle->y * axis, axis, circle->x, circle->radius);
  }

  static std::optional<Face> cone_of(const std::vector<Point2>& outline, Vec3 point, Vec3 axis) {
    const auto by_w = [](Point2 a, Point2 b) { return a.w < b.w; };
    const Point2 low = *std::min_element(outline.begin(), outline.end(), by_w);
    const Point2 high = *std::max_element(outline.begin(), outline.end(), by_w);
    const double rise = high.w - low.w, widening = high.r - low.r;
    if (!(rise > kSameSurface) || !(std::fabs(widening) > kSameSurface)) return std::nullopt;
    const double angle = std::atan2(std::fabs(widening), rise);
    return made(Surface::cone, point + low.w * axis, widening > 0 ? axis : -axis, low.r, angle);
  }

  std::vector<Sample> samples_;
  Vec3 middle_;
};

}  // namespace

Face step_surface(const TopoDS_Face& face) {
  const Face read = read_surface(face);
  if (read.kind != Surface::free_form) return read;
  return Recogniser(face).surface().value_or(read);
}

}  // namespace eyebrow
