// A crown's exact faces and edges for the reference: points on them by the surfaces' equations, which part of a surface
// a face is by its edges' fine chains, and samples of all that. Nothing of src/gap; of the mesh only free-form faces.
#pragma once
#include <algorithm>
#include <cmath>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow::exact {

struct Local {
  double x, y, w, r;
};
inline Local local(const Face& face, Vec3 p) {
  const Vec3 d = p - face.frame.origin;
  const double x = dot(d, face.frame.x), y = dot(d, face.frame.y);
  return {x, y, dot(d, face.frame.z), std::sqrt(x * x + y * y)};
}
inline Vec3 global(const Face& face, double x, double y, double w) {
  return face.frame.origin + x * face.frame.x + y * face.frame.y + w * face.frame.z;
}

/// A sheared cone's point on the line at azimuth u that is r from the axis: apex + r d(u).
inline Vec3 on_ruling(const Face& face, double u, double r) {
  return global(face, r * std::cos(u), r * std::sin(u), r - face.radius - face.radius2 * r * std::cos(u));
}

/// The nearest point of a sheared cone: on the line whose direction d has most of the way from the apex in it, g / |d|
/// with g = way . d; Newton's method on the azimuth from the place's own.
inline Vec3 onto_sheared(const Face& face, const Local& q) {
  const double k = face.radius2, w = q.w + face.radius;
  double u = std::atan2(q.y, q.x), r = 0;
  for (int step = 0; step < 12; ++step) {
    const double c = std::cos(u), s = std::sin(u), up = 1 - k * c;
    const double g = q.x * c + q.y * s + w * up, g1 = -q.x * s + q.y * c + w * k * s,
                 g2 = -q.x * c - q.y * s + w * k * c;
    const double d = 1 + up * up, d1 = 2 * up * k * s, d2 = 2 * (k * k * s * s + up * k * c);
    r = g / d;
    const double bend = g2 * d + 0.5 * g1 * d1 - 0.5 * g * d2;
    if (!(bend < 0)) break;
    u += std::clamp(-(g1 * d - 0.5 * g * d1) / bend, -0.2, 0.2);
  }
  return on_ruling(face, u, r);
}

/// The nearest point of the face's whole surface (closed form; of a sheared cone near it).
inline Vec3 onto(const Face& face, Vec3 p) {
  const Local q = local(face, p);
  switch (face.kind) {
    case Surface::plane:
      return global(face, q.x, q.y, 0);
    case Surface::cylinder:
      return global(face, q.x * face.radius / q.r, q.y * face.radius / q.r, q.w);
    case Surface::cone: {
      const double s = std::sin(face.radius2), c = std::cos(face.radius2), along = (q.r - face.radius) * s + q.w * c,
                   r = face.radius + along * s;
      return global(face, q.x * r / q.r, q.y * r / q.r, along * c);
    }
    case Surface::sphere:
      return face.frame.origin + (face.radius / norm(p - face.frame.origin)) * (p - face.frame.origin);
    case Surface::torus: {
      const double away = std::hypot(q.r - face.radius, q.w),
                   r = face.radius + (q.r - face.radius) * face.radius2 / away;
      return global(face, q.x * r / q.r, q.y * r / q.r, q.w * face.radius2 / away);
    }
    case Surface::sheared_cone:
      return onto_sheared(face, q);
    case Surface::free_form:
      break;
  }
  return p;
}

/// Unit normal of the surface at a point of it, to either side.
inline Vec3 square_to(const Face& face, Vec3 p) {
  const Local q = local(face, p);
  const auto out = [&](double along_r, double along_w) {
    return (along_r * q.x / q.r) * face.frame.x + (along_r * q.y / q.r) * face.frame.y + along_w * face.frame.z;
  };
  switch (face.kind) {
    case Surface::cylinder:
      return out(1, 0);
    case Surface::cone:
      return out(std::cos(face.radius2), -std::sin(face.radius2));
    case Surface::sphere:
      return unit(p - face.frame.origin);
    case Surface::torus:
      return unit(out(q.r - face.radius, q.w));
    case Surface::sheared_cone:
      return unit(out(1, -1) - face.radius2 * face.frame.x);
    case Surface::plane:
    case Surface::free_form:
      break;
  }
  return face.frame.z;
}

/// Two numbers that tell the points of a face apart: seen along its axis (plane, cones, ball: less than half of one),
/// or azimuth and height or angle about the tube.
struct Place2 {
  double s, t;
};
inline bool goes_round(const Face& face) {
  return face.kind == Surface::cylinder || face.kind == Surface::torus;
}
inline Place2 place_on(const Face& face, Vec3 p) {
  const Local q = local(face, p);
  if (face.kind == Surface::cylinder) return {std::atan2(q.y, q.x), q.w};
  if (face.kind == Surface::torus) return {std::atan2(q.y, q.x), std::atan2(q.w, q.r - face.radius)};
  return {q.x, q.y};
}
inline Vec3 point_at(const Face& face, Place2 at) {
  if (face.kind == Surface::cylinder)
    return global(face, face.radius * std::cos(at.s), face.radius * std::sin(at.s), at.t);
  if (face.kind == Surface::torus) {
    const double r = face.radius + face.radius2 * std::cos(at.t);
    return global(face, r * std::cos(at.s), r * std::sin(at.s), face.radius2 * std::sin(at.t));
  }
  double w = 0;
  if (face.kind == Surface::cone) w = (std::hypot(at.s, at.t) - face.radius) / std::tan(face.radius2);
  if (face.kind == Surface::sheared_cone) w = std::hypot(at.s, at.t) - face.radius - face.radius2 * at.s;
  if (face.kind == Surface::sphere) w = std::sqrt(std::max(0.0, face.radius * face.radius - at.s * at.s - at.t * at.t));
  return global(face, at.s, at.t, w);
}

/// The face's border in those numbers; a point is on the face when an odd number of its sides lies above.
class Border {
 public:
  Border(const Crown& crown, int index) : face_(crown.faces[static_cast<std::size_t>(index)]) {
    for (const Edge& edge : crown.edges) {
      if ((edge.faces[0] == index) == (edge.faces[1] == index)) continue;
      const std::vector<Vec3>& chain = edge.fine.empty() ? edge.points : edge.fine;
      for (std::size_t i = 1; i < chain.size(); ++i) {
        Place2 a = place_on(face_, chain[i - 1]), b = place_on(face_, chain[i]);
        if (goes_round(face_)) b.s -= 2 * kPi * std::round((b.s - a.s) / (2 * kPi));
        if (a.s > b.s) std::swap(a, b);
        sides_.push_back({a, b});
        low_ = {std::min(low_.s, a.s), std::min({low_.t, a.t, b.t})};
        high_ = {std::max(high_.s, b.s), std::max({high_.t, a.t, b.t})};
      }
    }
    if (goes_round(face_)) low_.s = -kPi, high_.s = kPi;
    bins_.resize(kBins + 1);
    for (std::size_t i = 0; i < sides_.size(); ++i)
      for (const double turn : {-2 * kPi, 0.0, 2 * kPi}) {
        if (turn != 0 && !goes_round(face_)) continue;
        const double a = std::max(sides_[i].a.s + turn, low_.s), b = std::min(sides_[i].b.s + turn, high_.s);
        if (a > b) continue;
        for (std::size_t bin = bin_of(a); bin <= bin_of(b); ++bin) bins_[bin].push_back({i, turn});
      }
  }
  Place2 low() const { return low_; }
  Place2 high() const { return high_; }
  bool holds(Vec3 p) const {
    const Place2 at = place_on(face_, p);
    if (!(at.s >= low_.s && at.s <= high_.s)) return false;
    bool in = false;
    for (const auto& [i, turn] : bins_[bin_of(at.s)]) {
      const Place2 a = sides_[i].a, b = sides_[i].b;
      const double s = at.s - turn;
      if (s < a.s || s >= b.s) continue;
      in ^= a.t + (s - a.s) / (b.s - a.s) * (b.t - a.t) > at.t;
    }
    return in;
  }

 private:
  static constexpr std::size_t kBins = 512;
  struct Side {
    Place2 a, b;
  };
  std::size_t bin_of(double s) const {
    return static_cast<std::size_t>(std::clamp((s - low_.s) / (high_.s - low_.s) * kBins, 0.0, double{kBins}));
  }
  Face face_;
  std::vector<Side> sides_;
  std::vector<std::vector<std::pair<std::size_t, double>>> bins_;
  Place2 low_{1e300, 1e300}, high_{-1e300, -1e300};
};

/// A place of the crown: on a face, or on an edge at a real index into its fine chain.
struct Site {
  Vec3 p;
  int face = -1;
  int edge = -1;
  double at = 0;
};

class Faces {
 public:
  Faces(const Crown& crown, double spacing) : crown_(crown), spacing_(spacing) {
    triangles_.resize(crown.faces.size());
    for (std::size_t i = 0; i < crown.triangles.size(); ++i)
      triangles_[static_cast<std::size_t>(crown.triangles[i].face)].push_back(i);
    for (int f = 0; f < static_cast<int>(crown.faces.size()); ++f) {
      borders_.emplace_back(crown, f);
      outward_.push_back(sign_of(f));
      sample_face(f);
    }
    for (int e = 0; e < static_cast<int>(crown.edges.size()); ++e) sample_edge(e);
  }
  Faces(const Faces&) = delete;

  const Crown& crown() const { return crown_; }
  const Face& face(int f) const { return crown_.faces[static_cast<std::size_t>(f)]; }
  const Edge& edge(int e) const { return crown_.edges[static_cast<std::size_t>(e)]; }
  double spacing() const { return spacing_; }
  const std::vector<Site>& sites() const { return sites_; }
  bool holds(int f, Vec3 p) const { return borders_[static_cast<std::size_t>(f)].holds(p); }
  /// Unit normal into the void; of a free-form face its nearest triangle's.
  Vec3 outward(int f, Vec3 p) const {
    if (face(f).kind != Surface::free_form) return outward_[static_cast<std::size_t>(f)] * square_to(face(f), p);
    Vec3 normal = face(f).frame.z;
    double least = 1e300;
    for (const std::size_t t : triangles_[static_cast<std::size_t>(f)]) {
      const auto& v = crown_.triangles[t].vertex;
      const Vec3 a = corner(v[0]), n = cross(corner(v[1]) - a, corner(v[2]) - a);
      const double off = norm(on_triangle(t, p) - p);
      if (off < least && dot(n, n) > 1e-16) least = off, normal = unit(n);
    }
    return normal;
  }

  /// Onto the surface; of a free-form face onto its triangles.
  Vec3 put(int f, Vec3 p) const {
    if (face(f).kind != Surface::free_form) return onto(face(f), p);
    Vec3 best = p;
    double least = 1e300;
    for (const std::size_t t : triangles_[static_cast<std::size_t>(f)]) {
      const Vec3 q = on_triangle(t, p);
      if (const double off = norm(q - p); off < least) least = off, best = q;
    }
    return best;
  }

  /// Along an edge: between two points of its chain by the cubic through them and their neighbours, over the chords'
  /// lengths, then onto both surfaces in turn. By the chord itself it would be 10 nm off, and where the two surfaces
  /// touch (a corner's bottom) going onto them in turn does not mend that: the normal there would be off by 2e-5.
  Site on_edge(int e, double at) const {
    const std::vector<Vec3>& chain = chain_of(e);
    const int last = static_cast<int>(chain.size()) - 1;
    at = std::clamp(at, 0.0, static_cast<double>(last));
    const int i = std::min(static_cast<int>(at), last - 1), from = std::clamp(i - 1, 0, std::max(0, last - 3)),
              count = std::min(4, last + 1);
    const auto point = [&](int k) { return chain[static_cast<std::size_t>(from + k)]; };
    double place[4] = {};
    for (int k = 1; k < count; ++k) place[k] = place[k - 1] + norm(point(k) - point(k - 1));
    const double t = place[i - from] + (at - i) * (place[i - from + 1] - place[i - from]);
    Vec3 p;
    for (int k = 0; k < count; ++k) {
      double share = 1;
      for (int m = 0; m < count; ++m)
        if (m != k) share *= (t - place[m]) / (place[k] - place[m]);
      p = p + share * point(k);
    }
    for (int turn = 0; turn < 3; ++turn)
      for (const int f : edge(e).faces)
        if (face(f).kind != Surface::free_form) p = onto(face(f), p);
    return {p, edge(e).faces[0], e, at};
  }
  const std::vector<Vec3>& chain_of(int e) const { return edge(e).fine.empty() ? edge(e).points : edge(e).fine; }

 private:
  double sign_of(int f) const {
    const auto& own = triangles_[static_cast<std::size_t>(f)];
    if (own.empty() || face(f).kind == Surface::free_form) return 1;
    double sum = 0;  // slivers have no direction to speak of, so all of them vote by their area
    for (const std::size_t t : own) {
      const auto& v = crown_.triangles[t].vertex;
      const Vec3 a = corner(v[0]), n = cross(corner(v[1]) - a, corner(v[2]) - a);
      sum += dot(n, square_to(face(f), a));
    }
    return sum < 0 ? -1 : 1;
  }
  Vec3 corner(int i) const { return crown_.points[static_cast<std::size_t>(i)]; }

  Vec3 on_triangle(std::size_t t, Vec3 p) const {
    const auto& v = crown_.triangles[t].vertex;
    const Vec3 a = corner(v[0]), n = cross(corner(v[1]) - a, corner(v[2]) - a);
    const double square = dot(n, n);
    const Vec3 q = square > 0 ? p - (dot(n, p - a) / square) * n : p;
    bool in = square > 0;
    Vec3 best = a;
    double least = 1e300;
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec3 from = corner(v[k]), e = corner(v[(k + 1) % 3]) - from;
      in &= dot(n, cross(e, q - from)) >= 0;
      const Vec3 s = from + std::clamp(dot(q - from, e) / std::max(dot(e, e), 1e-300), 0.0, 1.0) * e;
      if (const double off = norm(s - q); off < least) least = off, best = s;
    }
    return in ? q : best;
  }

  void sample_face(int f) {
    const Face& own = face(f);
    if (own.group == Group::underside) return;
    if (own.kind == Surface::free_form) {
      for (const std::size_t t : triangles_[static_cast<std::size_t>(f)]) {
        const auto& v = crown_.triangles[t].vertex;
        sites_.push_back({(1.0 / 3) * (corner(v[0]) + corner(v[1]) + corner(v[2])), f});
      }
      return;
    }
    const Border& border = borders_[static_cast<std::size_t>(f)];
    const double across = goes_round(own) ? own.radius : 1, up = own.kind == Surface::torus ? own.radius2 : 1;
    const int columns = std::max(2, static_cast<int>(across * (border.high().s - border.low().s) / spacing_)),
              rows = std::max(2, static_cast<int>(up * (border.high().t - border.low().t) / spacing_));
    for (int i = 0; i < columns; ++i)
      for (int j = 0; j < rows; ++j) {
        const Vec3 p = point_at(own, {border.low().s + (i + 0.5) / columns * (border.high().s - border.low().s),
                                      border.low().t + (j + 0.5) / rows * (border.high().t - border.low().t)});
        if (border.holds(p)) sites_.push_back({p, f});
      }
  }

  void sample_edge(int e) {
    const auto [a, b] = edge(e).faces;
    if (a == b || face(a).group == Group::underside || face(b).group == Group::underside) return;
    const std::vector<Vec3>& chain = chain_of(e);
    double walked = 1e300;
    for (std::size_t i = 0; i < chain.size(); ++i) {
      if (i > 0) walked += norm(chain[i] - chain[i - 1]);
      if (walked < spacing_ / 3 && i + 1 < chain.size()) continue;
      sites_.push_back({chain[i], a, e, static_cast<double>(i)});
      walked = 0;
    }
  }

  const Crown& crown_;
  double spacing_;
  std::vector<std::vector<std::size_t>> triangles_;  // of each face
  std::vector<Border> borders_;
  std::vector<double> outward_;
  std::vector<Site> sites_;
};

}  // namespace eyebrow::exact
