// What single numbers of the file do to the least gaps.
#pragma once
#include <string>

#include "eyebrow/report.hpp"
#include "options.hpp"

namespace eyebrow::cli {

/// What the reading errors in the file leave open, and with --explain the influence of every number; empty where
/// neither is wanted, or nothing is printed.
std::string effects_told(const EngineText& source, const EngineFile& file, const CheckArguments& arguments,
                         const Format& format);

}  // namespace eyebrow::cli
