#include "slice.hpp"

#include <array>
#include <cmath>

#include "least_between.hpp"
#include "valve_frame.hpp"

namespace eyebrow::gap {
namespace {

constexpr std::size_t kSliceTurns = 64;  // places between which the slice is looked at
constexpr double kSliceTurn = 2 * kPi / kSliceTurns;

/// The slice as a function of the azimuth u: one place (`side` tells which of a tube's two), or none.
struct Slice {
  const SheetForm& form;
  Vec3 from;  ///< the form's origin
  double w, side;

  bool at(const Turn& u, Vec3& place) const {
    const Vec3 out = u.cosine * form.x + u.sine * form.y;
    double rho = 0, h = 0;
    if (form.tube > 0) {
      const double size = form.tube * diagonal(out.z, form.z.z), rest = w - from.z - form.ring * out.z;
      if (!(std::fabs(rest) <= size)) return false;
      const double v = std::atan2(form.z.z, out.z) + side * std::acos(rest / size);
      rho = form.ring + form.tube * std::cos(v);
      h = form.tube * std::sin(v);
    } else {
      const double per = form.slope * out.z + form.rise * form.z.z;
      if (std::fabs(per) < 1e-12) return false;
      const double v = (w - from.z - form.ring * out.z) / per;
      rho = form.ring + form.slope * v;
      h = form.rise * v;
    }
    place = from + rho * out + h * form.z;
    return true;
  }
  double radius(const Turn& u) const {
    Vec3 p;
    return at(u, p) ? diagonal(p.x, p.y) : INFINITY;
  }
};

struct SlicePlaces {
  std::array<Turn, kSliceTurns> at;
  SlicePlaces() {
    for (std::size_t i = 0; i < kSliceTurns; ++i) at[i] = Turn(kSliceTurn * static_cast<double>(i));
  }
};
const SlicePlaces kSlicePlaces;

}  // namespace

void nearest_on_slice(const SheetForm& form, Vec3 centre, double w, const std::function<void(Vec3)>& take) {
  for (const double side : {1.0, -1.0}) {
    if (form.tube == 0 && side < 0) return;
    const Slice slice{form, form.origin - centre, w, side};
    std::array<double, kSliceTurns> radius;
    for (std::size_t i = 0; i < kSliceTurns; ++i) radius[i] = slice.radius(kSlicePlaces.at[i]);
    for (std::size_t i = 0; i < kSliceTurns; ++i) {
      const double here = radius[i], before = radius[(i + kSliceTurns - 1) % kSliceTurns],
                   after = radius[(i + 1) % kSliceTurns];
      if (!(here < INFINITY && here <= before && here <= after)) continue;
      const double turn = kSliceTurn * static_cast<double>(i);
      Vec3 place;
      // Around the axis all places may be equal: then the sample is as good as any.
      const bool level = after - here < 1e-12 && before - here < 1e-12;
      const Turn u(level ? turn : least_between(turn - kSliceTurn, turn + kSliceTurn, [&](double t) {
                                    return slice.radius(Turn(t));
                                  }).first);
      if (slice.at(u, place)) take(place);
    }
  }
}

}  // namespace eyebrow::gap
