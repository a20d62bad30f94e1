#include "motion/quintic.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "motion/tolerances.hpp"

namespace eyebrow::motion {
namespace {

/// The two halves, by de Casteljau's construction.
template <std::size_t N>
std::pair<std::array<double, N>, std::array<double, N>> halves(std::array<double, N> control) {
  std::array<double, N> left{}, right{};
  for (std::size_t level = 0; level < N; ++level) {
    left[level] = control[0];
    right[N - 1 - level] = control[N - 1 - level];
    for (std::size_t i = 0; i + 1 < N - level; ++i) control[i] = (control[i] + control[i + 1]) / 2;
  }
  return {left, right};
}

template <std::size_t N>
double greatest_magnitude(const std::array<double, N>& control, int halvings) {
  double greatest = 0;
  for (double value : control) greatest = std::max(greatest, std::fabs(value));
  // The ends lie on the polynomial: when one of them is the greatest, halving cannot lower it.
  if (halvings == 0 || greatest == std::max(std::fabs(control.front()), std::fabs(control.back()))) return greatest;
  const auto [left, right] = halves(control);
  return std::max(greatest_magnitude(left, halvings - 1), greatest_magnitude(right, halvings - 1));
}

template <std::size_t N>
bool at_least(const std::array<double, N>& control, double floor, int halvings) {
  if (*std::min_element(control.begin(), control.end()) >= floor) return true;
  if (control.front() < floor || control.back() < floor || halvings == 0) return false;
  const auto [left, right] = halves(control);
  return at_least(left, floor, halvings - 1) && at_least(right, floor, halvings - 1);
}

}  // namespace

std::array<double, 6> taylor(const LiftKnot& from, const LiftKnot& to) {
  const double h = to.angle - from.angle;
  const double v = from.velocity * h, a = from.acceleration * h * h;
  // What value, velocity and acceleration lack at the far end after the terms up to the second power.
  const double lift = to.lift - from.lift - v - a / 2;
  const double velocity = to.velocity * h - v - a;
  const double acceleration = to.acceleration * h * h - a;
  const double h2 = h * h;
  return {from.lift,
          from.velocity,
          from.acceleration / 2,
          (10 * lift - 4 * velocity + acceleration / 2) / (h2 * h),
          (-15 * lift + 7 * velocity - acceleration) / (h2 * h2),
          (6 * lift - 3 * velocity + acceleration / 2) / (h2 * h2 * h)};
}

std::array<double, 5> velocity_controls(const LiftKnot& from, const LiftKnot& to) {
  const double h = to.angle - from.angle;
  const double middle =
      5 * (to.lift - from.lift) / h - 2 * (from.velocity + to.velocity) + h * (to.acceleration - from.acceleration) / 4;
  return {from.velocity, from.velocity + h * from.acceleration / 4, middle, to.velocity - h * to.acceleration / 4,
          to.velocity};
}

std::array<double, 4> acceleration_controls(const LiftKnot& from, const LiftKnot& to) {
  const std::array<double, 5> v = velocity_controls(from, to);
  const double scale = 4 / (to.angle - from.angle);
  return {from.acceleration, scale * (v[2] - v[1]), scale * (v[3] - v[2]), to.acceleration};
}

double velocity_bound(const LiftKnot& from, const LiftKnot& to) {
  return greatest_magnitude(velocity_controls(from, to), kBoundHalvings) * (1 + kBoundSlack);
}

double acceleration_bound(const LiftKnot& from, const LiftKnot& to) {
  return greatest_magnitude(acceleration_controls(from, to), kBoundHalvings) * (1 + kBoundSlack);
}

bool velocity_at_least(const LiftKnot& from, const LiftKnot& to, double sign, double floor) {
  std::array<double, 5> control = velocity_controls(from, to);
  for (double& value : control) value *= sign;
  return at_least(control, floor, kProofHalvings);
}

bool acceleration_at_most(const LiftKnot& from, const LiftKnot& to, double ceiling) {
  std::array<double, 4> control = acceleration_controls(from, to);
  for (double& value : control) value = -value;
  return at_least(control, -ceiling, kProofHalvings);
}

}  // namespace eyebrow::motion
