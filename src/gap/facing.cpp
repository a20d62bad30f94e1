#include "facing.hpp"

#include <algorithm>
#include <cmath>

#include "tolerances.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

double level(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y;
}

/// With N the surface's own normal, e outward from its axis and P the way from the valve's axis to its origin, the
/// function is N . (P + ring e) + tube N . N in their level parts. What is square in space is square in level parts but
/// for the sine of the angle between the axes. Bounds of its first derivatives, or these at the centre and bounds of
/// its second.
TurnOver turn_over_torus(const Sheet& sheet, Vec3 from, double hu, double hv) {
  const SheetForm& form = *sheet.form;
  const double sine = radius_of(form.z), off = radius_of(from), ring = form.ring, tube = form.tube;
  const bool widest_inside = sheet.v[0].sine * sheet.v[1].sine < 0;
  const double out = widest_inside ? 1 : std::max(std::fabs(sheet.v[0].cosine), std::fabs(sheet.v[1].cosine));
  const TurnOver whole{hu * (out * (off + ring * sine * sine) + (ring + 2 * tube * out) * sine),
                       hv * (off + ring + 2 * tube)};

  const Turn &u = sheet.middle_u, &v = sheet.middle_v;
  const Vec3 e = u.cosine * form.x + u.sine * form.y, e_u = u.cosine * form.y - u.sine * form.x;
  const Vec3 n = v.cosine * e + v.sine * form.z, n_v = v.cosine * form.z - v.sine * e, at = from + ring * e;
  const double by_u = v.cosine * level(e_u, at) + (ring + 2 * tube * v.cosine) * level(n, e_u),
               by_v = level(n_v, at) + 2 * tube * level(n, n_v);
  const double uu = out * (off + 4 * ring + 4 * tube) + ring * sine, vv = off + ring + 2 * tube,
               uv = off + (2 * ring + 4 * tube) * sine;
  const TurnOver series{hu * (std::fabs(by_u) + 0.5 * (uu * hu + uv * hv)),
                        hv * (std::fabs(by_v) + 0.5 * (vv * hv + uv * hu))};
  return series.both() < whole.both() ? series : whole;
}

TurnOver turn_over_cone(const Sheet& sheet, Vec3 from, double hu, double hv) {
  const SheetForm& form = *sheet.form;
  const double sine = radius_of(form.z), slope = std::fabs(form.slope);
  double widest = 0, highest = 0;
  for (const Turn& v : sheet.v) {
    widest = std::max(widest, form.ring + form.slope * v.angle);
    highest = std::max(highest, std::fabs(form.rise * v.angle));
  }
  return {hu * (radius_of(from) + (highest + 2 * widest) * sine), hv * (slope > 0 ? slope + 1 : sine)};
}

/// The same with N the gradient of how far outside the cone a place is along its axis, at least as long as the normal:
/// N = e - shear x - z turns by e's share alone, and a place moves by r (e_u + shear sin u z) and e + (1 - shear cos u)
/// z.
TurnOver turn_over_sheared(const Sheet& sheet, Vec3 from, double hu, double hv) {
  const SheetForm& form = *sheet.form;
  const double sine = radius_of(form.z), shear = std::fabs(form.shear);
  double widest = 0, highest = 0;
  for (const Turn& v : sheet.v) {
    widest = std::max(widest, form.ring + v.angle);
    highest = std::max(highest, std::fabs(v.angle));
  }
  const double normal_turns = radius_of(from) + widest * sine * (sine + shear) + highest * sine,
               place_turns = widest * (sine * sine * (1 + shear) + shear + sine * (1 + shear + shear * shear));
  return {hu * (normal_turns + place_turns), hv * (1 + shear + sine) * (1 + (1 + shear) * sine)};
}

/// By how much the normal of a face's sheet turns away from the one at its centre, at most.
double normal_turns(const Sheet& sheet) {
  const SheetForm& form = *sheet.form;
  const double hu = 0.5 * (sheet.u[1].angle - sheet.u[0].angle), hv = 0.5 * (sheet.v[1].angle - sheet.v[0].angle);
  if (form.tube > 0 && form.ring == 0) return 2 * std::asin(std::min(1.0, 0.5 * sheet.radius / form.tube));
  if (form.tube > 0) return hu + hv;
  return form.shear != 0 ? hu : hu * std::fabs(form.rise) / diagonal(form.rise, form.slope);
}

/// Does a cone's point lie on the sheet? It is on no edge.
bool has_point(const Sheet& sheet) {
  const SheetForm& form = *sheet.form;
  return form.tube == 0 &&
         std::min(form.ring + form.slope * sheet.v[0].angle, form.ring + form.slope * sheet.v[1].angle) < kBrink;
}

}  // namespace

bool circles(const Arc& arc, const Face& face) {
  if (arc.straight || face.kind == Surface::plane || face.kind == Surface::free_form) return false;
  const Vec3 axis = unit(cross(arc.a, arc.b));
  const auto parts = [&](double t, Vec3& left) {
    const Vec3 n = off_surface_gradient(face, arc.at(t)), e = unit(arc.at(t) - arc.centre);
    const Point2 of{dot(n, e), dot(n, axis)};
    left = n - of.r * e - of.w * axis;
    return of;
  };
  constexpr int kPlaces = 5;
  Vec3 left;
  const Point2 middle = parts(0, left);
  for (int i = 0; i < kPlaces; ++i) {
    const Point2 at = parts(arc.half * (2.0 * i / (kPlaces - 1) - 1), left);
    if (norm(left) + diagonal(at.r - middle.r, at.w - middle.w) > kCircles) return false;
  }
  return true;
}

TurnOver turn_over(const Sheet& sheet, Vec3 q, Vec3 normal, const Face& face) {
  const SheetForm& form = *sheet.form;
  const double hu = 0.5 * (sheet.u[1].angle - sheet.u[0].angle), hv = 0.5 * (sheet.v[1].angle - sheet.v[0].angle);
  const Vec3 from = form.origin - (sheet.centre - q);
  if (!form.edge && form.shear != 0) return turn_over_sheared(sheet, from, hu, hv);
  if (!form.edge) return form.tube > 0 ? turn_over_torus(sheet, from, hu, hv) : turn_over_cone(sheet, from, hu, hv);
  const double far = radius_of(q) + sheet.radius;
  if (form.circles) {
    // Around the face's axis, which is the arc's own: only the normal's part out from that axis turns. That they are
    // off by kCircles is no matter: it is far less than kEdgeOn, within which a place counts as looking at the rim.
    const Vec3 axis = unit(cross(form.x, form.y));
    const double along = dot(normal, axis), out = norm(normal - along * axis), sine = radius_of(axis),
                 ring = norm(form.x);
    return {hu * (out * (radius_of(from) + 2 * ring * sine) + std::fabs(along) * ring * sine), 0};
  }
  // Twice what the normal turns by on a cylinder, as a cone may be narrower than at its origin.
  const double size = face.kind == Surface::torus ? face.radius2 : face.radius;
  return {far * (face.kind == Surface::plane ? 0 : 2 * sheet.radius / size) + sheet.radius, 0};
}

/// The way that the function grows turns with the way out from the valve's axis, the less the more it dips, and the
/// normal with the two parameters. As long as these turn by less than the angle that is between them they cannot come
/// to lie in one line.
bool slopes_throughout(const Sheet& sheet, Vec3 q, Vec3 normal, double steep, double flat) {
  if (sheet.form->edge || !(steep - flat < kPi) || has_point(sheet)) return false;
  const double r = radius_of(q), around = r > sheet.radius ? std::asin(sheet.radius / r) : kPi;
  const double most_level = flat * steep <= 0 ? 1 : std::max(std::fabs(std::cos(flat)), std::fabs(std::cos(steep)));
  const double turns = around * most_level + 0.5 * (steep - flat) + normal_turns(sheet);
  const double dip = 0.5 * (steep + flat), level = r > 0 ? std::cos(dip) / r : 0;
  const Vec3 grows{level * q.x, level * q.y, -std::sin(dip)};
  return std::atan2(norm(cross(grows, normal)), std::fabs(dot(grows, normal))) > turns + kSlopes;
}

Vec3 normal_at_centre(const Sheet& sheet) {
  const SheetForm& form = *sheet.form;
  const Turn &u = sheet.middle_u, &v = sheet.middle_v;
  const Vec3 around = u.cosine * form.y - u.sine * form.x, out = u.cosine * form.x + u.sine * form.y;
  if (form.tube > 0) return v.cosine * out + v.sine * form.z;
  return unit(cross(around, form.slope * out + form.rise * form.z));
}

}  // namespace eyebrow::gap
