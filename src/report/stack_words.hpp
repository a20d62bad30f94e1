// What the reports of a stack share.
#pragma once
#include <string>

#include "eyebrow/stack.hpp"

namespace eyebrow {

/// How the number of tolerance `i` is told.
StackNumber stack_number(const StackResult& stack, std::size_t i);

/// "3.1 %", "0.0021 %": two figures.
std::string share_text(double share);

/// "0.13 % (0.11-0.15)", "none (below 0.0037 %)".
std::string below_text(const StackGap& gap);

/// How far a surface is off, rounded up: "2.5 um", "0.00010 in".
std::string off_text(double mm, LengthUnit unit);

/// Does some tolerance move the gap?
bool moves(const StackGap& gap);

}  // namespace eyebrow
