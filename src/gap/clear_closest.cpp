#include "clear_closest.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "ball_cut.hpp"
#include "exact_functions.hpp"
#include "outline.hpp"
#include "sheet_search.hpp"
#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

/// Distance of a triangle's sides from the z axis: of the triangle, unless the axis passes through it.
double from_axis(const eyebrow::Piece& piece) {
  double least = kInfinity;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec3 a = piece.corner[k], e = piece.corner[(k + 1) % 3] - a;
    const double square = e.x * e.x + e.y * e.y;
    const double t = square > 0 ? std::clamp(-(a.x * e.x + a.y * e.y) / square, 0.0, 1.0) : 0.0;
    least = std::min(least, diagonal(a.x + t * e.x, a.y + t * e.y));
  }
  return least;
}

/// Is a torus's face the outer half of its tube, hollow both ways, as a pocket's corner is? The inner half, as between
/// a valve's stem and head, is a saddle.
bool beyond_centre(const Face& face, const FaceTree& tree) {
  return std::ranges::all_of(tree.pieces, [&](const eyebrow::Piece& piece) {
    return std::ranges::all_of(piece.corner, [&](Vec3 corner) {
      const Vec3 d = corner - face.frame.origin;
      return norm(d - dot(d, face.frame.z) * face.frame.z) >= face.radius - kBorder;
    });
  });
}

}  // namespace

ClearClosest::ClearClosest(const Target& target, const Profile& profile, Vec3 up, const std::vector<int>& order)
    : target_(target), frame_(frame_about({}, up)), curved_(frame_) {
  const Profile whole = filled_outline(profile);
  filled_ = hollow_below(profile);
  brink_ = brink_places(profile);
  pieces_ = convex_pieces(whole);
  circles_ = outline_circles(whole);
  const Vec3 z = into({0, 0, 1});
  const double tilted = diagonal(z.x, z.y);
  for (const ConvexOutline& piece : pieces_) {
    const Point2 low = piece.support(-tilted, z.z);
    extents_.push_back({piece.reach(), piece.lowest(), piece.support(0, -1).w, -tilted * low.r + z.z * low.w});
  }
  top_ = -kInfinity;
  for (const Vec3& p : target.crown().points) top_ = std::max(top_, p.z);
  std::vector<int> rank(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) rank[static_cast<std::size_t>(order[i])] = static_cast<int>(i);
  for (const int face : order) add_face(face);
  add_edges(rank);
  curved_.finish();
}

void ClearClosest::add_face(int index) {
  const Face& face = target_.crown().faces[static_cast<std::size_t>(index)];
  const FaceTree& tree = target_.tree(index);
  if (tree.pieces.empty()) return;
  const int triangle = tree.pieces.front().triangle;
  const Vec3 at = tree.pieces.front().corner[0], up = frame_.z;
  const bool outward =
      face.kind != Surface::free_form && dot(off_surface_gradient(face, at), target_.normal(triangle)) > 0;
  if (face.kind == Surface::plane) {
    Plane plane{index, outward ? face.frame.z : -face.frame.z, at, {}, {}, {}};
    const Vec3 n = into(plane.normal);
    const double side = diagonal(n.x, n.y);
    const bool level = side < kUpright;  // with the rim plane: the middle of what is nearest
    for (const ConvexOutline& piece : pieces_)
      for (const double sign : {1.0, -1.0}) {
        const Point2 q = piece.support(-side, sign * n.z);
        const Vec3 p = level ? Vec3{0, 0, q.w} : Vec3{-sign * q.r * n.x / side, -sign * q.r * n.y / side, q.w};
        (sign > 0 ? plane.lowest : plane.highest).push_back(out(p));
      }
    if (level && n.z > 0)
      for (const Vec3& p : brink_) plane.brink.push_back(out(p));
    planes_.push_back(std::move(plane));
  } else if (face.kind == Surface::sphere && outward) {
    balls_.push_back({index, face.frame.origin, face.radius});
  } else if (!outward &&
             (face.kind == Surface::cylinder || (face.kind == Surface::torus && beyond_centre(face, tree)))) {
    hollows_.emplace_back(index, face, up);
  } else if ((face.kind == Surface::cylinder || face.kind == Surface::cone) && outward) {
    SheetSet surface(frame_);
    surface.add(face, index, target_.trims()[static_cast<std::size_t>(index)], false);
    surface.finish();
    bulges_.push_back({&face, std::move(surface)});
  } else if (face.kind != Surface::free_form) {
    curved_.add(face, index, target_.trims()[static_cast<std::size_t>(index)], true);
  } else {
    Ring ring{&tree, kInfinity, -kInfinity};
    for (const eyebrow::Piece& piece : tree.pieces) {
      for (const Vec3& corner : piece.corner) ring.top = std::max(ring.top, corner.z);
      ring.least_radius = std::min(ring.least_radius, from_axis(piece) - target_.crown().error);
    }
    rings_.push_back(ring);
  }
}

void ClearClosest::add_edges(const std::vector<int>& rank) {
  for (const CrownEdge& edge : target_.edges()) {
    EdgeSet& set = edge.sticks_out ? edges_ : hollow_edges_;
    const auto [a, b] = edge.faces;
    const int told = rank[static_cast<std::size_t>(a)] <= rank[static_cast<std::size_t>(b)] ? a : b;
    for (const Arc& arc : edge.arcs)
      set.add({into(arc.centre), into(arc.a), into(arc.b), arc.half, arc.straight}, told);
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
  bool on(int face, Vec3 point) const { return of.target_.trims()[static_cast<std::size_t>(face)].holds(point); }

  void plane(const Plane& plane, std::size_t piece) {
    const double off = dot(plane.normal, centre - plane.origin);
    const Vec3 low = plane.lowest[piece];
    const double height = off + dot(plane.normal, low);
    if (height >= best.value) return;
    if (height >= 0) {
      const Vec3 foot = centre + low - height * plane.normal;
      if (piece > 0 || plane.brink.empty()) {
        if (on(plane.face, foot)) take(height, foot, plane.face);
        return;
      }
      for (const Vec3& brink : plane.brink) {
        const Vec3 under = centre + brink - height * plane.normal;
        if (on(plane.face, under)) return take(height, under, plane.face);
      }
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
    const BallCut near = ball_cut(piece, of.into(ball.centre - centre), ball.radius);
    if (near.height >= best.value) return;
    if (near.height >= 0) {
      const Vec3 foot = centre + of.out(near.foot);
      if (on(ball.face, foot)) take(near.height, foot, ball.face);
    } else {
      // As with a plane.
      overlap |= on(ball.face, centre + of.out(near.cut));
    }
  }

  /// A circle that reaches out of the void beyond a hollow face may do so through another void.
  void hollow(const HollowFace& face, const OutlineCircle& outline) {
    const Vec3 middle = centre + outline.w * of.frame_.z;
    const HollowFace::Nears nears = face.nears(outline, middle, best.value);
    for (int i = 0; i < nears.count; ++i) {
      const HollowFace::Near& near = nears.at[static_cast<std::size_t>(i)];
      if (!on(face.number(), near.foot)) continue;
      if (near.gap >= 0) {
        take(near.gap, near.foot, face.number());
        continue;
      }
      const std::optional<Vec3> crossing = face.crossing(outline, middle, near.point);
      overlap |= (crossing && on(face.number(), *crossing)) || of.holds(centre, near.foot);
    }
  }

  /// Could a face that only the mesh knows be nearer?
  bool reaches(const Ring& ring) const {
    double far = kInfinity;
    for (std::size_t i = 0; i < of.pieces_.size(); ++i) far = std::min(far, way_to(ring, i));
    return far < best.value;
  }

  double way_to(const Ring& ring, std::size_t piece) const {
    const Extent& extent = of.extents_[piece];
    const double above = centre.z + extent.bottom - ring.top;
    // How far the piece reaches aside as low as where it is as near to the face's top from above.
    const double cosine = of.frame_.z.z, sine = diagonal(of.frame_.z.x, of.frame_.z.y);
    const double rise = (ring.top + best.value - centre.z + extent.radius * sine) / cosine;
    const double reach = extent.radius + sine * std::max(std::fabs(extent.low), std::fabs(std::min(extent.high, rise)));
    const double aside = ring.least_radius - diagonal(centre.x, centre.y) - reach;
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
    if (piece > 0 && centre.z + extents_[piece].bottom - top_ >= query.best.value) continue;
    for (const Plane& plane : planes_) query.plane(plane, piece);
    for (const Ball& ball : balls_) query.ball(ball, pieces_[piece]);
    if (piece == 0)
      for (const HollowFace& face : hollows_)
        for (const OutlineCircle& circle : circles_) query.hollow(face, circle);
    if (query.overlap) return std::nullopt;
    const Distance distance{pieces_[piece]};
    const auto search = [&](const SheetSet& set, Nearest& best) {
      return SheetSearch(set, distance, into(centre), kEdgeSearch, kSheetBudget, best, 0.0).run();
    };
    edges_.search(pieces_[piece], into(centre), query.best);
    if (query.best.value <= 0 || !search(curved_, query.best)) return std::nullopt;
    // A valve that reaches into what the whole surface bounds is nowhere nearest to its face from without: the nearest
    // place's tangent plane would part the two. But the surface may cut the valve on the face.
    const Vec3 within = centre + pieces_[piece].lowest() * frame_.z;
    for (const Bulge& bulge : bulges_) {
      const bool below = off_surface(*bulge.face, within) < 0;
      Nearest whole{below ? kEdgeSearch : query.best.value, {}, -1};
      if (!search(bulge.surface, whole)) return std::nullopt;
      if (whole.face < 0 || !query.on(whole.face, centre + out(whole.point))) continue;
      if (!below)
        query.best = whole;
      else if (whole.value <= 0)
        return std::nullopt;
    }
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
  found.low = found.value - kEdgeSearch;
  std::vector<const FaceTree*> trees;
  for (const Ring& ring : rings_)
    if (query.reaches(ring)) trees.push_back(ring.tree);
  if (!trees.empty()) {
    Found on_mesh = closest(trees, ValveFrame(centre, frame_.z), valve, found);
    if (on_mesh.value <= 0) return std::nullopt;
    if (on_mesh.value < found.value) {
      on_mesh.low = std::min(on_mesh.low, found.low);
      return on_mesh;
    }
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
