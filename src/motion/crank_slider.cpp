#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

// With p the angle of the crank throw from the bore axis, turning so that the crankpin leaves the axis to the side
// opposite to the thrust side, and e the pin offset toward the thrust side:
//   the crankpin is at        (-r sin p, r cos p)   first coordinate toward the thrust side,
//   the piston pin at         (e, y) with y = r cos p + sqrt(l^2 - (e + r sin p)^2).
// y is greatest where throw and rod lie in one line, sin p = -e / (l + r): an offset toward the thrust side brings the
// piston to its highest place before the throw lines up with the bore axis. Crank angle = p - that angle.

namespace eyebrow {

CrankSlider::CrankSlider(double stroke, double rod_length, double pin_offset)
    : throw_(stroke / 2), rod_(rod_length), offset_(pin_offset) {
  // Written so that a NaN fails.
  if (!(stroke > 0 && std::isfinite(stroke) && std::isfinite(rod_length) &&
        rod_length > throw_ + std::fabs(pin_offset))) {
    throw InputError(
        {motion::fault(fmt::format("the rod cannot pass: rod length {:g} mm must be greater than half the "
                                   "stroke plus the pin offset, {:g} + {:g} mm",
                                   rod_length, throw_, std::fabs(pin_offset)))});
  }
  top_angle_ = std::asin(-offset_ / (rod_ + throw_));
  top_height_ = std::sqrt((rod_ + throw_ - offset_) * (rod_ + throw_ + offset_));
  // speed = r sin p + r cos p tan b = r sin(p + b) / cos b with sin b = (e + r sin p) / l: at most r / cos b.
  const double steepest = (throw_ + std::fabs(offset_)) / rod_;
  speed_bound_ = throw_ / std::sqrt((1 - steepest) * (1 + steepest)) * (1 + motion::kBoundSlack);
  // With u = e + r sin p and q = sqrt(l^2 - u^2): y'' = -r cos p - (u u'' + u'^2) / q - u^2 u'^2 / q^3, where u' = r
  // cos p and u'' = -r sin p. Term by term at most, with U the greatest |u| and Q the least q: r, r (U + r) / Q, U^2
  // r^2 / Q^3.
  const double across = throw_ + std::fabs(offset_), along = std::sqrt((rod_ - across) * (rod_ + across));
  bend_bound_ = throw_ * (1 + (across + throw_) / along + across * across * throw_ / (along * along * along)) *
                (1 + motion::kBoundSlack);
}

double CrankSlider::drop(double crank) const {
  const double p = crank + top_angle_;
  const double across = offset_ + throw_ * std::sin(p);
  const double height = throw_ * std::cos(p) + std::sqrt((rod_ - across) * (rod_ + across));
  return std::max(0.0, top_height_ - height);
}

double CrankSlider::speed(double crank) const {
  const double p = crank + top_angle_;
  const double across = offset_ + throw_ * std::sin(p);
  return throw_ * std::sin(p) + throw_ * std::cos(p) * across / std::sqrt((rod_ - across) * (rod_ + across));
}

double CrankSlider::travel() const {
  return top_height_ - std::sqrt((rod_ - throw_ - offset_) * (rod_ - throw_ + offset_));
}

}  // namespace eyebrow
