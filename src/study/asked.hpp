// What was found beside what was asked, and the verdict.
#pragma once
#include "eyebrow/check.hpp"

namespace eyebrow::study {

/// What is asked of one kind.
double asked_of(const AskedValve& asked, GapKind kind);

/// The least gap that is judged: where the lobe's card leaves it open, what it may be at the least.
double judged(const ValveResult& valve, GapKind kind);

/// Of the running engine: where something is asked or does not hold, or every row, so that one engine's rows stand
/// beside another's.
enum class RunningRows { told, all };

/// Each valve's travel, face, radial and closest; each pair; each valve to the bore; the head. Then the same of the
/// running engine, where the engine file states something of it.
std::vector<AskedRow> asked_rows(const Engine& engine, const CheckResult& result,
                                 RunningRows running = RunningRows::told);

/// Contact when parts touch (radial apart: it looks ahead), short when a row does not hold, else holds.
Verdict verdict_of(const CheckResult& result);

}  // namespace eyebrow::study
