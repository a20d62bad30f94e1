// Lobes that are known exactly, of several families, none of them made as the library makes its own: what a band of
// lifts has to hold. All invented.
#pragma once
#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "eyebrow/vec.hpp"
#include "motion/cam_law.hpp"

namespace eyebrow::made {

/// One flank: lift 1 at x = 0, falling to 0 at x = 1.
struct Flank {
  std::string family;
  std::vector<double> lift;  ///< at equal steps
  double at(double x) const {
    if (x >= 1) return 0;
    const double t = std::max(0.0, x) * static_cast<double>(lift.size() - 1);
    const std::size_t j = std::clamp<std::size_t>(static_cast<std::size_t>(t + 0.5), 1, lift.size() - 2);
    const double s = t - static_cast<double>(j);  // a parabola through three: the steps are fine
    return lift[j] + s * (lift[j + 1] - lift[j - 1]) / 2 + s * s * (lift[j + 1] - 2 * lift[j] + lift[j - 1]) / 2;
  }
  /// Where the lift is `height`.
  double place(double height) const {
    double low = 0, high = 1;
    for (int i = 0; i < 60; ++i) {
      const double middle = (low + high) / 2;
      (at(middle) > height ? low : high) = middle;
    }
    return low;
  }
  bool falls() const { return std::is_sorted(lift.rbegin(), lift.rend()) && lift.back() > -1e-9; }
  /// As LobeCurves says that lobes are: no sharper than 5 on the nose, 14 on the flank, and above an eighth of the lift
  /// the acceleration changes its sign once.
  bool plausible() const {
    constexpr std::size_t kApart = 4;
    const double half = place(0.125), step = static_cast<double>(kApart) / static_cast<double>(lift.size() - 1);
    bool beyond_nose = false;
    for (std::size_t i = kApart; i + kApart < lift.size(); ++i) {
      const double sharp = (lift[i + kApart] - 2 * lift[i] + lift[i - kApart]) / (step * step) * half * half;
      if (sharp > 14 || -sharp > 5) return false;
      beyond_nose |= sharp > 0.05;
      if (beyond_nose && sharp < -0.05 && lift[i] > 0.125) return false;
    }
    return true;
  }
};

inline constexpr int kSteps = 500;

/// A ramp of its own under a main lift from 1 to 0 over 0 ... `main`: the ramp's lift falls from `height` to 0 over
/// the whole way, by half a 3-4-5 motion, so that it is straight where the main lift ends.
inline Flank over_ramp(std::string family, double main, double height, const std::function<double(double)>& rise) {
  Flank flank{std::move(family), {}};
  for (int i = 0; i <= kSteps; ++i) {
    const double x = static_cast<double>(i) / kSteps;
    const double on_ramp = std::min(1.0, (1 - x) / (2 * (1 - main)));
    flank.lift.push_back(height * motion::cam_law(CamLaw::poly345, on_ramp).value +
                         (1 - height) * rise(std::min(1.0, x / main)));
  }
  return flank;
}

/// Twice integrated from an acceleration whose negative and positive parts are scaled so that lift and velocity end at
/// `height` and -`speed`, then a straight ramp that is drawn in over its last third.
inline std::optional<Flank> integrated(std::string family, double height, double speed,
                                       const std::function<double(double)>& acceleration) {
  constexpr int n = 800;
  constexpr double h = 1.0 / n;
  double va = 0, ya = 0, vb = 0, yb = 0;
  std::array<double, n + 1> down{}, up{};
  for (int i = 0; i <= n; ++i) {
    down[i] = ya;
    up[i] = yb;
    const double a = acceleration((i + 0.5) / n);
    ya += h * va + h * h / 2 * std::min(a, 0.0);
    va += h * std::min(a, 0.0);
    yb += h * vb + h * h / 2 * std::max(a, 0.0);
    vb += h * std::max(a, 0.0);
  }
  // One step too far, taken back.
  va -= h * std::min(acceleration(1 + 0.5 / n), 0.0);
  vb -= h * std::max(acceleration(1 + 0.5 / n), 0.0);
  const double det = down[n] * vb - up[n] * va;
  const double p = ((height - 1) * vb + up[n] * speed) / det, q = (-down[n] * speed - (height - 1) * va) / det;
  if (!(p > 0 && q > 0)) return std::nullopt;
  const double straight = 2.0 / 3 * height / speed, rest = 2 * height / 3 / speed, whole = 1 + straight + rest;
  Flank flank{std::move(family), {}};
  for (int i = 0; i <= kSteps; ++i) {
    const double x = whole * i / kSteps;
    if (x < 1) {
      const double t = x * n;
      const int k = std::min(n - 1, static_cast<int>(t));
      const double s = t - k;
      flank.lift.push_back(1 + p * (down[k] + s * (down[k + 1] - down[k])) + q * (up[k] + s * (up[k + 1] - up[k])));
    } else if (x < 1 + straight) {
      flank.lift.push_back(height - speed * (x - 1));
    } else {
      const double left = (whole - x) / rest;
      flank.lift.push_back(height / 3 * left * left);
    }
  }
  return flank;
}

/// A family: a flank for every point of the unit cube.
struct Family {
  std::string name;
  std::size_t numbers;
  std::function<std::optional<Flank>(const std::vector<double>&)> make;
};

inline double between(double low, double high, double u) {
  return low + (high - low) * u;
}

/// A handbook law over a ramp.
inline Family law(CamLaw which) {
  return {motion::to_string(which), 2, [which](const std::vector<double>& u) -> std::optional<Flank> {
            return over_ramp(motion::to_string(which), 1 - between(0.07, 0.25, u[0]), between(0.008, 0.04, u[1]),
                             [which](double x) { return motion::cam_law(which, 1 - x).value; });
          }};
}

/// Base circle, flank and nose of circles, under a flat follower, over a ramp. Lift = (flank - base)(1 - cos) from
/// where the flank begins; distance of the nose's centre * cos + nose - base over the nose (closed form).
inline Family three_arcs() {
  return {"three arcs", 5, [](const std::vector<double>& u) -> std::optional<Flank> {
            const double half = between(55, 75, u[0]) * kDegree, lift = between(0.30, 0.55, u[1]);
            const double nose = between(0.15, 0.6, u[2]), base = 1, apart = base + lift - nose;
            // The flank touches the base circle at angle `half` from the nose, and holds the nose's circle.
            const double flank = (base * base - nose * nose + apart * apart - 2 * base * apart * std::cos(half)) /
                                 (2 * (base - nose - apart * std::cos(half)));
            const double sine = apart * std::sin(half) / (flank - nose);
            if (!(flank > base && sine < 1)) return std::nullopt;
            const double turn = std::asin(sine);
            return over_ramp("three arcs", 1 - between(0.07, 0.25, u[3]), between(0.008, 0.04, u[4]), [=](double x) {
              const double left = half * (1 - x);
              const double at =
                  left < turn ? (flank - base) * (1 - std::cos(left)) : apart * std::cos(half * x) + nose - base;
              return at / lift;
            });
          }};
}

/// Straight-sided pulses: the nose's acceleration falls to a level, then the flank's trapezoid.
inline Family trapezoids() {
  return {"trapezoids", 8, [](const std::vector<double>& u) {
            const double nose = between(0.3, 0.72, u[0]), cross = nose + between(0.05, 0.2, u[1]);
            const double top = cross + between(0.04, 0.2, u[2]), plateau = top + between(0, 0.2, u[3]);
            const double tip = between(0.5, 1.15, u[4]), end = plateau + between(0.05, 0.2, u[5]);
            return integrated("trapezoids", between(0.008, 0.04, u[6]), between(0.05, 0.15, u[7]), [=](double x) {
              x *= end;
              if (x < nose) return -(tip + (1 - tip) * x / nose);
              if (x < cross) return -(cross - x) / (cross - nose);
              if (x < top) return (x - cross) / (top - cross);
              if (x < plateau) return 1.0;
              return std::max(0.0, (end - x) / (end - plateau));
            });
          }};
}

/// 1 + c2 x^2 + cp x^p + cq x^q + cr x^r, powers not whole, over a ramp.
inline Family polynomial() {
  return {"polynomial", 5, [](const std::vector<double>& u) -> std::optional<Flank> {
            std::array<double, 4> p{2, between(3.5, 14, u[0]), 0, 0}, c{};
            p[2] = p[1] + between(1, 9, u[1]);
            p[3] = p[2] + between(1, 13, u[2]);
            for (std::size_t i = 0; i < 4; ++i) {
              c[i] = -1;
              for (std::size_t j = 0; j < 4; ++j)
                if (j != i) c[i] *= p[j] / (p[j] - p[i]);
            }
            return over_ramp("polynomial", 1 - between(0.07, 0.25, u[3]), between(0.008, 0.04, u[4]), [=](double x) {
              if (x <= 0) return 1.0;
              double sum = 1 + c[0] * x * x;
              const double log = std::log(x);  // std::pow of each would take it anew
              for (std::size_t i = 1; i < 4; ++i) sum += c[i] * std::exp(p[i] * log);
              return sum;
            });
          }};
}

/// Bell-shaped flank pulse, the nose like a root of a cosine.
inline Family bell() {
  return {"bell", 6, [](const std::vector<double>& u) {
            const double cross = between(0.5, 0.85, u[0]), skew = std::log(0.5) / std::log(between(0.35, 0.65, u[1]));
            const double sharp = between(1, 2.5, u[2]), round = between(0.25, 0.65, u[3]);
            return integrated("bell", between(0.008, 0.04, u[4]), between(0.05, 0.15, u[5]), [=](double x) {
              if (x < cross) return -std::pow(std::cos(kPi / 2 * x / cross), round);
              const double t = std::min(1.0, (x - cross) / (1 - cross));
              return std::pow(std::max(0.0, std::sin(kPi * std::pow(t, skew))), sharp);
            });
          }};
}

/// Part of one and part of another, as long as each other or nearly: as lobes are blended.
inline Family blend(const Family& a, const Family& b) {
  return {a.name + " and " + b.name, a.numbers + b.numbers + 2,
          [a, b](const std::vector<double>& u) -> std::optional<Flank> {
            const auto split = u.begin() + static_cast<long>(a.numbers), rest = u.end() - 2;
            const auto one = a.make({u.begin(), split}), other = b.make({split, rest});
            if (!one || !other) return std::nullopt;
            const double part = between(0.1, 0.9, rest[0]), longer = between(0.9, 1.1, rest[1]);
            const double whole = std::max(1.0, longer);
            Flank flank{one->family + " and " + other->family, {}};
            for (int i = 0; i <= kSteps; ++i) {
              const double x = whole * i / kSteps;
              flank.lift.push_back(part * one->at(x) + (1 - part) * other->at(x / longer));
            }
            return flank;
          }};
}

/// Of two families: with enough freedom to fit cards of five durations.
inline const std::vector<Family>& blends() {
  static const std::vector<Family> all = {
      blend(trapezoids(), bell()),       blend(trapezoids(), polynomial()),         blend(bell(), three_arcs()),
      blend(polynomial(), three_arcs()), blend(trapezoids(), law(CamLaw::poly345)), blend(bell(), polynomial())};
  return all;
}

inline const std::vector<Family>& families() {
  static const std::vector<Family> all = {three_arcs(),
                                          trapezoids(),
                                          polynomial(),
                                          bell(),
                                          law(CamLaw::harmonic),
                                          law(CamLaw::cycloidal),
                                          law(CamLaw::poly345),
                                          law(CamLaw::poly4567),
                                          law(CamLaw::modified_sine),
                                          law(CamLaw::modified_trapezoid)};
  return all;
}

/// A flank, and what it was made of.
struct Drawn {
  Flank flank;
  const Family& family;
  std::vector<double> numbers;
};

class Lobes {
 public:
  explicit Lobes(unsigned seed) : random_(seed) {}
  double unit() { return std::uniform_real_distribution<double>(0, 1)(random_); }
  std::vector<double> cube(std::size_t numbers) {
    std::vector<double> u(numbers);
    for (double& each : u) each = unit();
    return u;
  }
  /// Of one law; the six of the handbooks together count like one family.
  const Family& family() {
    const auto which = static_cast<std::size_t>(5 * unit());
    return families()[which < 4 ? which : 4 + static_cast<std::size_t>(6 * unit())];
  }
  const Family& blended() { return blends()[static_cast<std::size_t>(6 * unit())]; }
  Drawn draw(bool blend) {
    for (;;) {
      const Family& of = blend ? blended() : family();
      std::vector<double> numbers = cube(of.numbers);
      auto flank = of.make(numbers);
      if (flank && flank->falls() && flank->plausible()) return {*std::move(flank), of, std::move(numbers)};
    }
  }
  Flank next(bool blend = false) { return draw(blend).flank; }

 private:
  std::mt19937 random_;
};

/// A checking lift as a part of the greatest, and where it is reached, from the nose in any unit of angle.
struct CardPoint {
  double height, angle;
};

/// A lobe of the family that passes through all points, reached from a random one by Newton's steps of least length;
/// nothing where that leads nowhere. Its angles in the card's unit: x = angle / length.
struct Fitted {
  Flank flank;
  double length;
  std::vector<double> numbers;  ///< of the unit cube
  double at(double angle) const { return flank.at(angle / length); }
};
inline std::optional<Fitted> fitted(const Family& family, std::vector<double> u, const std::vector<CardPoint>& card) {
  const auto start = family.make(u);
  if (!start) return std::nullopt;
  const auto n = static_cast<Eigen::Index>(card.size()), k = static_cast<Eigen::Index>(u.size());
  double length = card.front().angle / start->place(card.front().height);
  const auto miss = [&](const std::vector<double>& at, double drawn) -> std::optional<Eigen::VectorXd> {
    const auto flank = family.make(at);
    if (!flank) return std::nullopt;
    Eigen::VectorXd r(n);
    for (Eigen::Index i = 0; i < n; ++i)
      r(i) = flank->at(card[static_cast<std::size_t>(i)].angle / drawn) - card[static_cast<std::size_t>(i)].height;
    return r;
  };
  for (int step = 0; step < 14; ++step) {
    const auto r = miss(u, length);
    if (!r) return std::nullopt;
    if (r->cwiseAbs().maxCoeff() < 1e-5) {
      const auto flank = family.make(u);
      if (!flank->falls() || !flank->plausible()) return std::nullopt;
      return Fitted{*flank, length, u};
    }
    constexpr double kSmall = 1e-3;
    Eigen::MatrixXd slope(n, k + 1);
    for (Eigen::Index j = 0; j < k; ++j) {
      std::vector<double> beside = u;
      double& moved = beside[static_cast<std::size_t>(j)];
      const double way = moved > 0.5 ? -kSmall : kSmall;
      moved += way;
      const auto there = miss(beside, length);
      if (!there) return std::nullopt;
      slope.col(j) = (*there - *r) / way;
    }
    slope.col(k) = (*miss(u, length * (1 + kSmall)) - *r) / kSmall;
    const Eigen::MatrixXd square = slope * slope.transpose() + 1e-9 * Eigen::MatrixXd::Identity(n, n);
    const Eigen::VectorXd move = -slope.transpose() * square.ldlt().solve(*r);
    for (Eigen::Index j = 0; j < k; ++j) {
      double& each = u[static_cast<std::size_t>(j)];
      each = std::clamp(each + std::clamp(move(j), -0.3, 0.3), 0.0, 1.0);
    }
    length *= 1 + std::clamp(move(k), -0.1, 0.1);
  }
  return std::nullopt;
}

}  // namespace eyebrow::made
