// What remedies are called, in the text and in the window.
#pragma once
#include <string>

#include "eyebrow/check.hpp"
#include "words.hpp"

namespace eyebrow {

/// "widens the pocket", "retards the cam".
const char* remedy_deed(const RemedyInput& input, bool more);

/// "1.9804 in", with the digits of its step.
std::string remedy_number(const RemedyInput& input, double value);

/// "takes intake.travel -0.006; gives intake.closest +0.028": what else it changes.
std::string remedy_others(const Remedy& remedy, const Lengths& lengths);

/// Does every gap hold then?
bool restores_all(const Remedy& remedy);

/// "pocket.intake.depth (to 0.3448 in)": how far one that does not restore the gap was looked at.
std::string remedy_tried(const Remedy& remedy);

/// Stands under every remedy that cuts a pocket.
inline constexpr const char* kThinsCrown =
    "A pocket cut deeper, wider or elsewhere thins the crown: a check with the change made tells what that leaves, "
    "where ring groove and underside are in the file. The maker's limit rules.";

}  // namespace eyebrow
