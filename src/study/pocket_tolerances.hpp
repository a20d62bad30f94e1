// Pockets that leave every asked gap within the tolerances: sized, stacked, sized again with what the tolerances were
// seen to take kept in hand, until a stack of the sized engine shows that it is enough.
#pragma once
#include <functional>

#include "study/pocket_sizer.hpp"

namespace eyebrow::study {

/// Share of all work that ends with it.
inline constexpr double kWithinDone = 0.95;

/// The options of one stretch of all work.
using PartOfWork = std::function<CheckOptions(double from, double to)>;

/// `engine`: as it is given, which the sizer was made of.
PocketsWithin size_within(const Engine& engine, const PocketTolerances& within, PocketSizer& sizer,
                          const PartOfWork& part_of_work);

}  // namespace eyebrow::study
