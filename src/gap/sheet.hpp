// A piece of an edge or of a face as two parameters see it, small enough to be bounded by linear functions.
#pragma once
#include <array>

#include "arc.hpp"
#include "eyebrow/crown.hpp"

namespace eyebrow::gap {

/// Where the pieces lie: p(u, v) = origin + rho (cos u x + sin u y) + h z with rho = ring + slope v + tube cos v and
/// h = rise v + tube sin v. An arc is a ring, a straight edge has nothing but a rise. x, y and z are unit vectors at
/// right angles, but for an arc's x and y (its radius long), and a sheared cone's x, which has z's direction in it.
struct SheetForm {
  Vec3 origin, x, y, z;
  double ring = 0, slope = 0, tube = 0, rise = 0;
  double shear = 0;  ///< minus x . z
  int face = -1;
  bool edge = false;
  bool trimmed = false;  ///< only what is on the face counts
  bool circles = false;  ///< an edge that goes round its face's axis
};

/// An angle with what is asked of it time and again.
struct Turn {
  double angle = 0, cosine = 1, sine = 0;
  Turn() = default;
  explicit Turn(double of) : angle(of), cosine(std::cos(of)), sine(std::sin(of)) {}
};

struct Sheet {
  const SheetForm* form = nullptr;
  std::array<Turn, 2> u, v;  ///< turns: of no meaning where a parameter is a length
  Turn middle_u, middle_v;
  bool whole = true;  ///< all of it belongs to the face
  Vec3 centre;
  double radius = 0;  ///< of a ball about the centre that holds it

  Sheet() = default;
  Sheet(const SheetForm& of, Turn u0, Turn u1, Turn v0, Turn v1);

  Vec3 at(const Turn& a, const Turn& b) const;
  /// Least of g . p over the sheet, exact but for rounding, and where it is.
  struct Least {
    double value;
    Vec3 point;
    Turn u, v;  ///< an angle only where the parameter is a length
  };
  Least least_along(Vec3 g) const;
  /// A place of the sheet between two others, `share` of the way from the first.
  Vec3 between(const Least& a, const Least& b, double share) const;
  bool longer_around() const;  ///< along u than along v
  std::array<Sheet, 2> halves(bool around) const;
};

/// A sheet seen from an axis along z through c; q = p - c, r: distance from the axis.
class AboutAxis {
 public:
  AboutAxis(const Sheet& sheet, Vec3 c);
  /// Lower bound of g . q + a r over the sheet, of the third order around an axis near the form's own. Minus infinity
  /// where it says nothing.
  Sheet::Least least(Vec3 g, double a) const;
  /// No place of the sheet is further from its centre than this in the half plane (r, z).
  double aside() const;

 private:
  struct Waves;
  struct Parabola;
  Waves around(Vec3 g, double l, double m) const;
  Waves along(Vec3 g, double l, double m) const;
  Parabola rising(Vec3 g, double l, double m) const;
  double mixed(Vec3 g, double l, double m) const;

  const Sheet& sheet_;
  Vec3 c_, from_;
  double square_, r_, hu_, hv_;
  double xx_, xy_, yy_, xz_, yz_, zz_, kx_, ky_, kz_, kk_, ee_, ke_, ez_;
  double at_centre_, height_;
  double most_ = 0;  ///< that r^2 changes by within the sheet
};

/// The form of a cylinder, cone, sheared cone, sphere or torus, in the crown's frame; false for any other face.
bool form_of(const Face& face, SheetForm& form);
SheetForm form_of(const Arc& arc, int face);

}  // namespace eyebrow::gap
