// A check result made by hand, in whole thousandths of an inch where its numbers are to be read back.
#pragma once
#include "eyebrow/check.hpp"
#include "eyebrow/report.hpp"

namespace eyebrow::testing {

inline constexpr Format kMm{LengthUnit::mm, -1}, kInches{LengthUnit::inch, -1};

/// One intake, one exhaust whose radial gap is not in reach; everything asked holds.
CheckResult sample_result();

/// The row `what` of `valve`.
AskedRow& asked_row(CheckResult& result, const std::string& what, const std::string& valve);

/// Sets what was found of a gap of the intake, in result and row alike.
void set_found(CheckResult& result, GapKind kind, double found);

/// The same with its intake in contact: it would have to come out by 12 thousandths.
CheckResult sample_contact();

}  // namespace eyebrow::testing
