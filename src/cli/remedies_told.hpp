// What would restore the short gaps of a check.
#pragma once
#include "eyebrow/remedies.hpp"
#include "eyebrow/spec.hpp"
#include "options.hpp"

namespace eyebrow::cli {

/// By the file's own numbers and the overrides; none where its cylinders were measured one by one.
std::vector<GapRemedies> find_remedies(const EngineText& source, const EngineFile& file,
                                       const CheckArguments& arguments);

}  // namespace eyebrow::cli
