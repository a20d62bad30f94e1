#include "clear_closest.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

#include "outline.hpp"
#include "tolerances.hpp"

namespace eyebrow::gap {
namespace {

constexpr int kAround = 32;  // places on a circle between which its distance is looked at
constexpr double kStep = 2 * kPi / kAround;
constexpr double kTurnEnd = 1e-8;  // radians: a maximum is found to the square of it
constexpr double kFlat = 1e-9;     // mm2 a radian: a slope that is none
constexpr int kInward = 256;       // places along a radius of the valve where the void is looked for
constexpr int kMostSteps = 60;     // of looking for a maximum
constexpr double kLevel = 1e-9;    // sine of a tilt that is none

struct Places {
  std::array<double, kAround> cosine, sine;
  Places() {
    for (std::size_t i = 0; i < kAround; ++i) {
      cosine[i] = std::cos(kStep * static_cast<double>(i));
      sine[i] = std::sin(kStep * static_cast<double>(i));
    }
  }
};
const Places kPlaces;

/// Unit normal of a face's untrimmed surface, away from its axis, centre or tube.
Vec3 plain_normal(const Face& face, Vec3 p) {
  const Vec3 d = p - face.frame.origin, aside = d - dot(d, face.frame.z) * face.frame.z;
  switch (face.kind) {
    case Surface::cylinder:
      return unit(aside);
    case Surface::cone:
      return std::cos(face.radius2) * unit(aside) - std::sin(face.radius2) * face.frame.z;
    case Surface::sphere:
      return unit(d);
    case Surface::torus:
      return unit(d - face.radius * unit(aside));
    case Surface::plane:
    case Surface::free_form:
      break;
  }
  return face.frame.z;
}

std::vector<std::pair<Vec3, Vec3>> border_of(const Target& target, int face) {
  std::vector<std::pair<Vec3, Vec3>> border;
  for (const eyebrow::Piece& side : target.rim(face).pieces) border.emplace_back(side.corner[0], side.corner[1]);
  return border;
}

/// Distance of a triangle's sides from the z axis: of the triangle, unless the axis passes through it.
double from_axis(const eyebrow::Piece& piece) {
  double least = kInfinity;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec3 a = piece.corner[k], e = piece.corner[(k + 1) % 3] - a;
    const double square = e.x * e.x + e.y * e.y;
    const double t = square > 0 ? std::clamp(-(a.x * e.x + a.y * e.y) / square, 0.0, 1.0) : 0.0;
    least = std::min(least, std::hypot(a.x + t * e.x, a.y + t * e.y));
  }
  return least;
}

using Place = std::tuple<double, double, double>;
Place place(Vec3 p) {
  return {p.x, p.y, p.z};
}

/// Which triangles of the mesh have a side.
class Sides {
 public:
  explicit Sides(const Crown& crown) {
    for (std::size_t i = 0; i < crown.points.size(); ++i) number_[place(crown.points[i])] = static_cast<int>(i);
    for (std::size_t t = 0; t < crown.triangles.size(); ++t)
      for (int k = 0; k < 3; ++k) {
        const auto& v = crown.triangles[t].vertex;
        triangle_[{v[static_cast<std::size_t>(k)], v[static_cast<std::size_t>((k + 1) % 3)]}] = static_cast<int>(t);
      }
  }
  /// The triangle that is walked from a to b; -1 = none.
  int walked(Vec3 a, Vec3 b) const {
    const auto from = number_.find(place(a)), to = number_.find(place(b));
    if (from == number_.end() || to == number_.end()) return -1;
    const auto found = triangle_.find({from->second, to->second});
    return found == triangle_.end() ? -1 : found->second;
  }

 private:
  std::map<Place, int> number_;
  std::map<std::pair<int, int>, int> triangle_;
};

/// Does the metal stick out along this edge, somewhere? In doubt it does.
bool sticks_out(const Edge& edge, const Target& target, const Sides& sides) {
  const Crown& crown = target.crown();
  for (std::size_t i = 0; i + 1 < edge.points.size(); ++i) {
    const Vec3 a = edge.points[i], b = edge.points[i + 1];
    const int left = sides.walked(a, b), right = sides.walked(b, a);
    if (left < 0 || right < 0) return true;
    const auto normal = [&](int triangle) {
      const Vec3 n = plain_normal(
          crown.faces[static_cast<std::size_t>(crown.triangles[static_cast<std::size_t>(triangle)].face)], a);
      return dot(n, target.normal(triangle)) < 0 ? -n : n;
    };
    const Vec3 n = normal(left);
    if (dot(normal(right), cross(n, unit(b - a))) < -kSmooth) return true;  // the left face goes down behind the right
  }
  return false;
}

}  // namespace

ClearClosest::ClearClosest(const Target& target, const Profile& profile, Vec3 up, const std::vector<int>& order)
    : target_(target), up_(up), frame_(frame_about({}, up)) {
  const Profile whole = filled_outline(profile);
  filled_ = hollow_below(profile);
  pieces_ = convex_pieces(whole);
  circles_ = outline_circles(whole);
  const Vec3 z = into({0, 0, 1});
  const double level = std::hypot(z.x, z.y);
  for (const ConvexOutline& piece : pieces_) {
    const Point2 low = piece.support(-level, z.z);
    lowest_.push_back(-level * low.r + z.z * low.w);
    extents_.push_back({piece.reach(), piece.lowest(), piece.support(0, -1).w});
  }
  top_ = -kInfinity;
  for (const Vec3& p : target.crown().points) top_ = std::max(top_, p.z);
  std::vector<int> rank(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) rank[static_cast<std::size_t>(order[i])] = static_cast<int>(i);
  for (int face = 0; face < static_cast<int>(target.crown().faces.size()); ++face)
    trims_.emplace_back(target.crown().faces[static_cast<std::size_t>(face)], border_of(target, face));
  for (const int face : order) add_face(face);
  add_edges(rank);
}

void ClearClosest::add_face(int index) {
  const Face& face = target_.crown().faces[static_cast<std::size_t>(index)];
  const FaceTree& tree = target_.tree(index);
  if (tree.pieces.empty()) return;
  const int triangle = tree.pieces.front().triangle;
  const Vec3 at = tree.pieces.front().corner[0], up = frame_.z;
  const bool outward = face.kind != Surface::free_form && dot(plain_normal(face, at), target_.normal(triangle)) > 0;
  if (face.kind == Surface::plane) {
    Plane plane{index, outward ? face.frame.z : -face.frame.z, at, {}, {}, false};
    const Vec3 n = into(plane.normal);
    const double side = std::hypot(n.x, n.y);
    plane.level = side < kLevel;
    for (const ConvexOutline& piece : pieces_)
      for (const double sign : {1.0, -1.0}) {
        const Point2 q = piece.support(-side, sign * n.z);
        const Vec3 p = plane.level ? Vec3{0, 0, q.w} : Vec3{-sign * q.r * n.x / side, -sign * q.r * n.y / side, q.w};
        (sign > 0 ? plane.lowest : plane.highest).push_back(out(p));
      }
    planes_.push_back(std::move(plane));
  } else if (face.kind == Surface::sphere && outward) {
    balls_.push_back({index, face.frame.origin, face.radius});
  } else if ((face.kind == Surface::cylinder || face.kind == Surface::torus) && !outward) {
    Hollow hollow{};
    hollow.face = index;
    hollow.origin = face.frame.origin;
    hollow.axis = dot(face.frame.z, up) < 0 ? -face.frame.z : face.frame.z;
    hollow.radius = face.radius;
    hollow.tube = face.kind == Surface::torus ? face.radius2 : 0;
    hollow.cosine = dot(hollow.axis, up);
    const Vec3 aside = up - hollow.cosine * hollow.axis;
    hollow.sine = norm(aside);
    hollow.x = hollow.sine > kLevel ? unit(aside) : frame_about({}, hollow.axis).x;
    hollow.y = cross(hollow.axis, hollow.x);
    hollow.ex = unit(hollow.x - dot(hollow.x, up) * up);
    hollow.ey = hollow.y;
    hollows_.push_back(hollow);
  } else {
    Ring ring{&tree, kInfinity, -kInfinity, face.group == Group::side};
    for (const eyebrow::Piece& piece : tree.pieces) {
      for (const Vec3& corner : piece.corner) ring.top = std::max(ring.top, corner.z);
      ring.least_radius = std::min(ring.least_radius, from_axis(piece) - target_.crown().error);
    }
    rings_.push_back(ring);
  }
}

void ClearClosest::add_edges(const std::vector<int>& rank) {
  const Sides sides(target_.crown());
  for (const Edge& edge : target_.crown().edges) {
    const int a = edge.faces[0], b = edge.faces[1];
    if (a < 0 || b < 0 || a == b) continue;
    EdgeSet& set = sticks_out(edge, target_, sides) ? edges_ : hollow_edges_;
    const int told = rank[static_cast<std::size_t>(a)] <= rank[static_cast<std::size_t>(b)] ? a : b;
    for (Arc arc : arcs_through(edge.fine.empty() ? edge.points : edge.fine)) {
      arc.centre = into(arc.centre);
      arc.a = into(arc.a);
      arc.b = into(arc.b);
      set.add(arc, told);
    }
  }
  edges_.finish();
  hollow_edges_.finish();
}

/// One pose.
struct ClearClosest::Query {
  const ClearClosest& of;
  Vec3 centre;
  Nearest best{kInfinity, {}, -1};
  bool overlap = false;

  void take(double value, Vec3 point, int face) {
    if (value >= best.value) return;
    best.value = value;
    best.point = of.into(point - centre);
    best.face = face;
  }
  bool on(int face, Vec3 point) const { return of.trims_[static_cast<std::size_t>(face)].holds(point); }

  void plane(const Plane& plane, std::size_t piece) {
    const double off = dot(plane.normal, centre - plane.origin);
    const Vec3 low = plane.lowest[piece];
    const double height = off + dot(plane.normal, low);
    if (height >= best.value) return;
    if (height >= 0) {
      const Vec3 foot = centre + low - height * plane.normal;
      if (on(plane.face, foot)) take(height, foot, plane.face);
      return;
    }
    // The plane cuts the piece. If the cut does not cross the face's edges it lies on the face whole or not at all.
    const Vec3 high = plane.highest[piece];
    const double above = off + dot(plane.normal, high);
    if (above <= 0) return;
    const Vec3 cut = centre + low + (-height / (above - height)) * (high - low);
    overlap |= on(plane.face, cut);
  }

  void ball(const Ball& ball, const ConvexOutline& piece) {
    const Vec3 q = of.into(ball.centre - centre);
    const double r = radius_of(q);
    double dr = 0, dw = 0;
    const double far = piece.eval(r, q.z, dr, dw);
    if (far - ball.radius >= best.value) return;
    const Vec3 toward = -of.out(lift_gradient(q, r, dr, dw)), foot = ball.centre + ball.radius * toward;
    if (!on(ball.face, foot)) return;
    if (far < ball.radius)
      overlap = true;
    else
      take(far - ball.radius, foot, ball.face);
  }

  /// A place on one circle of the valve seen from a hollow face's axis.
  struct Spot {
    double from_axis, height;  ///< height: along the axis, over the face's origin
    Vec3 point, away;          ///< away: unit vector from the axis
  };

  struct Circle {
    const Hollow& face;
    double dx, dy, rise, r;  ///< centre in the face's x, y and along its axis
    Vec3 centre;
    Spot at(double c, double s) const {
      const double x = dx + r * face.cosine * c, y = dy + r * s;
      Spot spot{std::sqrt(x * x + y * y), rise - r * face.sine * c, centre + (r * c) * face.ex + (r * s) * face.ey, {}};
      spot.away = spot.from_axis > 0 ? (1 / spot.from_axis) * (x * face.x + y * face.y) : face.x;
      return spot;
    }
    /// Half the derivative of the depth's square along the circle.
    double slope(double c, double s) const {
      const double x = dx + r * face.cosine * c, y = dy + r * s;
      const double turning = -r * face.cosine * s * x + r * c * y;
      if (face.tube == 0) return turning;
      const double from_axis = std::sqrt(x * x + y * y);
      return (1 - face.radius / from_axis) * turning + (rise - r * face.sine * c) * r * face.sine * s;
    }
    /// How far from the axis, or from the middle of the tube.
    double depth(const Spot& spot) const {
      if (face.tube == 0) return spot.from_axis;
      const double a = spot.from_axis - face.radius;
      return std::sqrt(a * a + spot.height * spot.height);
    }
  };

  void hollow(const Hollow& face, const OutlineCircle& outline) {
    const Vec3 middle = centre + outline.w * of.frame_.z, off = middle - face.origin;
    const Circle circle{face, dot(off, face.x), dot(off, face.y), dot(off, face.axis), outline.r, middle};
    const double far = std::hypot(circle.dx, circle.dy), size = face.tube > 0 ? face.tube : face.radius;
    const double most = far + outline.r;
    if (face.tube == 0) {
      if (size - most - outline.offset >= best.value) return;
    } else {
      const double a = std::max(0.0, most - face.radius), b = std::max(0.0, outline.r * face.sine - circle.rise);
      // Only what lies outward of the tube's middle and below it can be nearest to a corner.
      if (size - std::hypot(a, b) - outline.offset >= best.value) return;
    }
    if (face.sine < kLevel) {
      candidate(circle, outline, far > 1e-12 ? std::atan2(circle.dy, circle.dx) : 0);
      return;
    }
    std::array<double, kAround> slope;
    for (int i = 0; i < kAround; ++i)
      slope[static_cast<std::size_t>(i)] =
          circle.slope(kPlaces.cosine[static_cast<std::size_t>(i)], kPlaces.sine[static_cast<std::size_t>(i)]);
    for (int i = 0; i < kAround; ++i) {
      const double here = slope[static_cast<std::size_t>(i)], next = slope[static_cast<std::size_t>((i + 1) % kAround)];
      if (!(here > 0 && next <= 0)) continue;
      // From the place where the depth stops rising to the one after it, it rises by no more than its bend allows.
      const double depth = circle.depth(
          circle.at(kPlaces.cosine[static_cast<std::size_t>(i)], kPlaces.sine[static_cast<std::size_t>(i)]));
      if (size - depth - outline.offset - outline.r * kStep * kStep >= best.value) continue;
      candidate(circle, outline, peak(circle, i * kStep, here, (i + 1) * kStep, next));
    }
  }

  /// Where the depth stops rising between two turns: regula falsi with the end that stays put halved (Illinois).
  static double peak(const Circle& circle, double from, double at_from, double to, double at_to) {
    double turn = to;
    for (int i = 0; i < kMostSteps && to - from > kTurnEnd && at_to != 0; ++i) {
      turn = from + (to - from) * at_from / (at_from - at_to);
      const double at = circle.slope(std::cos(turn), std::sin(turn));
      if (std::fabs(at) < kFlat) break;
      if (at > 0) {
        if (i > 0) at_to *= 0.5;
        from = turn;
        at_from = at;
      } else {
        if (i > 0) at_from *= 0.5;
        to = turn;
        at_to = at;
      }
    }
    return turn;
  }

  void candidate(const Circle& circle, const OutlineCircle& outline, double turn) {
    const Hollow& face = circle.face;
    const double c = std::cos(turn), s = std::sin(turn);
    const Spot spot = circle.at(c, s);
    Vec3 normal = spot.away, root = spot.point - spot.from_axis * spot.away;  // on the axis, or in the tube's middle
    double depth = spot.from_axis, size = face.radius;
    if (face.tube > 0) {
      const double a = spot.from_axis - face.radius;
      depth = std::hypot(a, spot.height);
      size = face.tube;
      if (depth <= 0) return;
      normal = (1 / depth) * (a * spot.away + spot.height * face.axis);
      root = spot.point - depth * normal;
    }
    const double gap = size - depth - outline.offset;
    if (gap >= best.value) return;
    if (outline.offset > 0) {
      const Vec3 radial = c * face.ex + s * face.ey;
      if (!outline.covers(dot(normal, radial), dot(normal, of.frame_.z))) return;
    }
    const Vec3 foot = root + size * normal;
    if (!on(face.face, foot)) return;
    if (gap < 0)
      overlap |= pierces(circle, spot) || of.holds(centre, foot);
    else
      take(gap, foot, face.face);
  }

  /// A circle that reaches out of the void beyond a hollow face may do so through another void, or stand outside
  /// altogether. Its disc is metal of the valve: where the way from the place to a part of the disc that is inside
  /// meets the face, the two overlap.
  bool pierces(const Circle& circle, const Spot& outside) const {
    const Hollow& face = circle.face;
    const double size = face.tube > 0 ? face.tube : face.radius;
    const auto depth = [&](Vec3 p) {
      const Vec3 off = p - face.origin;
      const double height = dot(off, face.axis), away = norm(off - height * face.axis);
      return face.tube > 0 ? std::hypot(away - face.radius, height) : away;
    };
    Vec3 inside = circle.centre;
    double least = kInfinity;
    const auto try_at = [&](Vec3 p) {
      if (const double at = depth(p); at < least) {
        least = at;
        inside = p;
      }
    };
    if (face.tube > 0)  // only straight inward: across the disc waits the tube's far side
      for (int i = 1; i <= kInward && least >= size; ++i)
        try_at(outside.point + (static_cast<double>(i) / kInward) * (circle.centre - outside.point));
    else
      for (std::size_t i = 0; i < kAround; ++i) try_at(circle.at(kPlaces.cosine[i], kPlaces.sine[i]).point);
    if (least >= size) return false;
    double in = 0, out = 1;
    for (int i = 0; i < 50; ++i) {
      const double middle = 0.5 * (in + out);
      (depth(inside + middle * (outside.point - inside)) < size ? in : out) = middle;
    }
    return on(face.face, inside + in * (outside.point - inside));
  }

  /// Could a face that only the mesh knows be nearer? The crown's side is met level from without, so not by a valve
  /// that keeps within it as far down as the side goes up.
  bool reaches(const Ring& ring) const {
    double far = kInfinity;
    for (std::size_t i = 0; i < of.pieces_.size(); ++i) far = std::min(far, way_to(ring, i));
    return far < best.value;
  }

  double way_to(const Ring& ring, std::size_t piece) const {
    const double above = centre.z + of.lowest_[piece] - ring.top;
    if (ring.outer && above > 0) return kInfinity;
    // How far the piece reaches aside below the face's top, or below where it is as near from above.
    const Extent& extent = of.extents_[piece];
    const double cosine = of.up_.z, sine = std::hypot(of.up_.x, of.up_.y);
    const double rise = (ring.top + (ring.outer ? 0 : best.value) - centre.z + extent.radius * sine) / cosine;
    const double reach = extent.radius + sine * std::max(std::fabs(extent.low), std::fabs(std::min(extent.high, rise)));
    const double aside = ring.least_radius - std::hypot(centre.x, centre.y) - reach;
    if (ring.outer && aside > 0) return kInfinity;
    return std::max(above, std::min(aside, best.value));
  }
};

bool ClearClosest::holds(Vec3 centre, Vec3 point) const {
  const Vec3 q = into(point - centre);
  double dr = 0, dw = 0;
  return std::ranges::any_of(pieces_,
                             [&](const ConvexOutline& piece) { return piece.eval(radius_of(q), q.z, dr, dw) <= 0; });
}

std::optional<Found> ClearClosest::find(Vec3 centre, const ValveShape& valve) const {
  if (edges_.empty()) return std::nullopt;
  Query query{*this, centre};
  for (std::size_t piece = 0; piece < pieces_.size() && !query.overlap; ++piece) {
    if (piece > 0 && centre.z + lowest_[piece] - top_ >= query.best.value) continue;
    for (const Plane& plane : planes_) query.plane(plane, piece);
    for (const Ball& ball : balls_) query.ball(ball, pieces_[piece]);
    if (piece == 0)
      for (const Hollow& face : hollows_)
        for (const OutlineCircle& circle : circles_) query.hollow(face, circle);
    if (query.overlap) return std::nullopt;
    edges_.search(pieces_[piece], into(centre), query.best);
    if (query.best.value <= 0) return std::nullopt;
    Nearest touching{kEdgeSearch, {}, -1};
    hollow_edges_.search(pieces_[piece], into(centre), touching);
    if (touching.value <= 0) return std::nullopt;
  }
  if (query.overlap || query.best.face < 0) return std::nullopt;

  Found found;
  found.value = query.best.value;
  found.point = query.best.point;
  found.face = query.best.face;
  found.low = found.value - kEdgeSearch - kArcOff;
  std::vector<const FaceTree*> trees;
  for (const Ring& ring : rings_)
    if (query.reaches(ring)) trees.push_back(ring.tree);
  if (!trees.empty()) {
    const Found on_mesh = closest(trees, ValveFrame(centre, frame_.z), valve, found);
    if (on_mesh.value <= 0) return std::nullopt;
    if (on_mesh.value < found.value) return on_mesh;
    found.low = std::min(found.low, on_mesh.low - target_.crown().error);
  }
  if (filled_) {
    // A filled dish is no further away than the dished valve. Where the nearest point is not on the lid it is as far.
    const double true_value = valve.distance.eval(radius_of(found.point), found.point.z).value;
    if (true_value > found.value + kEdgeSearch) return std::nullopt;
  }
  return found;
}

}  // namespace eyebrow::gap
