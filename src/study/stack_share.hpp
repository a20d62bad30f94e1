// How sure a share is that was counted.
#pragma once
#include <cstddef>
#include <utility>

namespace eyebrow::study {

/// The 95 % interval of a share of which `least` ... `most` of `count` were counted: Clopper and Pearson (Biometrika
/// 26, 1934; from memory), by Boost.Math, the lower end by the least and the upper by the most.
std::pair<double, double> share_interval(std::size_t least, std::size_t most, std::size_t count);

}  // namespace eyebrow::study
