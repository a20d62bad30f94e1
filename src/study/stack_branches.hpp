// A gap that is the least of several smooth ones: a rim that may touch on its one side or its other bends sharply where
// the two are equal, along a line that no single driver runs along.
#pragma once
#include <cstdint>
#include <functional>
#include <vector>

#include "study/stack_draw.hpp"

namespace eyebrow::study {

class StackBranches {
 public:
  /// The least of so many quadratic functions of the drivers that matter, fitted by least squares; which point is on
  /// which of them is found by turns, from many first guesses (as Magnani and Boyd fit convex functions, Optimization
  /// and Engineering 10, 2009; from memory). Empty where there are too few points.
  /// `poll` is called now and then; what it throws passes through.
  static StackBranches of(const std::vector<StackPoint>& points, const std::vector<double>& gaps,
                          const std::vector<std::size_t>& drivers, std::size_t branches, std::uint64_t seed,
                          const std::function<void()>& poll);
  bool empty() const { return branches_.empty(); }
  double at(const double* point) const;

 private:
  std::vector<std::size_t> drivers_;
  std::vector<std::vector<double>> branches_;  ///< coefficients: 1, places, products of two
};

}  // namespace eyebrow::study
