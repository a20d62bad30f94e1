// The checks of an engine file: one, or one for each cylinder that was measured.
#pragma once
#include "eyebrow/check.hpp"
#include "messages.hpp"
#include "options.hpp"

namespace eyebrow::cli {

/// `each` holds a result for each measured cylinder; without any, one by the file's own numbers, whose
/// Conditions::cylinder is empty. Warnings are told and kept in the worst result: those of the file, and those of every
/// cylinder. What is wrong in some cylinders only names each. Throws InputError with the faults of all cylinders.
CylindersResult check_engines(const EngineFile& file, const CheckArguments& arguments, Warnings& warnings);

}  // namespace eyebrow::cli
