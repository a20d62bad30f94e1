// Lift tables of lobes that are known exactly, as a bench would read them. All invented.
#pragma once
#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "eyebrow/engine.hpp"
#include "motion/cam_law.hpp"

namespace eyebrow::known {

inline constexpr CamLaw kLaws[] = {CamLaw::harmonic, CamLaw::cycloidal,     CamLaw::poly345,
                                   CamLaw::poly4567, CamLaw::modified_sine, CamLaw::modified_trapezoid};

/// A ramp on either side that starts softly, and a cam law on top; the flanks differ in length. Closed form.
struct TrueLobe {
  CamLaw law = CamLaw::poly345;
  double lift = 10;
  double rise = 130 * kDegree, fall = 130 * kDegree;  // crank radians from closed to the peak
  double ramp = 20 * kDegree, ramp_lift = 0.3;        // each side, within rise and fall
  double peak = 0;                                    // its place, crank radians

  double at(double angle) const {
    const double x = std::remainder(angle - peak, 4 * kPi);
    const double half = x < 0 ? rise : fall, s = half - std::fabs(x);
    const double on_ramp = ramp_lift * motion::cam_law(CamLaw::poly345, s / (2 * ramp)).value;
    return on_ramp + (lift - ramp_lift) * motion::cam_law(law, (s - ramp) / (half - ramp)).value;
  }
};

inline TrueLobe random_lobe(std::mt19937& random, CamLaw law) {
  std::uniform_real_distribution<double> part(0, 1);
  TrueLobe lobe;
  lobe.law = law;
  lobe.lift = 7 + 6 * part(random);
  lobe.rise = (120 + 30 * part(random)) * kDegree;
  lobe.fall = part(random) < 0.5 ? lobe.rise : lobe.rise * (0.9 + 0.2 * part(random));
  lobe.ramp = (10 + 20 * part(random)) * kDegree;
  lobe.ramp_lift = 0.1 + 0.3 * part(random);
  lobe.peak = (part(random) - 0.5) * 200 * kDegree;
  return lobe;
}

struct Reading {
  double step = 2 * kDegree;  // between readings, crank radians
  bool uneven = false;        // steps of a half to one and a half of it
  double from = -360 * kDegree, to = 360 * kDegree;
  double error = 0;                                  // even scatter up to this, mm; the curve is told of it
  double level = 0, run_out = 0, run_out_angle = 0;  // of the base circle; once a turn of the cam
  double digit = 0;                                  // rounded to it when not 0
};

/// In rising order of angle; from a random start where it goes all the way round.
inline Lobe read_table(const TrueLobe& truth, const Reading& how, std::mt19937& random, bool about_centre = false) {
  std::uniform_real_distribution<double> part(0, 1);
  Lobe lobe;
  lobe.name = "intake";
  lobe.cam = "cam";
  lobe.measured = LiftAt::valve;
  lobe.table.emplace();
  lobe.table->about_centre = about_centre;
  lobe.table->reading_error = how.error + how.digit / 2;
  const bool round = how.to - how.from > 4 * kPi - 1e-9;
  const double start = how.from + (round ? (part(random) - 0.5) * 4 * kPi : 0), end = start + (how.to - how.from);
  for (double angle = start; angle < end + (round ? -1e-9 : 1e-9);
       angle += how.step * (how.uneven ? 0.5 + part(random) : 1)) {
    double lift = truth.at(angle) + how.level + how.run_out * std::sin(angle / 2 + how.run_out_angle) +
                  how.error * (2 * part(random) - 1);
    if (how.digit > 0) lift = std::round(lift / how.digit) * how.digit;
    lobe.table->angle.push_back(angle);
    lobe.table->lift.push_back(lift);
  }
  lobe.lift = *std::max_element(lobe.table->lift.begin(), lobe.table->lift.end());
  return lobe;
}

}  // namespace eyebrow::known
