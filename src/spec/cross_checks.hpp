// What must agree between the tables of an engine file. Numbers that are faulty by themselves are NaN and pass.
#pragma once
#include "eyebrow/engine.hpp"
#include "spec/context.hpp"

namespace eyebrow {

void check_between_tables(Context& context, const Engine& engine);

}  // namespace eyebrow
