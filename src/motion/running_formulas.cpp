#include "motion/running_formulas.hpp"

#include <algorithm>
#include <cmath>

#include "eyebrow/vec.hpp"

namespace eyebrow::motion {

double inertia_pull(double mass, double stroke, double rod_length, double rpm) {
  const double throw_ = stroke / 2, speed = rpm * 2 * kPi / 60;
  const double acceleration = throw_ * speed * speed * (1 + throw_ / rod_length);  // mm/s2
  return mass * acceleration / 1000;
}

double bar_stretch(double pull, double length, double section, double modulus) {
  return pull * length / (section * modulus);
}

double lean_in_bore(double bore, double clearance, double length) {
  // d cos t + s sin t = sqrt(d^2 + s^2) cos(t - atan(s/d)) = bore, the lesser t.
  const double diameter = bore - clearance;
  const double across = std::hypot(diameter, length);
  return std::atan2(length, diameter) - std::acos(std::min(1.0, bore / across));
}

GuideEffect guide_effect(double play, double guide_length, double overhang, double stem_diameter, double rim_radius) {
  const double lean = lean_in_bore(stem_diameter + play, play, guide_length);
  return {(guide_length / 2 + overhang) * std::tan(lean), rim_radius * std::sin(lean)};
}

}  // namespace eyebrow::motion
