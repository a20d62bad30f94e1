// The verdict in words.
#pragma once
#include <string>

#include "eyebrow/report.hpp"
#include "words.hpp"

namespace eyebrow {

/// The verdict, the asked gaps that do not hold, the conditions it stands under, and the caution.
std::string verdict_text(const CheckResult& result, const Format& format);

/// The verdict in one line, for the head of a report: it stands with its conditions further down.
std::string headline(const CheckResult& result);

/// "parts cold; valve train rigid; ...": the state that the engine is looked at in, without a full stop.
std::string state_text(const Conditions& given, const Lengths& lengths);

/// The same, and how the cycle was sampled: what a verdict stands under.
std::string conditions_text(const Conditions& given, const Lengths& lengths);

/// What stands under every number that could be read as permission to run.
inline constexpr const char* kCaution =
    "Caution: an aid. The makers' limits rule; confirm on the assembled engine, turned by hand.";

}  // namespace eyebrow
