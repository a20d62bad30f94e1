#include "motion/fitting_lobes.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "motion/known_lobes.hpp"
#include "motion/tolerances.hpp"

namespace eyebrow::motion {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

/// The point that the flanks are drawn out to: that whose lift is nearest to where their lengths are compared.
std::size_t reference(double lift, const std::vector<LiftPoint>& points) {
  const auto off = [&](const LiftPoint& point) { return std::fabs(std::log(point.lift / (kNormLift * lift))); };
  const auto nearest = std::min_element(points.begin(), points.end(),
                                        [&](const LiftPoint& a, const LiftPoint& b) { return off(a) < off(b); });
  return static_cast<std::size_t>(nearest - points.begin());
}

/// Even steps, the card's points, and an angle close by on either side of each: there the band opens like a V.
std::vector<double> angles(const std::vector<LiftPoint>& points, double norm) {
  const double step = kBandReach * norm / kBandAngles;
  const auto near_card = [&](double angle) {
    return std::any_of(points.begin(), points.end(),
                       [&](const LiftPoint& point) { return std::fabs(point.angle - angle) < 2 * kBesideCard; });
  };
  std::vector<double> at{0};
  for (int i = 1; i <= kBandAngles; ++i)
    if (!near_card(step * i)) at.push_back(step * i);
  for (const LiftPoint& point : points)
    for (int side = -1; side <= 1; ++side)
      if (point.angle + side * kBesideCard > 0) at.push_back(point.angle + side * kBesideCard);
  std::sort(at.begin(), at.end());
  at.erase(std::unique(at.begin(), at.end()), at.end());
  return at;
}

struct Member {
  const KnownFlank* flank;
  double length;  ///< crank radians from the nose to the base circle
  double lift(double angle) const { return flank->lift(angle / length); }
};

/// All that pass through the reference point; of these the nearest to the others, if there are any.
std::vector<Member> nearest_members(double lift, const std::vector<LiftPoint>& points, std::size_t norm) {
  std::vector<Member> members;
  for (const KnownFlank& flank : known_flanks())
    members.push_back({&flank, points[norm].angle / flank.place(points[norm].lift / lift)});
  if (points.size() == 1) return members;

  const auto count = static_cast<Eigen::Index>(members.size()), width = static_cast<Eigen::Index>(points.size());
  Matrix miss(count, width);
  for (Eigen::Index k = 0; k < count; ++k)
    for (Eigen::Index i = 0; i < width; ++i)
      miss(k, i) = members[static_cast<std::size_t>(k)].lift(points[static_cast<std::size_t>(i)].angle) -
                   points[static_cast<std::size_t>(i)].lift / lift;
  Vector distance = Vector::Zero(count);
  for (Eigen::Index i = 0; i < width; ++i) {
    if (i == static_cast<Eigen::Index>(norm)) continue;
    const double spread = (miss.col(i).array() - miss.col(i).mean()).square().mean();
    distance.array() += miss.col(i).array().square() / (spread + kNoSpread);
  }
  std::vector<std::size_t> order(members.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return distance(static_cast<Eigen::Index>(a)) < distance(static_cast<Eigen::Index>(b));
  });
  order.resize(kNearestFlanks);
  std::sort(order.begin(), order.end());
  std::vector<Member> nearest;
  for (std::size_t k : order) nearest.push_back(members[k]);
  return nearest;
}

/// Lifts over the greatest lift: a row a member, a column an angle.
Matrix lifts(const std::vector<Member>& members, const std::vector<double>& at) {
  Matrix values(static_cast<Eigen::Index>(members.size()), static_cast<Eigen::Index>(at.size()));
  for (Eigen::Index k = 0; k < values.rows(); ++k)
    for (Eigen::Index j = 0; j < values.cols(); ++j)
      values(k, j) = members[static_cast<std::size_t>(k)].lift(at[static_cast<std::size_t>(j)]);
  return values;
}

Matrix about_mean(const Matrix& values) {
  return values.rowwise() - values.colwise().mean();
}

/// Falls all the way to the last of the card's points, and is no sharper than a known flank may be.
bool could_be(const Matrix& values, Eigen::Index k, const std::vector<double>& at, double half, double last) {
  for (std::size_t j = 1; j + 1 < at.size() && at[j] <= last; ++j) {
    const auto i = static_cast<Eigen::Index>(j);
    if (values(k, i) > values(k, i - 1) + kNoSpread) return false;
    const double before = (values(k, i) - values(k, i - 1)) / (at[j] - at[j - 1]);
    const double after = (values(k, i + 1) - values(k, i)) / (at[j + 1] - at[j]);
    // A sum may be twice as sharp between two angles: what is left out are wiggles.
    const double sharp = 2 * (after - before) / (at[j + 1] - at[j - 1]) * half * half;
    if (sharp > 2 * kSharpestFlank || -sharp > 2 * kSharpestNose) return false;
  }
  return true;
}

/// Beyond the card's points nothing holds a sum up: it falls as far as it falls, to zero.
void let_fall(Matrix& values, const std::vector<double>& at, double last) {
  for (std::size_t j = 1; j < at.size(); ++j) {
    if (at[j] <= last) continue;
    const auto i = static_cast<Eigen::Index>(j);
    values.col(i) = values.col(i).cwiseMin(values.col(i - 1)).cwiseMax(0.0);
  }
}

/// Least, middle and greatest at the angles `at` of the lobes through some of a card's points; no values where too few
/// fit.
FittingLobes through(double lift, const std::vector<LiftPoint>& points, const std::vector<double>& at) {
  const std::size_t norm = reference(lift, points);
  const std::vector<Member> members = nearest_members(lift, points, norm);
  std::vector<double> card_angles;
  Eigen::RowVectorXd card(static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) {
    card_angles.push_back(points[i].angle);
    card(static_cast<Eigen::Index>(i)) = points[i].lift / lift;
  }

  FittingLobes fit;
  fit.angle = at;
  Matrix values = lifts(members, at);
  const Matrix at_card = lifts(members, card_angles);
  const Matrix spread = about_mean(at_card);
  Matrix own = spread.transpose() * spread;
  own.diagonal().array() += kNoSpread * (own.trace() + kNoSpread);
  const Matrix gain = own.ldlt().solve(spread.transpose() * about_mean(values));
  values += (card.replicate(at_card.rows(), 1) - at_card) * gain;

  let_fall(values, at, points.back().angle);

  const double half = members.front().length * members.front().flank->place(kNormLift);
  std::vector<Eigen::Index> fitting;
  for (Eigen::Index k = 0; k < values.rows(); ++k)
    if (could_be(values, k, at, half, points.back().angle)) fitting.push_back(k);
  fit.count = static_cast<int>(fitting.size());
  if (fit.count < kFewestFitting) return fit;

  const bool on_ramp = points.size() > 1 && points.back().lift < kRampShare * lift;
  const double above =
      on_ramp ? kRampMargin : kBandMargins[std::min<std::size_t>(points.size(), std::size(kBandMargins)) - 1];
  for (Eigen::Index j = 0; j < values.cols(); ++j) {
    double least = 1, greatest = 0, sum = 0;
    for (Eigen::Index k : fitting) {
      least = std::min(least, values(k, j));
      greatest = std::max(greatest, values(k, j));
      sum += values(k, j);
    }
    const double middle = sum / fit.count;
    const double margin = at[static_cast<std::size_t>(j)] > points.back().angle ? kTailMargin * above : above;
    fit.middle.push_back(lift * middle);
    fit.least.push_back(lift * std::max(0.0, middle - margin * (middle - least)));
    fit.greatest.push_back(lift * std::min(1.0, middle + margin * (greatest - middle)));
  }
  return fit;
}

}  // namespace

FittingLobes lobes_that_fit(double lift, const std::vector<LiftPoint>& points) {
  const std::size_t norm = reference(lift, points);
  FittingLobes fit = through(lift, points, angles(points, points[norm].angle));
  if (fit.count < kFewestFitting) return fit;
  // By the reference point alone, and with each other one that is above the ramp.
  for (std::size_t other = 0; other < points.size() && points.size() > 1; ++other) {
    std::vector<LiftPoint> fewer{points[norm]};
    if (other != norm && points.size() == 2) continue;
    if (other != norm) fewer.insert(other < norm ? fewer.begin() : fewer.end(), points[other]);
    if (fewer.back().lift < kRampShare * lift) continue;
    const FittingLobes wider = through(lift, fewer, fit.angle);
    // Below their lowest lift fewer points say little, and not reliably.
    for (std::size_t j = 0; j < wider.least.size() && fit.angle[j] <= fewer.back().angle; ++j) {
      fit.least[j] = std::min(fit.middle[j], std::max(fit.least[j], wider.least[j]));
      fit.greatest[j] = std::max(fit.middle[j], std::min(fit.greatest[j], wider.greatest[j]));
    }
  }
  return fit;
}

}  // namespace eyebrow::motion
