#include "motion/known_lobes.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "motion/cam_law.hpp"
#include "motion/tolerances.hpp"

namespace eyebrow::motion {
namespace {

using Nodes = KnownFlank::Nodes;
constexpr int kNodes = KnownFlank::kNodes;
constexpr double kStep = 1.0 / (kNodes - 1);

/// Integrals over 0 ... 1 of a and of (1 - u) a: what it changes the velocity and the lift by at the end.
struct Moments {
  double velocity = 0, lift = 0;
};
Moments moments(const Nodes& a) {
  Moments sum;
  for (int i = 0; i + 1 < kNodes; ++i) {
    const double left = 1 - i * kStep;  // of the way from this node on
    sum.velocity += kStep * (a[i] + a[i + 1]) / 2;
    sum.lift += kStep * (left * (a[i] + a[i + 1]) / 2 - kStep * (a[i] + 2 * a[i + 1]) / 6);
  }
  return sum;
}

/// Evenly spread numbers between 0 and 1, always the same: the fractional parts of multiples of irrational roots.
class Spread {
 public:
  explicit Spread(std::uint32_t seed) : index_(seed) {}
  void next() {
    ++index_;
    dimension_ = 0;
  }
  double between(double low, double high) {
    // 1 / g, 1 / g^2, ... with g^(d+1) = g + 1: an additive sequence of low discrepancy in d = 10 dimensions.
    constexpr double kRoot = 1.0621691678642537;
    const double step = std::pow(kRoot, -++dimension_);
    const double at = 0.5 + step * index_;
    return low + (high - low) * (at - std::floor(at));
  }
  int below(int count) { return std::min(count - 1, static_cast<int>(between(0, count))); }

 private:
  std::uint32_t index_;
  int dimension_ = 0;
};

double smooth(double t) {
  return (1 - std::cos(kPi * std::clamp(t, 0.0, 1.0))) / 2;
}

/// Nose, fall to nothing, rise to the plateau, plateau, end: lengths in parts of the whole. `nose`: the acceleration at
/// the very nose in parts of that where the fall begins.
struct Pulse {
  double nose_length, fall, none, rise, plateau, end, nose;
  double at(double u) const {
    const double whole = nose_length + fall + none + rise + plateau + end;
    double t = u * whole;
    if (t < nose_length) return -(nose + (1 - nose) * (t / nose_length) * (t / nose_length));
    if ((t -= nose_length) < fall) return -(1 - smooth(t / fall));
    if ((t -= fall) < none) return 0;
    if ((t -= none) < rise) return smooth(t / rise);
    if ((t -= rise) < plateau) return 1;
    return 1 - smooth((t - plateau) / end);
  }
};

/// 1 + sum c_i u^p_i with p_0 = 2, and lift, velocity and their next derivatives zero at u = 1: the polynomial lobes of
/// the handbooks. The powers fix the coefficients: c_i = prod over j != i of p_j / (p_i - p_j), but for the sign.
struct Polynomial {
  std::array<double, 5> power;
  double acceleration(double u) const {
    double sum = 0;
    for (std::size_t i = 0; i < power.size(); ++i) {
      double c = -1;
      for (std::size_t j = 0; j < power.size(); ++j)
        if (j != i) c *= power[j] / (power[j] - power[i]);
      sum += c * power[i] * (power[i] - 1) * std::pow(u, power[i] - 2);
    }
    return sum;
  }
};

template <typename Shape>
KnownFlank with_ramp(const Shape& shape, Spread& spread) {
  // Of the main lift's length; ramps of the trade rise a few hundredths of the lift, at a tenth of its mean velocity.
  const double height = spread.between(0.004, 0.045), velocity = spread.between(0.05, 0.2);
  const double length = std::clamp(1.3 * height / velocity, 0.03, 0.45), main = 1 / (1 + length);
  const double blend = (1 - main) * spread.between(0.3, 0.8);
  Nodes a{}, end{};
  for (int i = 0; i < kNodes; ++i) {
    const double u = i * kStep;
    a[i] = u < main ? shape(u / main) : 0;
    const double t = (u - (1 - blend)) / blend;
    end[i] = t > 0 ? velocity * main * 2 / blend * std::sin(kPi * t) * std::sin(kPi * t) : 0;
  }
  end[kNodes - 1] = 0;
  a[kNodes - 1] = 0;
  return {a, end};
}

KnownFlank random_pulse(Spread& spread) {
  Pulse pulse{};
  pulse.nose_length = spread.between(0, 0.75);
  pulse.fall = spread.between(0.02, 0.6);
  pulse.none = spread.between(0, 0.08);
  pulse.rise = spread.between(0.01, 0.25);
  pulse.plateau = spread.between(0, 0.5);
  pulse.end = spread.between(0.02, 0.5);
  pulse.nose = spread.between(0.5, 1.5);
  return with_ramp([&](double u) { return pulse.at(u); }, spread);
}

KnownFlank random_law(Spread& spread) {
  const auto law = static_cast<CamLaw>(spread.below(6));
  return with_ramp([law](double u) { return cam_law(law, 1 - u).acceleration; }, spread);
}

KnownFlank random_polynomial(Spread& spread) {
  Polynomial polynomial{{2, 0, 0, 0, 0}};
  double power = 2;
  for (int i = 1; i < 5; ++i) polynomial.power[i] = power += 2 * (1 + spread.below(i == 1 ? 5 : 4));
  return with_ramp([&](double u) { return polynomial.acceleration(u); }, spread);
}

/// Circles of nose and flank under a flat follower: both accelerate by the cosine of the angle from where they are.
KnownFlank random_arcs(Spread& spread) {
  const double half = spread.between(50, 80) * kDegree, cross = spread.between(0.5, 0.92);
  return with_ramp([=](double u) { return u < cross ? -std::cos(u * half) : std::cos((1 - u) * half); }, spread);
}

bool plausible(const KnownFlank& flank) {
  if (!flank.good()) return false;
  const double half = flank.place(kNormLift);
  return flank.greatest_acceleration() * half * half <= kSharpestFlank &&
         -flank.least_acceleration() * half * half <= kSharpestNose;
}

std::vector<KnownFlank> make_flanks() {
  std::vector<KnownFlank> flanks;
  flanks.reserve(kKnownFlanks);
  Spread spread(1);
  for (int i = 0; static_cast<int>(flanks.size()) < kKnownFlanks; ++i, spread.next()) {
    KnownFlank flank = i % 6 == 0   ? random_law(spread)
                       : i % 6 == 1 ? random_polynomial(spread)
                       : i % 6 == 2 ? random_arcs(spread)
                                    : random_pulse(spread);
    if (plausible(flank)) flanks.push_back(flank);
  }
  return flanks;
}

}  // namespace

KnownFlank::KnownFlank(const Nodes& shape, const Nodes& ramp_end) {
  Nodes down{}, up{};
  for (int i = 0; i < kNodes; ++i) (shape[i] < 0 ? down : up)[i] = shape[i];
  const Moments a = moments(down), b = moments(up), c = moments(ramp_end);
  // x a + y b + c: no velocity, and the lift 1 lost.
  const double det = a.velocity * b.lift - b.velocity * a.lift;
  const double x = (-c.velocity * b.lift + b.velocity * (1 + c.lift)) / det;
  const double y = (-a.velocity * (1 + c.lift) + c.velocity * a.lift) / det;
  if (!(x > 0 && y > 0)) return;
  good_ = true;
  for (int i = 0; i < kNodes; ++i) acceleration_[i] = x * down[i] + y * up[i] + ramp_end[i];
  lift_[0] = 1;
  for (int i = 0; i + 1 < kNodes; ++i) {
    const double from = acceleration_[i], to = acceleration_[i + 1];
    velocity_[i + 1] = velocity_[i] + kStep * (from + to) / 2;
    lift_[i + 1] = lift_[i] + kStep * velocity_[i] + kStep * kStep * (2 * from + to) / 6;
  }
}

double KnownFlank::lift(double u) const {
  if (u <= 0) return 1;
  if (u >= 1) return 0;
  const int i = std::min(kNodes - 2, static_cast<int>(u / kStep));
  const double t = u - i * kStep;
  const double from = acceleration_[i], change = (acceleration_[i + 1] - from) / kStep;
  return lift_[i] + t * (velocity_[i] + t * (from / 2 + t * change / 6));
}

double KnownFlank::place(double height) const {
  const auto above = std::upper_bound(lift_.begin(), lift_.end(), height, std::greater<>());
  const int i = static_cast<int>(above - lift_.begin()) - 1;
  double low = i * kStep, high = low + kStep;  // the lift falls all the way
  for (int halved = 0; halved < 60 && high - low > 1e-15; ++halved) {
    const double middle = (low + high) / 2;
    (lift(middle) > height ? low : high) = middle;
  }
  return (low + high) / 2;
}

double KnownFlank::greatest_acceleration() const {
  return *std::max_element(acceleration_.begin(), acceleration_.end());
}

double KnownFlank::least_acceleration() const {
  return *std::min_element(acceleration_.begin(), acceleration_.end());
}

const std::vector<KnownFlank>& known_flanks() {
  static const std::vector<KnownFlank> flanks = make_flanks();
  return flanks;
}

}  // namespace eyebrow::motion
