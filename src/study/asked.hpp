// What was found beside what was asked, and the verdict.
#pragma once
#include "eyebrow/check.hpp"

namespace eyebrow::study {

/// The least gap that is judged: where the lobe's card leaves it open, what it may be at the least.
double judged(const ValveResult& valve, GapKind kind);

/// Each valve's travel, face, radial and closest; each pair; each valve to the bore; the head.
std::vector<AskedRow> asked_rows(const Engine& engine, const CheckResult& result);

/// Contact when parts touch (radial apart: it looks ahead), short when a row does not hold, else holds.
Verdict verdict_of(const CheckResult& result);

}  // namespace eyebrow::study
