#include "motion/cam_law.hpp"

#include <algorithm>
#include <cmath>

#include "eyebrow/fault.hpp"

// Each law is written for its first half and mirrored: exact symmetry, and half the joints. The laws are the standard
// dwell-rise-dwell motions of cam design (VDI 2143; the handbooks of Rothbart and of Norton): the polynomials and
// sinusoids are fixed by their names, the modified laws by joining their acceleration from pieces at eighths and
// integrating twice.

namespace eyebrow::motion {
namespace {

LawPoint harmonic(double u) {
  return {(1 - std::cos(kPi * u)) / 2, kPi / 2 * std::sin(kPi * u), kPi * kPi / 2 * std::cos(kPi * u)};
}

LawPoint cycloidal(double u) {
  const double p = 2 * kPi * u;
  return {u - std::sin(p) / (2 * kPi), 1 - std::cos(p), 2 * kPi * std::sin(p)};
}

LawPoint poly345(double u) {
  return {u * u * u * (10 + u * (-15 + u * 6)), u * u * (30 + u * (-60 + u * 30)), u * (60 + u * (-180 + u * 120))};
}

LawPoint poly4567(double u) {
  return {u * u * u * u * (35 + u * (-84 + u * (70 - u * 20))), u * u * u * (140 + u * (-420 + u * (420 - u * 140))),
          u * u * (420 + u * (-1680 + u * (2100 - u * 840)))};
}

/// Acceleration: a quarter wave up over 1/8, then half a wave of a third of the frequency down to -1 over 3/4.
LawPoint modified_sine(double u) {
  constexpr double k = 1 / (4 + kPi);
  if (u <= 1.0 / 8) {
    const double p = 4 * kPi * u;
    return {k * (kPi * u - std::sin(p) / 4), k * kPi * (1 - std::cos(p)), k * 4 * kPi * kPi * std::sin(p)};
  }
  const double p = (4 * kPi * u + kPi) / 3;
  return {k * (2 + kPi * u - 9.0 / 4 * std::sin(p)), k * kPi * (1 - 3 * std::cos(p)), k * 4 * kPi * kPi * std::sin(p)};
}

/// Acceleration: a quarter wave up over 1/8, level over 1/4, half a wave down over 1/4, and so on.
LawPoint modified_trapezoid(double u) {
  constexpr double peak = 8 * kPi / (2 + kPi);
  constexpr double w = 4 * kPi;
  constexpr double v1 = peak / w, s1 = v1 * (1.0 / 8 - 1 / w);        // at 1/8
  constexpr double v2 = v1 + peak / 4, s2 = s1 + v1 / 4 + peak / 32;  // at 3/8
  if (u <= 1.0 / 8) {
    return {v1 * (u - std::sin(w * u) / w), v1 * (1 - std::cos(w * u)), peak * std::sin(w * u)};
  }
  if (u <= 3.0 / 8) {
    const double t = u - 1.0 / 8;
    return {s1 + v1 * t + peak * t * t / 2, v1 + peak * t, peak};
  }
  const double t = u - 3.0 / 8;
  return {s2 + v2 * t + peak / (w * w) * (1 - std::cos(w * t)), v2 + v1 * std::sin(w * t), peak * std::cos(w * t)};
}

LawPoint first_half(CamLaw law, double u) {
  switch (law) {
    case CamLaw::harmonic:
      return harmonic(u);
    case CamLaw::cycloidal:
      return cycloidal(u);
    case CamLaw::poly345:
      return poly345(u);
    case CamLaw::poly4567:
      return poly4567(u);
    case CamLaw::modified_sine:
      return modified_sine(u);
    case CamLaw::modified_trapezoid:
      return modified_trapezoid(u);
  }
  throw Error("no such cam law");
}

}  // namespace

LawPoint cam_law(CamLaw law, double u) {
  u = std::clamp(u, 0.0, 1.0);
  if (u <= 0.5) return first_half(law, u);
  const LawPoint mirror = first_half(law, 1 - u);
  return {1 - mirror.value, mirror.velocity, -mirror.acceleration};
}

const char* to_string(CamLaw law) {
  switch (law) {
    case CamLaw::harmonic:
      return "harmonic";
    case CamLaw::cycloidal:
      return "cycloidal";
    case CamLaw::poly345:
      return "3-4-5";
    case CamLaw::poly4567:
      return "4-5-6-7";
    case CamLaw::modified_sine:
      return "modified sine";
    case CamLaw::modified_trapezoid:
      return "modified trapezoid";
  }
  return "?";
}

}  // namespace eyebrow::motion
