// The nearest right word for a wrong one.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace eyebrow {

/// Edits (insert, drop, change, swap of neighbours) that turn one word into the other; case, '-', '_' and ' ' are the
/// same. Optimal string alignment distance (Damerau 1964, restricted).
int edit_distance(std::string_view a, std::string_view b);

/// The candidate nearest to `word` when it is near enough to be meant (a third of its letters, at least 2 edits), else
/// empty. Ties go to the first.
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

/// `: did you mean "bore"?`, or `: allowed are bore, stroke`, or nothing when there are no candidates.
std::string did_you_mean(std::string_view word, const std::vector<std::string>& candidates);

/// The same with all of them in any case: `: did you mean "bore"? There are bore, stroke`, or `; there are bore,
/// stroke`.
std::string there_are(std::string_view word, const std::vector<std::string>& candidates);

/// "a, b, c".
std::string joined(const std::vector<std::string>& words, std::string_view between = ", ");

}  // namespace eyebrow
