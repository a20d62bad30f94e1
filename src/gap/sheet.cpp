#include "sheet.hpp"
#include "valve_frame.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace eyebrow::gap {
namespace {

double rho(const SheetForm& form, Turn v) {
  return form.ring + form.slope * v.angle + form.tube * v.cosine;
}

/// Least of a cos t + b sin t between two turns no more than half a circle apart, and where.
Turn least_turn(double a, double b, const std::array<Turn, 2>& between) {
  // The direction (-a, -b), where the least lies on the whole circle, between the two directions.
  const Turn &from = between[0], &to = between[1];
  if (from.cosine * -b - from.sine * -a > 0 && to.cosine * -b - to.sine * -a < 0) {
    const double size = std::sqrt(a * a + b * b);
    Turn turn;
    turn.cosine = -a / size;
    turn.sine = -b / size;
    return turn;
  }
  return a * from.cosine + b * from.sine <= a * to.cosine + b * to.sine ? from : to;
}

}  // namespace

Sheet::Sheet(const SheetForm& of, Turn u0, Turn u1, Turn v0, Turn v1)
    : form(&of), u{u0, u1}, v{v0, v1}, middle_u(0.5 * (u0.angle + u1.angle)), middle_v(0.5 * (v0.angle + v1.angle)) {
  const double du = 0.5 * (u1.angle - u0.angle), dv = 0.5 * (v1.angle - v0.angle);
  centre = at(middle_u, middle_v);
  double widest = std::max(rho(of, v0), rho(of, v1));
  if (of.tube > 0 && v0.angle < 0 && v1.angle > 0) widest = of.ring + of.tube;
  const double around = du > 0 ? 2 * widest * norm(of.x) * std::sin(0.5 * du) : 0;
  const double along = of.tube > 0 ? 2 * of.tube * std::sin(0.5 * dv) : dv * diagonal(of.slope, of.rise);
  radius = around + along;
}

Vec3 Sheet::at(const Turn& a, const Turn& b) const {
  const double r = rho(*form, b);
  return form->origin + (r * a.cosine) * form->x + (r * a.sine) * form->y +
         (form->rise * b.angle + form->tube * b.sine) * form->z;
}

Sheet::Least Sheet::least_along(Vec3 g) const {
  const double a = dot(g, form->x), b = dot(g, form->y), base = dot(g, form->origin);
  const double c = dot(g, form->z);
  const Turn around = u[0].angle == u[1].angle ? u[0] : least_turn(a, b, u);
  const double out = a * around.cosine + b * around.sine;
  const Vec3 away = around.cosine * form->x + around.sine * form->y;
  if (form->tube > 0) {
    const Turn along = least_turn(out, c, v);
    return {base + form->ring * out + form->tube * (out * along.cosine + c * along.sine),
            form->origin + (form->ring + form->tube * along.cosine) * away + (form->tube * along.sine) * form->z};
  }
  const double per = form->slope * out + form->rise * c, t = per > 0 ? v[0].angle : v[1].angle;
  return {base + form->ring * out + per * t,
          form->origin + (form->ring + form->slope * t) * away + (form->rise * t) * form->z};
}

namespace {

double dot_xy(Vec3 a, Vec3 b) {
  return a.x * b.x + a.y * b.y;
}

/// c0 + c1 cos t + s1 sin t + c2 cos 2t + s2 sin 2t
struct Waves {
  double c0 = 0, c1 = 0, s1 = 0, c2 = 0, s2 = 0;

  double at(Turn t) const {
    return c0 + c1 * t.cosine + s1 * t.sine + c2 * (t.cosine * t.cosine - t.sine * t.sine) + 2 * s2 * t.cosine * t.sine;
  }
  double slope(Turn t) const {
    return -c1 * t.sine + s1 * t.cosine - 4 * c2 * t.cosine * t.sine + 2 * s2 * (t.cosine * t.cosine - t.sine * t.sine);
  }
  double bend(Turn t) const {
    return -c1 * t.cosine - s1 * t.sine - 4 * c2 * (t.cosine * t.cosine - t.sine * t.sine) - 8 * s2 * t.cosine * t.sine;
  }
  /// What the first three terms of Taylor's series leave out within `half`, at most.
  double rest(double half) const { return (diagonal(c1, s1) + 8 * diagonal(c2, s2)) * half * half * half / 6; }
  /// Greatest change within `half` of t.
  double swing(Turn t, double half) const {
    return half * (std::fabs(slope(t)) + 0.5 * half * std::fabs(bend(t))) + rest(half);
  }
  /// No value between the turns is less: by the series about their middle, which does not mind that the two waves are
  /// far greater than their sum, or either wave by itself. `turn`: about where the least is.
  double least(const std::array<Turn, 2>& between, Turn middle, Turn& turn) const {
    const double half = 0.5 * (between[1].angle - between[0].angle), rise = slope(middle), curve = bend(middle);
    const bool inside = curve > 0 && std::fabs(rise) < curve * half;
    const double series = (inside ? -0.5 * rise * rise / curve : -std::fabs(rise) * half + 0.5 * curve * half * half) -
                          rest(half) + at(middle);
    const auto twice = [](Turn t) {
      Turn two;
      two.cosine = t.cosine * t.cosine - t.sine * t.sine;
      two.sine = 2 * t.cosine * t.sine;
      return two;
    };
    turn = least_turn(c1, s1, between);
    const Turn second = least_turn(c2, s2, {twice(between[0]), twice(between[1])});
    const double waves = c0 + c1 * turn.cosine + s1 * turn.sine + c2 * second.cosine + s2 * second.sine;
    if (waves >= series) return waves;
    turn = inside ? Turn(middle.angle - rise / curve) : between[rise > 0 ? 0 : 1];
    return series;
  }
};

}  // namespace

Sheet::Least Sheet::least_about(Vec3 g, double a, Vec3 c) const {
  constexpr double kNothing = -std::numeric_limits<double>::infinity();
  const Vec3 middle = centre - c, from = form->origin - c;
  const double square = dot_xy(middle, middle), r = std::sqrt(square);
  if (r < 1e-3) return {kNothing, centre};
  const SheetForm& f = *form;
  const double hu = 0.5 * (u[1].angle - u[0].angle), hv = 0.5 * (v[1].angle - v[0].angle);
  const Turn &uc = middle_u, &vc = middle_v;
  const double xx = dot_xy(f.x, f.x), xy = dot_xy(f.x, f.y), yy = dot_xy(f.y, f.y), xz = dot_xy(f.x, f.z),
               yz = dot_xy(f.y, f.z), zz = dot_xy(f.z, f.z);
  const double kx = dot_xy(from, f.x), ky = dot_xy(from, f.y), kz = dot_xy(from, f.z), kk = dot_xy(from, from);
  const double at_centre = rho(f, vc), h = f.rise * vc.angle + f.tube * vc.sine;

  // square(u, v) and g . q, times `l` and `m`, along u through the centre.
  const auto around = [&](double l, double m) {
    Waves w;
    w.c0 = l * (dot(g, from) + h * dot(g, f.z)) +
           m * (kk + at_centre * at_centre * 0.5 * (xx + yy) + h * h * zz + 2 * h * kz);
    w.c1 = at_centre * (l * dot(g, f.x) + 2 * m * (kx + h * xz));
    w.s1 = at_centre * (l * dot(g, f.y) + 2 * m * (ky + h * yz));
    w.c2 = m * at_centre * at_centre * 0.5 * (xx - yy);
    w.s2 = m * at_centre * at_centre * xy;
    return w;
  };
  const double ee = xx * uc.cosine * uc.cosine + 2 * xy * uc.cosine * uc.sine + yy * uc.sine * uc.sine;
  const double ke = kx * uc.cosine + ky * uc.sine, ez = xz * uc.cosine + yz * uc.sine;
  const double ge = dot(g, f.x) * uc.cosine + dot(g, f.y) * uc.sine, gz = dot(g, f.z);
  const auto along = [&](double l, double m) {  // a tube's
    Waves w;
    const double t = f.tube, ring = f.ring;
    w.c0 = l * (dot(g, from) + ring * ge) + m * (kk + ring * ring * ee + 2 * ring * ke + 0.5 * t * t * (ee + zz));
    w.c1 = t * (l * ge + 2 * m * (ke + ring * ee));
    w.s1 = t * (l * gz + 2 * m * (kz + ring * ez));
    w.c2 = 0.5 * m * t * t * (ee - zz);
    w.s2 = m * t * t * ez;
    return w;
  };
  struct Parabola {
    double p0, p1, p2;
    double at(double t) const { return p0 + t * (p1 + t * p2); }
  };
  const auto rising = [&](double l, double m) {  // a straight line's
    const double s = f.slope, k = f.rise, ring = f.ring;
    return Parabola{l * (dot(g, from) + ring * ge) + m * (kk + ring * ring * ee + 2 * ring * ke),
                    l * (s * ge + k * gz) + 2 * m * (ring * s * ee + s * ke + k * kz + ring * k * ez),
                    m * (s * s * ee + k * k * zz + 2 * s * k * ez)};
  };
  // Greatest of the mixed derivative.
  const double widest = f.tube > 0 ? f.ring + f.tube : std::max(rho(f, v[0]), rho(f, v[1]));
  const double spread = f.tube > 0 ? f.tube : std::fabs(f.slope), climb = f.tube > 0 ? f.tube : std::fabs(f.rise);
  const double highest = f.tube > 0 ? f.tube : climb * std::max(std::fabs(v[0].angle), std::fabs(v[1].angle));
  const auto mixed = [&](double l, double m) {
    if (hu == 0 || hv == 0) return 0.0;
    return hu * hv *
           (spread * diagonal(l * dot(g, f.x) + 2 * m * kx, l * dot(g, f.y) + 2 * m * ky) +
            2 * m *
                (2 * widest * spread * diagonal(0.5 * (xx - yy), xy) +
                 (spread * highest + widest * climb) * diagonal(xz, yz)));
  };

  // r is at least r0 + (Q - Q0) / (2 r0) - (Q - Q0)^2 / (8 r^3) with Q = r^2.
  double most = around(0, 1).swing(uc, hu) + mixed(0, 1);
  if (hv > 0) {
    if (f.tube > 0) {
      most += along(0, 1).swing(vc, hv);
    } else {
      const Parabola p = rising(0, 1);
      most += hv * std::fabs(p.p1 + 2 * p.p2 * vc.angle) + p.p2 * hv * hv;
    }
  }
  const double least_square = square - most;
  if (!(least_square > 0.25 * square)) return {kNothing, centre};
  const double lacking = most * most / (8 * least_square * std::sqrt(least_square)), m = a / (2 * r);
  const Waves w = around(1, m);
  Turn turn = uc;
  double value = hu > 0 ? w.least(u, uc, turn) : w.at(uc);
  Turn to = vc;
  if (hv > 0) {
    if (f.tube > 0) {
      const Waves wave = along(1, m);
      value += wave.least(v, vc, to) - wave.at(vc);
    } else {
      const Parabola p = rising(1, m);
      to.angle =
          p.p2 > 0 ? std::clamp(-p.p1 / (2 * p.p2), v[0].angle, v[1].angle) : (p.p1 > 0 ? v[0].angle : v[1].angle);
      value += p.at(to.angle) - p.at(vc.angle);
    }
  }
  return {value - mixed(1, m) + a * (0.5 * r - lacking), at(turn, to) - c};
}

bool Sheet::longer_around() const {
  const double du = u[1].angle - u[0].angle, dv = v[1].angle - v[0].angle;
  double around = du, along = dv;
  around *= std::max(rho(*form, v[0]), rho(*form, v[1])) * norm(form->x);
  along *= form->tube > 0 ? form->tube : diagonal(form->slope, form->rise);
  return around >= along;
}

std::array<Sheet, 2> Sheet::halves(bool around) const {
  std::array<Sheet, 2> half;
  if (around)
    half = {Sheet(*form, u[0], middle_u, v[0], v[1]), Sheet(*form, middle_u, u[1], v[0], v[1])};
  else
    half = {Sheet(*form, u[0], u[1], v[0], middle_v), Sheet(*form, u[0], u[1], middle_v, v[1])};
  half[0].whole = half[1].whole = whole;
  return half;
}

bool form_of(const Face& face, SheetForm& form) {
  form = {face.frame.origin, face.frame.x, face.frame.y, face.frame.z};
  switch (face.kind) {
    case Surface::cylinder:
      form.ring = face.radius;
      form.rise = 1;
      return true;
    case Surface::cone:
      form.ring = face.radius;
      form.slope = std::tan(face.radius2);
      form.rise = 1;
      return true;
    case Surface::sphere:
      form.tube = face.radius;
      return true;
    case Surface::torus:
      form.ring = face.radius;
      form.tube = face.radius2;
      return true;
    case Surface::plane:
    case Surface::free_form:
      break;
  }
  return false;
}

SheetForm form_of(const Arc& arc, int face) {
  SheetForm form;
  form.origin = arc.centre;
  form.face = face;
  form.edge = true;
  if (arc.straight) {
    form.z = arc.b;
    form.rise = 1;
  } else {
    form.x = arc.a;
    form.y = arc.b;
    form.ring = 1;
  }
  return form;
}

}  // namespace eyebrow::gap
