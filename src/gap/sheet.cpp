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

/// A straight line's length for each unit of v, at most.
double length_along(const SheetForm& form) {
  return diagonal(form.slope, form.rise + std::fabs(form.shear) * form.slope);
}

}  // namespace

Sheet::Sheet(const SheetForm& of, Turn u0, Turn u1, Turn v0, Turn v1)
    : form(&of), u{u0, u1}, v{v0, v1}, middle_u(0.5 * (u0.angle + u1.angle)), middle_v(0.5 * (v0.angle + v1.angle)) {
  const double du = 0.5 * (u1.angle - u0.angle), dv = 0.5 * (v1.angle - v0.angle);
  centre = at(middle_u, middle_v);
  double widest = std::max(rho(of, v0), rho(of, v1));
  if (of.tube > 0 && v0.angle < 0 && v1.angle > 0) widest = of.ring + of.tube;
  const double around = du > 0 ? 2 * widest * norm(of.x) * std::sin(0.5 * du) : 0;
  const double along = of.tube > 0 ? 2 * of.tube * std::sin(0.5 * dv) : dv * length_along(of);
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
            form->origin + (form->ring + form->tube * along.cosine) * away + (form->tube * along.sine) * form->z,
            around, along};
  }
  const double per = form->slope * out + form->rise * c;
  const Turn& along = per > 0 ? v[0] : v[1];
  const double t = along.angle;
  return {base + form->ring * out + per * t,
          form->origin + (form->ring + form->slope * t) * away + (form->rise * t) * form->z, around, along};
}

Vec3 Sheet::between(const Least& a, const Least& b, double share) const {
  const auto mix = [&](const Turn& from, const Turn& to) {
    Turn turn;
    const double x = from.cosine + share * (to.cosine - from.cosine), y = from.sine + share * (to.sine - from.sine);
    const double size = diagonal(x, y);
    turn.angle = from.angle + share * (to.angle - from.angle);
    turn.cosine = x / size;
    turn.sine = y / size;
    return turn;
  };
  return at(mix(a.u, b.u), mix(a.v, b.v));
}

/// c0 + c1 cos t + s1 sin t + c2 cos 2t + s2 sin 2t
struct AboutAxis::Waves {
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

struct AboutAxis::Parabola {
  double p0, p1, p2;
  double at(double t) const { return p0 + t * (p1 + t * p2); }
};

AboutAxis::AboutAxis(const Sheet& sheet, Vec3 c) : sheet_(sheet), c_(c), from_(sheet.form->origin - c) {
  const SheetForm& f = *sheet.form;
  const Vec3 middle = sheet.centre - c;
  const Turn &uc = sheet.middle_u, &vc = sheet.middle_v;
  square_ = dot_xy(middle, middle);
  r_ = std::sqrt(square_);
  hu_ = 0.5 * (sheet.u[1].angle - sheet.u[0].angle);
  hv_ = 0.5 * (sheet.v[1].angle - sheet.v[0].angle);
  xx_ = dot_xy(f.x, f.x);
  xy_ = dot_xy(f.x, f.y);
  yy_ = dot_xy(f.y, f.y);
  xz_ = dot_xy(f.x, f.z);
  yz_ = dot_xy(f.y, f.z);
  zz_ = dot_xy(f.z, f.z);
  kx_ = dot_xy(from_, f.x);
  ky_ = dot_xy(from_, f.y);
  kz_ = dot_xy(from_, f.z);
  kk_ = dot_xy(from_, from_);
  ee_ = xx_ * uc.cosine * uc.cosine + 2 * xy_ * uc.cosine * uc.sine + yy_ * uc.sine * uc.sine;
  ke_ = kx_ * uc.cosine + ky_ * uc.sine;
  ez_ = xz_ * uc.cosine + yz_ * uc.sine;
  at_centre_ = rho(f, vc);
  height_ = f.rise * vc.angle + f.tube * vc.sine;
  most_ = around({}, 0, 1).swing(uc, hu_) + mixed({}, 0, 1);
  if (hv_ == 0) return;
  if (f.tube > 0) {
    most_ += along({}, 0, 1).swing(vc, hv_);
  } else {
    const Parabola p = rising({}, 0, 1);
    most_ += hv_ * std::fabs(p.p1 + 2 * p.p2 * vc.angle) + p.p2 * hv_ * hv_;
  }
}

/// l g . q + m r^2 along u through the centre.
AboutAxis::Waves AboutAxis::around(Vec3 g, double l, double m) const {
  const SheetForm& f = *sheet_.form;
  Waves w;
  w.c0 = l * (dot(g, from_) + height_ * dot(g, f.z)) +
         m * (kk_ + at_centre_ * at_centre_ * 0.5 * (xx_ + yy_) + height_ * height_ * zz_ + 2 * height_ * kz_);
  w.c1 = at_centre_ * (l * dot(g, f.x) + 2 * m * (kx_ + height_ * xz_));
  w.s1 = at_centre_ * (l * dot(g, f.y) + 2 * m * (ky_ + height_ * yz_));
  w.c2 = m * at_centre_ * at_centre_ * 0.5 * (xx_ - yy_);
  w.s2 = m * at_centre_ * at_centre_ * xy_;
  return w;
}

/// The same along v, of a tube.
AboutAxis::Waves AboutAxis::along(Vec3 g, double l, double m) const {
  const SheetForm& f = *sheet_.form;
  const Turn& uc = sheet_.middle_u;
  const double t = f.tube, ring = f.ring;
  const double ge = dot(g, f.x) * uc.cosine + dot(g, f.y) * uc.sine, gz = dot(g, f.z);
  Waves w;
  w.c0 = l * (dot(g, from_) + ring * ge) + m * (kk_ + ring * ring * ee_ + 2 * ring * ke_ + 0.5 * t * t * (ee_ + zz_));
  w.c1 = t * (l * ge + 2 * m * (ke_ + ring * ee_));
  w.s1 = t * (l * gz + 2 * m * (kz_ + ring * ez_));
  w.c2 = 0.5 * m * t * t * (ee_ - zz_);
  w.s2 = m * t * t * ez_;
  return w;
}

/// The same along v, of a straight line.
AboutAxis::Parabola AboutAxis::rising(Vec3 g, double l, double m) const {
  const SheetForm& f = *sheet_.form;
  const Turn& uc = sheet_.middle_u;
  const double s = f.slope, k = f.rise, ring = f.ring;
  const double ge = dot(g, f.x) * uc.cosine + dot(g, f.y) * uc.sine, gz = dot(g, f.z);
  return {l * (dot(g, from_) + ring * ge) + m * (kk_ + ring * ring * ee_ + 2 * ring * ke_),
          l * (s * ge + k * gz) + 2 * m * (ring * s * ee_ + s * ke_ + k * kz_ + ring * k * ez_),
          m * (s * s * ee_ + k * k * zz_ + 2 * s * k * ez_)};
}

/// What the two ways together leave out, by the greatest of the mixed derivative.
double AboutAxis::mixed(Vec3 g, double l, double m) const {
  if (hu_ == 0 || hv_ == 0) return 0;
  const SheetForm& f = *sheet_.form;
  const std::array<Turn, 2>& v = sheet_.v;
  const double widest = f.tube > 0 ? f.ring + f.tube : std::max(rho(f, v[0]), rho(f, v[1]));
  const double spread = f.tube > 0 ? f.tube : std::fabs(f.slope), climb = f.tube > 0 ? f.tube : std::fabs(f.rise);
  const double highest = f.tube > 0 ? f.tube : climb * std::max(std::fabs(v[0].angle), std::fabs(v[1].angle));
  return hu_ * hv_ *
         (spread * diagonal(l * dot(g, f.x) + 2 * m * kx_, l * dot(g, f.y) + 2 * m * ky_) +
          2 * std::fabs(m) *
              (2 * widest * spread * diagonal(0.5 * (xx_ - yy_), xy_) +
               (spread * highest + widest * climb) * diagonal(xz_, yz_)));
}

Sheet::Least AboutAxis::least(Vec3 g, double a) const {
  const Sheet::Least nothing{-std::numeric_limits<double>::infinity(), sheet_.centre, {}, {}};
  if (r_ < 1e-3) return nothing;
  // r is at least r0 + (Q - Q0) / (2 r0) - (Q - Q0)^2 / (8 r^3) with Q = r^2, and at most the same without the last.
  double lacking = 0;
  if (a > 0) {
    const double least_square = square_ - most_;
    if (!(least_square > 0.25 * square_)) return nothing;
    lacking = most_ * most_ / (8 * least_square * std::sqrt(least_square));
  }
  const SheetForm& f = *sheet_.form;
  const Turn &uc = sheet_.middle_u, &vc = sheet_.middle_v;
  const double m = a / (2 * r_);
  const Waves w = around(g, 1, m);
  Turn turn = uc;
  double value = hu_ > 0 ? w.least(sheet_.u, uc, turn) : w.at(uc);
  Turn to = vc;
  if (hv_ > 0) {
    if (f.tube > 0) {
      const Waves wave = along(g, 1, m);
      value += wave.least(sheet_.v, vc, to) - wave.at(vc);
    } else {
      const Parabola p = rising(g, 1, m);
      const double v0 = sheet_.v[0].angle, v1 = sheet_.v[1].angle;
      to.angle = p.p2 > 0 ? std::clamp(-p.p1 / (2 * p.p2), v0, v1) : (p.p1 + p.p2 * (v0 + v1) > 0 ? v0 : v1);
      value += p.at(to.angle) - p.at(vc.angle);
    }
  }
  return {value - mixed(g, 1, m) + a * (0.5 * r_ - lacking), sheet_.at(turn, to) - c_, turn, to};
}

double AboutAxis::aside() const {
  const double middle = sheet_.centre.z, high = -sheet_.least_along({0, 0, -1}).value,
               low = sheet_.least_along({0, 0, 1}).value;
  const double rise = std::max(high - middle, middle - low);
  const double out = r_ > 0 ? most_ / r_ : sheet_.radius;
  return std::min(sheet_.radius, diagonal(rise, out));
}

bool Sheet::longer_around() const {
  const double du = u[1].angle - u[0].angle, dv = v[1].angle - v[0].angle;
  double around = du, along = dv;
  around *= std::max(rho(*form, v[0]), rho(*form, v[1])) * norm(form->x);
  along *= form->tube > 0 ? form->tube : length_along(*form);
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
    case Surface::sheared_cone:
      form.x = form.x - face.radius2 * form.z;
      form.shear = face.radius2;
      form.ring = face.radius;
      form.slope = 1;
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
