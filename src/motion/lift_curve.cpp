#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "eyebrow/fault.hpp"
#include "eyebrow/motion.hpp"
#include "motion/quintic.hpp"
#include "motion/root.hpp"
#include "motion/words.hpp"

namespace eyebrow {

LiftCurve::LiftCurve(std::vector<LiftKnot> knots) : knots_(std::move(knots)) {
  const auto not_rising = [](const LiftKnot& a, const LiftKnot& b) { return !(a.angle < b.angle); };
  if (knots_.size() < 2 || std::adjacent_find(knots_.begin(), knots_.end(), not_rising) != knots_.end()) {
    throw Error("a lift curve needs two or more knots in rising order of angle");
  }
  pieces_.reserve(knots_.size() - 1);
  for (std::size_t i = 0; i + 1 < knots_.size(); ++i) {
    const std::array<double, 6> c = motion::taylor(knots_[i], knots_[i + 1]);
    pieces_.push_back({knots_[i].angle, {c[0], c[1], c[2], c[3], c[4], c[5]}});
    velocity_bound_ = std::max(velocity_bound_, motion::velocity_bound(knots_[i], knots_[i + 1]));
    acceleration_bound_ = std::max(acceleration_bound_, motion::acceleration_bound(knots_[i], knots_[i + 1]));
  }
  const auto lower = [](const LiftKnot& a, const LiftKnot& b) { return a.lift < b.lift; };
  const auto highest = std::max_element(knots_.begin(), knots_.end(), lower);
  peak_ = highest->lift;
  peak_angle_ = highest->angle;
  // The curve may go a little above the highest knot, within the piece before or after it.
  const std::size_t i = static_cast<std::size_t>(highest - knots_.begin());
  for (std::size_t k = i > 0 ? i - 1 : i; k <= i && k + 1 < knots_.size(); ++k) {
    if (!(knots_[k].velocity > 0 && knots_[k + 1].velocity < 0)) continue;
    const double top = motion::root([this](double x) { return velocity(x); }, knots_[k].angle, knots_[k + 1].angle);
    if (lift(top) > peak_) {
      peak_ = lift(top);
      peak_angle_ = top;
    }
  }
}

const LiftCurve::Piece* LiftCurve::piece_at(double angle) const {
  if (!(angle > begin() && angle < end())) return nullptr;
  const auto before = [](double x, const Piece& piece) { return x < piece.begin; };
  return &*std::prev(std::upper_bound(pieces_.begin(), pieces_.end(), angle, before));
}

double LiftCurve::lift(double angle) const {
  const Piece* piece = piece_at(angle);
  if (piece == nullptr) return 0;
  const double* c = piece->c;
  const double t = angle - piece->begin;
  // Near the end of the ramp rounding can leave -1e-17.
  return std::max(0.0, c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5])))));
}

double LiftCurve::velocity(double angle) const {
  const Piece* piece = piece_at(angle);
  if (piece == nullptr) return 0;
  const double* c = piece->c;
  const double t = angle - piece->begin;
  return c[1] + t * (2 * c[2] + t * (3 * c[3] + t * (4 * c[4] + t * 5 * c[5])));
}

double LiftCurve::acceleration(double angle) const {
  const Piece* piece = piece_at(angle);
  if (piece == nullptr) return 0;
  const double* c = piece->c;
  const double t = angle - piece->begin;
  return 2 * c[2] + t * (6 * c[3] + t * (12 * c[4] + t * 20 * c[5]));
}

double flank_centre(const LiftCurve& curve, double below_peak) {
  if (!(below_peak > 0 && below_peak < curve.peak())) {
    throw InputError(
        {motion::fault(fmt::format("the lobe centre is taken between the flanks {} below the peak, but the "
                                   "greatest lift is {}",
                                   motion::length_text(below_peak), motion::length_text(curve.peak())))});
  }
  const double level = curve.peak() - below_peak;
  const auto above = [&curve, level](double angle) { return curve.lift(angle) - level; };
  const double rising = motion::root(above, curve.begin(), curve.peak_angle());
  const double falling = motion::root(above, curve.peak_angle(), curve.end());
  return (rising + falling) / 2;
}

}  // namespace eyebrow
