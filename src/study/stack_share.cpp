#include "study/stack_share.hpp"

#include <boost/math/distributions/binomial.hpp>

namespace eyebrow::study {

std::pair<double, double> share_interval(std::size_t least, std::size_t most, std::size_t count) {
  if (count == 0) return {0, 1};
  using Binomial = boost::math::binomial_distribution<>;
  constexpr double kEachSide = 0.025;
  const auto real = [](std::size_t number) { return static_cast<double>(number); };
  return {Binomial::find_lower_bound_on_p(real(count), real(least), kEachSide),
          Binomial::find_upper_bound_on_p(real(count), real(most), kEachSide)};
}

}  // namespace eyebrow::study
