#include <algorithm>
#include <cmath>
#include <vector>

#include "queries.hpp"

namespace eyebrow::gap {
namespace {

/// What one triangle asks of the valve's shift along its path: touched by every shift in (first, last).
struct Shift {
  double first, last;
  Vec3 point;  // where `first` is met
  int triangle;
};

/// The valve seen along its path.
class Under {
 public:
  explicit Under(const ProfileDistance& outline) : outline_(outline), rim_(outline.rim_radius()) {
    const auto& elements = outline.elements();
    flat_ = elements[0].radius == 0 && elements[1].part == ValvePart::margin;
  }

  double rim() const { return rim_; }
  /// A plain disc from below: the places tried are all that matter.
  bool flat() const { return flat_; }
  double lowest(double r) const { return outline_.lowest(std::min(r, rim_)); }
  double highest(double r) const { return outline_.highest(std::min(r, rim_)); }

  /// The tangent plane of (lowest - w) at x as a lower bound over a cell; -infinity where there is none.
  double tangent_bound(const Cell& cell, Vec3 x) const {
    const double r = radius_of(x);
    if (r > rim_ || r < 1e-9) return -kInfinity;
    const double slope = outline_.lowest_slope(r);
    if (!std::isfinite(slope)) return -kInfinity;
    const double bend = outline_.lowest_bend();
    if (!std::isfinite(bend)) return -kInfinity;
    const double rho = cell.radius(x);
    double sag = 0.5 * bend * rho * rho;
    const double ux = x.x / r, uy = x.y / r;
    double least = kInfinity, nearest = kInfinity, across = 0;
    for (const Vec3& corner : cell.corner) {
      const double dx = corner.x - x.x, dy = corner.y - x.y;
      const double along = ux * dx + uy * dy;
      least = std::min(least, slope * along - (corner.z - x.z));
      nearest = std::min(nearest, r + along);
      across = std::max(across, std::fabs(ux * dy - uy * dx));
    }
    if (slope < 0) {
      if (nearest <= 0) return -kInfinity;
      sag += -slope * across * across / (2 * nearest);
    }
    return lowest(r) - x.z + least - sag;
  }

  /// Least of `lowest` over [from, to].
  double lowest_over(double from, double to) const { return outline_.lowest_over(from, to); }

 private:
  const ProfileDistance& outline_;
  double rim_;
  bool flat_ = false;
};

/// Places of a triangle where w can be extreme within r <= rim: corners, where sides cross the rim's cylinder, and the
/// cylinder's own extreme point in the triangle's plane.
struct PlacesWithin {
  std::array<Vec3, 18> at;
  int count = 0;
  void add(Vec3 p) { at[count++] = p; }
};

bool holds(const Cell& cell, Vec3 p) {
  // Signed areas in projection along w: inside when all have one sign.
  bool left = true, right = true;
  for (int i = 0; i < 3; ++i) {
    const Vec3 a = cell.corner[i], b = cell.corner[(i + 1) % 3];
    const double turn = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    left &= turn >= 0;
    right &= turn <= 0;
  }
  return left || right;
}

PlacesWithin places_within(const Cell& cell, double rim) {
  PlacesWithin places;
  const double rim2 = rim * rim;
  for (int i = 0; i < 3; ++i) {
    const Vec3 a = cell.corner[i], e = cell.corner[(i + 1) % 3] - a;
    const double aa = a.x * a.x + a.y * a.y;
    if (aa <= rim2) places.add(a);
    const double A = e.x * e.x + e.y * e.y, B = a.x * e.x + a.y * e.y, C = aa - rim2;
    const double D = B * B - A * C;
    if (A <= 0 || D < 0) continue;
    const double root = std::sqrt(D);
    for (const double t : {(-B - root) / A, (-B + root) / A})
      if (t > 0 && t < 1) places.add(a + t * e);
    // The side's own nearest point to the axis: extreme for a valve face that is not flat.
    const double t = std::clamp(-B / A, 0.0, 1.0);
    if (aa > rim2 && t > 0 && t < 1) places.add(a + t * e);
  }
  const Vec3 n = cross(cell.corner[1] - cell.corner[0], cell.corner[2] - cell.corner[0]);
  const double tilt = std::hypot(n.x, n.y);
  if (std::fabs(n.z) > 1e-12 * norm(n)) {
    for (const double sign : {-1.0, 1.0}) {
      if (tilt == 0) break;
      Vec3 p{sign * rim * n.x / tilt, sign * rim * n.y / tilt, 0};
      p.z = cell.corner[0].z - (n.x * (p.x - cell.corner[0].x) + n.y * (p.y - cell.corner[0].y)) / n.z;
      if (holds(cell, p)) places.add(p);
    }
    Vec3 axis{0, 0, cell.corner[0].z + (n.x * cell.corner[0].x + n.y * cell.corner[0].y) / n.z};
    if (holds(cell, axis)) places.add(axis);
  }
  return places;
}

/// Distance in projection from the axis to a cell, and to its furthest corner.
void radii(const Cell& cell, double& nearest, double& furthest) {
  double least = kInfinity, most = 0;
  for (int i = 0; i < 3; ++i) {
    const Vec3 a = cell.corner[i], e = cell.corner[(i + 1) % 3] - a;
    const double A = e.x * e.x + e.y * e.y;
    const double t = A > 0 ? std::clamp(-(a.x * e.x + a.y * e.y) / A, 0.0, 1.0) : 0.0;
    const double x = a.x + t * e.x, y = a.y + t * e.y;
    least = std::min(least, x * x + y * y);
    most = std::max(most, a.x * a.x + a.y * a.y);
  }
  nearest = holds(cell, Vec3{}) ? 0 : std::sqrt(least);
  furthest = std::sqrt(most);
}

/// First and last shift of one triangle; false when it lies outside the rim's cylinder.
bool shift_of(const Cell& cell, const Under& under, Shift& shift) {
  const PlacesWithin places = places_within(cell, under.rim());
  if (places.count == 0) return false;
  shift = {kInfinity, -kInfinity, {}, cell.triangle};
  for (int i = 0; i < places.count; ++i) {
    const Vec3 p = places.at[i];
    const double r = std::min(radius_of(p), under.rim());
    const double first = under.lowest(r) - p.z;
    if (first < shift.first) {
      shift.first = first;
      shift.point = p;
    }
    shift.last = std::max(shift.last, under.highest(r) - p.z);
  }
  return true;
}

/// A valve face that is not flat: the places above miss the least by the face's curvature, so halve the cell while that
/// matters. Only `first` is refined, and only
/// below `enough`. `filled`: a dish filled in, no higher than the dish; the same as `under` if none.
void refine(const Cell& cell, const Under& under, const Under& filled, double enough, Shift& shift, int depth) {
  Shift lid;
  if (&filled != &under && filled.flat() && shift_of(cell, filled, lid) &&
      lid.first >= std::min(shift.first, enough) - kSearch)
    return;
  double nearest = 0, furthest = 0;
  radii(cell, nearest, furthest);
  if (nearest > under.rim()) return;
  const double top = std::max({cell.corner[0].z, cell.corner[1].z, cell.corner[2].z});
  double bound = under.lowest_over(nearest, furthest) - top;
  for (const Under* outline : {&under, &filled})
    for (const Vec3& at : {shift.point, cell.centre()}) bound = std::max(bound, outline->tangent_bound(cell, at));
  if (bound >= std::min(shift.first, enough) - kSearch || depth > 40) return;
  for (const Cell& half : halves(cell)) {
    Shift own;
    if (shift_of(half, under, own) && own.first < shift.first) {
      shift.first = own.first;
      shift.point = own.point;
    }
    refine(half, under, filled, enough, shift, depth + 1);
  }
}

/// The whole valve against the plane of a planar face: no shift of the face is less, and where the valve's first point
/// comes down on the face it is the answer.
struct PlaneShift {
  double bound = -kInfinity;
  Shift shift{kInfinity, kInfinity, {}, -1};
};

PlaneShift plane_shift(const Target& target, const FaceTree& tree, const ValveFrame& frame, const ValveShape& valve) {
  PlaneShift result;
  const Vec3 n = frame.turn_in(target.normal(tree.pieces.front().triangle));
  if (n.z < 1e-6) return result;
  const double side = std::sqrt(n.x * n.x + n.y * n.y);
  const Point2 q = valve.distance.support(-side, n.z);
  const Vec3 at = side > 0 ? Vec3{-q.r * n.x / side, -q.r * n.y / side, q.w} : Vec3{q.r, 0, q.w};
  const double height = dot(n, at - cell_of(tree.pieces.front(), frame).corner[0]);
  result.bound = height / n.z;
  const Vec3 foot = at - Vec3{0, 0, result.bound};
  const int triangle = triangle_at(tree, frame, foot, n);
  if (triangle >= 0) result.shift = {result.bound, kInfinity, foot, triangle};
  return result;
}

}  // namespace

Found travel(const Target& target, const std::vector<int>& faces, const ValveFrame& frame, const ValveShape& valve) {
  const Under under(valve.distance), lid(valve.filled);
  const Under& filled = &valve.filled != &valve.distance ? lid : under;
  const double lowest = valve.profile.lowest;
  // Ahead of the valve only the first touch counts, so what cannot beat it is skipped. What it has reached or passed is
  // kept whole: in overlap the shifts of neighbouring triangles chain up to the least withdrawal.
  std::vector<Shift> reached, behind;
  Shift ahead{kInfinity, kInfinity, {}, -1};
  const auto out_of_reach = [&](const Box2& box) {
    return box.low.r > under.rim() || lowest - box.high.w >= ahead.first;
  };
  const auto visit = [&](const Cell& cell) {
    Shift shift;
    if (!shift_of(cell, under, shift)) return;
    if (!under.flat()) refine(cell, under, filled, ahead.first, shift, 0);
    if (shift.last < 0)
      behind.push_back(shift);
    else if (shift.first < 0)
      reached.push_back(shift);
    else if (shift.first < ahead.first)
      ahead = shift;
  };
  for (int face : faces) {
    const FaceTree& tree = target.tree(face);
    if (!under.flat() && !tree.pieces.empty() && target.crown().faces[face].kind == Surface::plane) {
      const PlaneShift plane = plane_shift(target, tree, frame, valve);
      if (plane.bound >= ahead.first) continue;
      if (plane.bound >= 0 && plane.shift.triangle >= 0) {
        ahead = plane.shift;
        continue;
      }
    }
    walk(tree, frame, out_of_reach, visit);
  }
  // A flat valve face is closed form; any other was refined until nothing lay further than this below.
  const double doubt = under.flat() ? 0 : kSearch;
  if (reached.empty()) {
    if (ahead.triangle < 0) return {};
    return {ahead.first, ahead.point, ahead.triangle, ahead.first - doubt};
  }
  Shift end = reached.front();
  for (const Shift& s : reached)
    if (s.first < end.first) end = s;
  // Withdrawing from these may run into what lies behind: go on until the valve is past all that chains up.
  std::sort(behind.begin(), behind.end(), [](const Shift& a, const Shift& b) {
    return a.last > b.last || (a.last == b.last && a.triangle < b.triangle);
  });
  for (const Shift& s : behind) {
    if (s.last < end.first) break;
    if (s.first < end.first) end = s;
  }
  return {end.first, end.point, end.triangle, end.first - doubt};
}

}  // namespace eyebrow::gap
