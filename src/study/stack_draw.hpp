// What tolerances are drawn from: drivers, their places, and numbers that come out the same on any number of threads.
#pragma once
#include <cstdint>
#include <vector>

#include "eyebrow/stack.hpp"

namespace eyebrow::study {

/// A place within the tolerances, one number a driver: 0 = as the file states, -1 and 1 = its ends (of a normal one
/// without an end 3 deviations; samples go beyond).
using StackPoint = std::vector<double>;

/// How far from the stated number the share `q` (0 ... 1, ends excluded) of all made ones lies at most.
double quantile(const Tolerance& of, double q);
/// The other way round.
double share_up_to(const Tolerance& of, double by);

class StackDrivers {
 public:
  explicit StackDrivers(const std::vector<Tolerance>& tolerances);
  std::size_t size() const { return drivers_.size(); }
  const std::vector<StackDriver>& all() const;
  /// The driver's place at the share `q`.
  double place(std::size_t driver, double q) const;
  /// How far each tolerance's number moves.
  std::vector<double> by(const StackPoint& point) const;

 private:
  struct Lead {
    std::size_t member;  ///< its place is the driver's
    bool alike;          ///< all have its shape, so that they go the same share of their own ends
  };
  std::vector<Tolerance> tolerances_;
  std::vector<StackDriver> drivers_;
  std::vector<Lead> leads_;
};

/// Independent numbers are drawn from streams of their own.
enum class StackStream : std::uint64_t { samples, others, checks, exact, starts, guesses };

/// Sample `number` of a stream; `point` has one place a driver.
void draw(const StackDrivers& drivers, std::uint64_t seed, StackStream stream, std::uint64_t number, StackPoint& point);
/// The same, every place within the tolerances as likely.
StackPoint anywhere(std::size_t drivers, std::uint64_t seed, StackStream stream, std::uint64_t number);

}  // namespace eyebrow::study
