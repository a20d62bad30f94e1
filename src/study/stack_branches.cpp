#include "study/stack_branches.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

std::size_t terms(std::size_t drivers) {
  return 1 + drivers + drivers * (drivers + 1) / 2;
}

/// Calls use(term, value of the term) for each term.
template <class Use>
void each_term(const std::vector<std::size_t>& drivers, const double* point, const Use& use) {
  std::size_t term = 0;
  use(term++, 1.0);
  for (std::size_t i = 0; i < drivers.size(); ++i) {
    use(term++, point[drivers[i]]);
    for (std::size_t k = i; k < drivers.size(); ++k) use(term++, point[drivers[i]] * point[drivers[k]]);
  }
}

/// Least squares, drawn a little to nothing so that few points settle many terms.
Vector fitted_to(const Matrix& rows, const Vector& values, const std::vector<bool>& taken) {
  const auto count = rows.cols();
  Matrix square = Matrix::Zero(count, count);
  Vector right = Vector::Zero(count);
  for (Eigen::Index i = 0; i < rows.rows(); ++i) {
    if (!taken[static_cast<std::size_t>(i)]) continue;
    square += rows.row(i).transpose() * rows.row(i);
    right += values(i) * rows.row(i).transpose();
  }
  for (Eigen::Index i = 0; i < count; ++i) square(i, i) += kStackRidge;
  return square.ldlt().solve(right);
}

}  // namespace

StackBranches StackBranches::of(const std::vector<StackPoint>& points, const std::vector<double>& gaps,
                                const std::vector<std::size_t>& drivers, std::uint64_t seed) {
  StackBranches best;
  const std::size_t count = points.size(), width = terms(drivers.size());
  if (drivers.empty() || count < 3 * width / 2) return best;
  Matrix rows(count, width);
  Vector values(count);
  for (std::size_t i = 0; i < count; ++i) {
    each_term(drivers, points[i].data(), [&](std::size_t term, double value) {
      rows(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(term)) = value;
    });
    values(static_cast<Eigen::Index>(i)) = gaps[i];
  }
  const double middle = values.mean();
  values.array() -= middle;

  double least = INFINITY;
  for (std::uint64_t guess = 0; guess < kStackGuesses; ++guess) {
    // First by a plane through the stated numbers, its direction drawn.
    const StackPoint direction = anywhere(drivers.size(), seed, StackStream::guesses, guess);
    std::vector<bool> first(count), second(count);
    for (std::size_t i = 0; i < count; ++i) {
      double side = 0;
      for (std::size_t k = 0; k < drivers.size(); ++k) side += direction[k] * points[i][drivers[k]];
      first[i] = side >= 0;
      second[i] = side <= 0;
    }
    for (int turn = 0; turn < kStackTurns; ++turn) {
      const Vector one = fitted_to(rows, values, first), other = fitted_to(rows, values, second);
      const Vector at_one = rows * one, at_other = rows * other;
      const double off = (at_one.cwiseMin(at_other) - values).squaredNorm();
      if (off < least * (1 - 1e-9)) {
        least = off;
        best.drivers_ = drivers;
        best.branches_ = {{one.begin(), one.end()}, {other.begin(), other.end()}};
        for (std::vector<double>& branch : best.branches_) branch.front() += middle;
      }
      bool moved = false;
      for (std::size_t i = 0; i < count; ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        const bool on_first = at_one(k) <= at_other(k);
        moved = moved || first[i] != on_first || second[i] == on_first;
        first[i] = on_first;
        second[i] = !on_first;
      }
      if (!moved) break;
    }
  }
  return best;
}

double StackBranches::at(const double* point) const {
  double least = INFINITY;
  for (const std::vector<double>& branch : branches_) {
    double value = 0;
    each_term(drivers_, point, [&](std::size_t term, double of) { value += branch[term] * of; });
    least = std::fmin(least, value);
  }
  return least;
}

}  // namespace eyebrow::study
