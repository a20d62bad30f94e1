// How large one number is beside another: what no engine has is refused, what is unusual is doubted.
#pragma once
#include "eyebrow/engine.hpp"
#include "spec/context.hpp"

namespace eyebrow {

/// Numbers that are faulty by themselves are NaN and pass.
void check_proportions(Context& context, const Engine& engine);

}  // namespace eyebrow
