// The functions that SheetSearch finds the least of, one a kind of gap.
#pragma once
#include <algorithm>
#include <cmath>

#include "convex_outline.hpp"
#include "crossings.hpp"
#include "dish.hpp"
#include "facing.hpp"
#include "search.hpp"
#include "sheet.hpp"
#include "tolerances.hpp"
#include "valve_frame.hpp"
#include "way.hpp"

namespace eyebrow::gap {

/// The way along n to one convex solid, counted from `from` along it: what ends before that is behind.
struct ParallelWays {
  const ConvexOutline& solid;
  Vec3 n;
  double from = 0;

  double floor(Vec3 q, double spread) const { return from + least_way(solid, q + from * n, n, spread); }
  Way at(Vec3 q, double) const {
    Way way = way_to(solid, q + from * n, n);
    way.length += from;
    return way;
  }
  bool counts(Vec3, int, double&) const { return true; }
  bool skips(Vec3, const Sheet&) const { return false; }
};

/// The same to a dished valve's head, which `filled` takes as filled in. n.z > 0.
struct DishedWays {
  ParallelWays filled;
  const Dish& dish;

  double floor(Vec3 q, double spread) const { return filled.floor(q, spread); }
  Way at(Vec3 q, double spread) const { return filled.at(q, spread); }
  Beside beside(Vec3 q, double spread, double) const { return dish.way(q, filled.n, spread); }
  bool counts(Vec3 q, int, double& value) const {
    value = std::max(value, dish.way(q, filled.n, 0).value);
    return true;
  }
  bool skips(Vec3, const Sheet&) const { return false; }
};

/// The same along the valve's axis: a function of r and w.
struct AxialWays {
  const ConvexOutline& solid;
  double from = 0;

  double floor(Vec3 q, double spread) const {
    const double r = std::max(0.0, radius_of(q) - spread);
    if (r > solid.reach() || solid.upper(r).w - (q.z - spread) < from) return kInfinity;
    return solid.lower(r).w - (q.z + spread);
  }
  Way at(Vec3 q, double) const {
    Way way;
    const double r = radius_of(q);
    if (r > solid.reach()) {
      way.outside_r = 1;
      way.by = r - solid.reach();
      return way;
    }
    const ConvexOutline::Level top = solid.upper(r);
    if (top.w - q.z < from) {
      way.outside = {0, 0, 1};
      way.outside_r = std::max(0.0, -top.slope);
      way.by = q.z + from - top.tangent;
      if (way.by < 0) way.by = 0;
      return way;
    }
    const ConvexOutline::Level low = solid.lower(r);
    way.met = true;
    way.length = low.tangent - q.z;
    way.slope = {0, 0, -1};
    way.slope_r = std::max(0.0, low.slope);
    return way;
  }
  bool counts(Vec3 q, int, double& value) const {
    value = solid.lower(radius_of(q)).w - q.z;
    return true;
  }
  /// All of a sheet is within the valve's reach and under its top: is the way least on the sheet's border?
  bool skips(Vec3 q, const Sheet& sheet) const {
    const double far = radius_of(q) + sheet.radius;
    if (sheet.form->edge || far > solid.reach() || solid.upper(far).w - (q.z + sheet.radius) < from) return false;
    const ConvexOutline::Dips dips = solid.dips_along(radius_of(q), sheet.radius);
    return slopes_throughout(sheet, q, normal_at_centre(sheet), dips.steep, dips.flat);
  }
};

/// The way outward from a ball's surface to one convex solid. Along the rays s = R + way it is at least
/// (R + way) x0 / x, with x the normal's share along the ray; 1 / x lies above its tangent.
struct RadialWays {
  const ConvexOutline& solid;
  Vec3 middle;  ///< of the ball, from the rim-plane centre
  double radius;
  const double& best;

  Vec3 ray(Vec3 q) const { return unit(q - middle); }
  double floor(Vec3 q, double spread) const {
    const double far = std::min(best, norm(q) + solid.extent());
    return least_way(solid, q, ray(q), spread * (1 + std::max(far, 0.0) / radius));
  }
  Way at(Vec3 q, double) const {
    Way way = way_to(solid, q, ray(q));
    if (way.met)
      way.slope = ((radius + way.length) / radius) * way.slope;
    else
      way.outside = {}, way.by = 0;  // says nothing of other rays
    return way;
  }
  bool counts(Vec3, int, double&) const { return true; }
  bool skips(Vec3, const Sheet&) const { return false; }
};

/// The way outward from a cone's surface to one convex solid that is clear of it. n turns by e from place to place: the
/// solid lies behind a plane, so that the way t is no less than a + e . t with a its linear bound along parallel lines,
/// and e nearly linear in the place.
struct ConeWays {
  const ConvexOutline& solid;
  Vec3 origin, axis;  ///< a place of the cone's axis from the rim-plane centre; along it
  double level, up;   ///< the normal's shares outward and along the axis
  const double& best;

  Vec3 off_axis(Vec3 q) const {
    const Vec3 x = q - origin;
    return x - dot(x, axis) * axis;
  }
  /// Outward from the axis; on it any way is.
  Vec3 outward(Vec3 x, double off) const { return off > 1e-12 ? (1 / off) * x : frame_about({}, axis).x; }
  Vec3 ray(Vec3 q) const {
    const Vec3 x = off_axis(q);
    return level * outward(x, norm(x)) + up * axis;
  }
  /// The ray's greatest change from the one at this distance from the axis.
  double turn(double off, double spread) const { return level * (spread < off ? std::sqrt(2.0) * spread / off : 2); }
  double floor(Vec3 q, double spread) const {
    const double far = std::max(std::min(best, norm(q) + solid.extent()), 0.0);
    return least_way(solid, q, ray(q), spread + far * turn(norm(off_axis(q)), spread));
  }
  Way at(Vec3 q, double spread) const {
    const Vec3 x = off_axis(q);
    const double off = norm(x);
    const Vec3 out = outward(x, off), around = cross(axis, out);
    Way way = way_to(solid, q, level * out + up * axis);
    if (!way.met) {
      way.outside = {}, way.by = 0;  // says nothing of other rays
      return way;
    }
    if (spread == 0) return way;
    const double steep = norm(way.slope), turns = turn(off, spread);
    const double e = steep * turns;
    if (!(2 * e < 1 && spread < off)) {
      way.slope = {};
      way.length = -kInfinity;
      return way;
    }
    const double least = off - spread, length = way.length;
    way.slope = way.slope + (length * level / off * dot(way.slope, around)) * around;
    way.length -= steep * (std::fabs(length) * level * spread * spread / (least * least) + 3 * spread * e) +
                  2 * std::max(0.0, -length) * e * e;
    return way;
  }
  bool counts(Vec3 q, int, double& value) const {
    const Way way = at(q, 0);
    value = way.length;
    return way.met;
  }
  bool skips(Vec3, const Sheet&) const { return false; }
};

/// How far a place lies outside the rim, where the rim passes it on its path.
template <class Normal>
struct FromRim {
  double rim, edge;
  double low, full, high;  ///< foot and upper end of the rounded edge at the end of the path; top of the margin
  double astray;           ///< how far the axis may be from where it stands
  bool ends_done;          ///< what looks at the rim with all of it is known already, by the ends of the path
  Normal normal;           ///< of a face at a place, into the void
  const Target& target;

  double rim_at(double w) const {
    const double h = full - w;
    return h <= 0 ? rim : rim - edge + std::sqrt(std::max(0.0, (edge - h) * (edge + h)));
  }
  double floor(Vec3 q, double spread) const {
    if (q.z + spread < low || q.z - spread > high) return kInfinity;
    return radius_of(q) - spread - rim_at(std::min(q.z + spread, high));
  }
  Way at(Vec3 q, double) const {
    Way way;
    if (q.z < low || q.z > high) {
      way.outside = {0, 0, q.z < low ? -1.0 : 1.0};
      way.by = q.z < low ? low - q.z : q.z - high;
      return way;
    }
    const double r = radius_of(q);
    way.met = true;
    way.length = r - rim_at(q.z);
    double slope = 0;
    if (edge > 0 && q.z < full) {
      // The edge's arc ends upright: its tangent a hair higher is a bound as well. It is a hair indeed, so that a level
      // border at the very end of the path is bounded by nearly what it has.
      const double h = std::min(full - q.z, (1 - 1e-9) * edge), at = full - h;
      slope = h / std::sqrt((edge - h) * (edge + h));
      way.length = std::min(way.length, r - rim_at(at) - slope * (q.z - at));
    }
    way.slope = {0, 0, -slope};
    way.slope_r = 1;
    return way;
  }
  bool counts(Vec3 q, int face, double& value) const {
    value = radius_of(q) - rim_at(q.z);
    if (value <= 0) return true;
    return faces(q, normal(face, q));
  }
  /// A wall that turns its back to the rim is behind metal.
  bool faces(Vec3 q, Vec3 n) const { return turned_away(q, n) <= astray * diagonal(n.x, n.y) + kEdgeOn * radius_of(q); }
  /// The rim's radius where a sheet is, at the most and at the least.
  double widest(Vec3 q, const Sheet& sheet) const { return rim_at(std::min(q.z + sheet.radius, high)); }
  double narrowest(Vec3 q, const Sheet& sheet) const { return rim_at(std::max(q.z - sheet.radius, low)); }
  /// Its edges are looked at by themselves. Where all of a sheet looks at the rim, or all of it counts only within the
  /// rim, and the path neither begins nor ends, least is what the function alone has least.
  bool least_is_on_edge(Vec3 q, const Sheet& sheet, Vec3 n) const {
    if (sheet.form->edge || q.z - sheet.radius < low || q.z + sheet.radius > high) return false;
    const auto dip = [&](double w) { return edge > 0 ? std::asin(std::clamp((full - w) / edge, 0.0, 1.0)) : 0; };
    if (!slopes_throughout(sheet, q, n, dip(q.z - sheet.radius), dip(q.z + sheet.radius))) return false;
    bool ignored = false;
    return !in_part(q, sheet, ignored);
  }
  bool skips(Vec3 q, const Sheet& sheet) const {
    const Vec3 n = normal(sheet.form->face, q);
    if (least_is_on_edge(q, sheet, n)) return true;
    const bool outside = radius_of(q) - sheet.radius > widest(q, sheet), ends_tell = ends_done && !sheet.form->edge;
    if (!outside && !ends_tell) return false;
    const double away = turned_away(q, n), turn = over(sheet, q, n).both();
    return (outside && away - turn > astray + kEdgeOn * (radius_of(q) + sheet.radius)) ||
           (ends_tell && away + turn < kEdgeOn * std::max(0.0, radius_of(q) - sheet.radius));
  }
  /// Does a sheet look at the rim in part only? `around`: which way more.
  bool in_part(Vec3 q, const Sheet& sheet, bool& around) const {
    if (sheet.form->edge || radius_of(q) + sheet.radius <= narrowest(q, sheet)) return false;
    const Vec3 n = normal(sheet.form->face, q);
    const TurnOver turn = over(sheet, q, n);
    around = turn.around > turn.along;
    const double past = turned_away(q, n) - kEdgeOn * radius_of(q);
    return std::fabs(past) <= turn.both() + astray + kEdgeOn * sheet.radius;
  }
  /// Such a sheet is cut so as to part what does from what does not. Across its longer way the bottom of a corner would
  /// be cut into squares as small as its narrow strip.
  bool cuts(Vec3 q, const Sheet& sheet, bool& around) const {
    constexpr double kNarrow = 1;  // mm: of a longer one the distance varies as well
    return sheet.radius <= kNarrow && in_part(q, sheet, around);
  }
  /// Places of such a sheet where it comes to look at the rim, on its four sides: nearest are those, and no bound leads
  /// to them.
  template <class Offer>
  void more(Vec3 centre, const Sheet& sheet, const Offer& offer) const {
    bool ignored = false;
    if (!in_part(sheet.centre - centre, sheet, ignored)) return;
    for (const bool around : {true, false}) {
      const std::array<Turn, 2>&along = around ? sheet.u : sheet.v, &across = around ? sheet.v : sheet.u;
      for (const Turn& side : across) {
        const auto place = [&](double t) {
          return (around ? sheet.at(Turn(t), side) : sheet.at(side, Turn(t))) - centre;
        };
        const auto past = [&](double t) {
          const Vec3 q = place(t);
          return turned_away(q, normal(sheet.form->face, q)) - 0.5 * kEdgeOn * radius_of(q);
        };
        const double from = past(along[0].angle), to = past(along[1].angle);
        if ((from > 0) != (to > 0))
          offer(place(zero_between(past, along[0].angle, from, along[1].angle, to, 1e-12, 0.1 * kEdgeOn * rim)));
      }
    }
  }
  TurnOver over(const Sheet& sheet, Vec3 q, Vec3 n) const {
    return turn_over(sheet, q, n, target.crown().faces[static_cast<std::size_t>(sheet.form->face)]);
  }
};

/// Is a distance from a solid least on the border of a face's sheet and nowhere within? Its border is looked at by
/// itself.
inline bool least_on_border(const Sheet& sheet, Vec3 q, const ConvexOutline::Dips& dips) {
  return slopes_throughout(sheet, q, normal_at_centre(sheet), dips.steep, dips.flat);
}

/// Signed distance from one convex solid.
struct Distance {
  const ConvexOutline& solid;

  double floor(Vec3 q, double spread) const {
    double dr = 0, dw = 0;
    return solid.eval(radius_of(q), q.z, dr, dw) - spread;
  }
  Way at(Vec3 q, double) const {
    double dr = 0, dw = 0;
    Way way;
    way.met = true;
    way.length = solid.eval(radius_of(q), q.z, dr, dw);
    way.slope = {0, 0, dw};
    way.slope_r = std::max(dr, 0.0);
    return way;
  }
  bool counts(Vec3, int, double&) const { return true; }
  bool skips(Vec3 q, const Sheet& sheet) const {
    if (sheet.form->edge) return false;
    return least_on_border(sheet, q, solid.dips_outside(radius_of(q), q.z, sheet.radius));
  }
};

/// Distance from a dished valve that is clear. `filled`: its head, filled in, which is no further away. Nearest to a
/// place no further from the axis than the lip is the dish or the lip, to any other what the filled head has there too.
struct DishedDistance {
  const ConvexOutline& filled;
  const Dish& dish;
  const ProfileDistance& distance;

  double floor(Vec3 q, double spread) const {
    const double low = Distance{filled}.floor(q, spread), r = radius_of(q);
    return r + spread <= dish.lip_radius() ? std::max(low, dish.below(r, q.z, 0).value - spread) : low;
  }
  Way at(Vec3 q, double spread) const { return Distance{filled}.at(q, spread); }
  Beside beside(Vec3 q, double, double aside) const { return dish.below(radius_of(q), q.z, aside); }
  bool counts(Vec3 q, int, double& value) const {
    value = distance.eval(radius_of(q), q.z).value;
    return true;
  }
  bool skips(Vec3 q, const Sheet& sheet) const {
    return radius_of(q) - sheet.radius >= dish.lip_radius() && Distance{filled}.skips(q, sheet);
  }
};

/// Signed distance from the head alone, where it is negative: the valve's own, but within the stem's radius, where the
/// valve is deeper.
struct HeadDepth {
  const ConvexOutline& head;
  const ProfileDistance& distance;

  Way at(Vec3 q, double spread) const { return Distance{head}.at(q, spread); }
  bool counts(Vec3 q, int, double& value) const {
    value = distance.eval(radius_of(q), q.z).value;
    return true;
  }
};

/// Signed distance, where it is negative. Beside the stem the depth is that in the head; nearer to the axis the upright
/// hull is no less deep.
struct Depth {
  const ConvexOutline& head;
  const ConvexOutline& upright;
  StemSide stem;
  const ProfileDistance& distance;

  Distance bound(Vec3 q, double spread) const { return {radius_of(q) - spread >= stem.r ? head : upright}; }
  double floor(Vec3 q, double spread) const {
    const double low = bound(q, spread).floor(q, spread), r = radius_of(q);
    // Within the stem's radius the hull may be far deeper.
    return r - spread < stem.r ? std::max(low, distance.eval(r, q.z).value - spread) : low;
  }
  Way at(Vec3 q, double spread) const { return bound(q, spread).at(q, spread); }
  /// Where two sides are as near the depth has a ridge, and a bound by one side falls on the other's: the second one.
  /// It may be the stem's, which the hull does not have: no place is deeper than that is away.
  static constexpr bool kBesideIsLinear = true;
  Beside beside(Vec3 q, double spread, double aside) const {
    const ConvexOutline& solid = bound(q, spread).solid;
    const double r = radius_of(q);
    double dr = 0, dw = 0;
    Beside second;
    second.value = solid.beside(r, q.z, dr, dw);
    const double x = r - stem.r, y = q.z - std::clamp(q.z, stem.foot, stem.top), far = diagonal(x, y);
    if (r - spread < stem.r && -far > second.value && far > 0) {
      // A distance from one place bends up, by no more than this.
      second.value = -far;
      dr = -x / far;
      dw = -y / far;
      second.bend = 1 / (2 * far);
      second.error = second.bend * aside * aside;
    }
    second.slope = {0, 0, dw};
    second.slope_r = dr;
    second.known = second.value > solid.eval(r, q.z, dr, dw) - 2 * spread;
    return second;
  }
  bool counts(Vec3 q, int, double& value) const {
    value = distance.eval(radius_of(q), q.z).value;
    return true;
  }
  /// What is told is in overlap, or clear by no more than a search begins with.
  bool skips(Vec3 q, const Sheet& sheet) const {
    if (sheet.form->edge) return false;
    const double r = radius_of(q), spread = sheet.radius + kSearch;
    const ConvexOutline::Dips dips = head.dips_inside(r, q.z, spread);
    if (r - sheet.radius < stem.r) {
      // The depth lies between that in the head and that in the hull: is it the same sides that are nearest in both?
      const ConvexOutline::Dips hull = upright.dips_inside(r, q.z, spread);
      double dr = 0, dw = 0;
      if (hull.steep != dips.steep || hull.flat != dips.flat ||
          head.eval(r, q.z, dr, dw) != upright.eval(r, q.z, dr, dw))
        return false;
    }
    return least_on_border(sheet, q, dips);
  }
};

/// The same of a dished valve, whose dish `depth` takes as filled in. `best`: the least known.
struct DishedDepth {
  const Depth& depth;
  const Dish& dish;
  const double& best;

  double floor(Vec3 q, double spread) const {
    return std::max(depth.floor(q, spread), -dish.distance(radius_of(q), q.z) - spread);
  }
  Way at(Vec3 q, double spread) const { return depth.at(q, spread); }
  Beside beside(Vec3 q, double, double aside) const { return dish.beside(radius_of(q), q.z, aside); }
  bool counts(Vec3 q, int face, double& value) const {
    return -dish.distance(radius_of(q), q.z) < best && depth.counts(q, face, value);
  }
  /// Where the hollow is further than the sides are all over a sheet, it does not count.
  bool skips(Vec3 q, const Sheet& sheet) const {
    if (sheet.form->edge) return false;
    const double filled = depth.floor(q, 0), beside = -dish.distance(radius_of(q), q.z);
    return filled - beside > 2 * sheet.radius && depth.skips(q, sheet);
  }
};

}  // namespace eyebrow::gap
