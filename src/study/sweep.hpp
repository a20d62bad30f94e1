// The printed series: every gap of every valve at the sampled crank angles.
#pragma once
#include <vector>

#include "study/setup.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

/// One valve's samples; the drop table is left empty.
std::vector<Series> sweep(const Setup& setup, const std::vector<double>& cranks, Pacer& pacer);

}  // namespace eyebrow::study
