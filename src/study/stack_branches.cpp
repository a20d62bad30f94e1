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

/// Least squares over the points of one branch, drawn a little to nothing so that few points settle many terms.
Vector fitted_to(const Matrix& rows, const Vector& values, const std::vector<std::size_t>& branch_of,
                 std::size_t branch) {
  const auto count = rows.cols();
  Matrix square = Matrix::Zero(count, count);
  Vector right = Vector::Zero(count);
  for (std::size_t i = 0; i < branch_of.size(); ++i) {
    if (branch_of[i] != branch) continue;
    const auto row = rows.row(static_cast<Eigen::Index>(i));
    square += row.transpose() * row;
    right += values(static_cast<Eigen::Index>(i)) * row.transpose();
  }
  for (Eigen::Index i = 0; i < count; ++i) square(i, i) += kStackRidge;
  return square.ldlt().solve(right);
}

/// Which of some places, drawn at random, each point is nearest to.
std::vector<std::size_t> first_guess(const std::vector<StackPoint>& points, const std::vector<std::size_t>& drivers,
                                     std::size_t branches, std::uint64_t seed, std::uint64_t guess) {
  std::vector<std::size_t> branch_of;
  for (const StackPoint& point : points) {
    double nearest = INFINITY;
    std::size_t branch = 0;
    for (std::size_t k = 0; k < branches; ++k) {
      const StackPoint place = anywhere(drivers.size(), seed, StackStream::guesses, guess * branches + k);
      double distance = 0;
      for (std::size_t i = 0; i < drivers.size(); ++i)
        distance += (place[i] - point[drivers[i]]) * (place[i] - point[drivers[i]]);
      if (distance < nearest) {
        nearest = distance;
        branch = k;
      }
    }
    branch_of.push_back(branch);
  }
  return branch_of;
}

}  // namespace

StackBranches StackBranches::of(const std::vector<StackPoint>& points, const std::vector<double>& gaps,
                                const std::vector<std::size_t>& drivers, std::size_t branches, std::uint64_t seed,
                                const std::function<void()>& poll) {
  StackBranches best;
  const std::size_t count = points.size(), width = terms(drivers.size());
  if (drivers.empty() || count < std::max(branches * width, 3 * width / 2)) return best;
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
  for (std::uint64_t guess = 0; guess < (branches > 1 ? kStackGuesses : 1); ++guess) {
    std::vector<std::size_t> branch_of = first_guess(points, drivers, branches, seed, guess);
    for (int turn = 0; turn < kStackTurns; ++turn) {
      poll();
      Vector lowest = Vector::Constant(rows.rows(), INFINITY);
      std::vector<std::size_t> on(count, 0);
      std::vector<std::vector<double>> fitted;
      for (std::size_t branch = 0; branch < branches; ++branch) {
        const Vector terms_of = fitted_to(rows, values, branch_of, branch);
        const Vector there = rows * terms_of;
        fitted.emplace_back(terms_of.begin(), terms_of.end());
        for (std::size_t i = 0; i < count; ++i)
          if (const auto k = static_cast<Eigen::Index>(i); there(k) < lowest(k)) {
            lowest(k) = there(k);
            on[i] = branch;
          }
      }
      if (const double off = (lowest - values).squaredNorm(); off < least * (1 - 1e-9)) {
        least = off;
        best.drivers_ = drivers;
        best.branches_ = fitted;
        for (std::vector<double>& each : best.branches_) each.front() += middle;
      }
      if (on == branch_of) break;
      branch_of = on;
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
