// [tolerance] of an engine file, for the verbs that move its numbers within it.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/reading.hpp"
#include "eyebrow/stack.hpp"

namespace eyebrow::cli {

/// Throws InputError where no tolerance is above 0. `what` needs them: "a stack".
void require_tolerances(const EngineFile& file, const std::string& what);

/// The engine of the file with its toleranced numbers moved. The arguments have to outlive it.
EngineBy engine_by_tolerances(const EngineText& text, const EngineFile& file, const std::vector<Override>& given);

}  // namespace eyebrow::cli
