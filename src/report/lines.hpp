// Lines of plain text that fit a terminal.
#pragma once
#include <string>

namespace eyebrow {

inline constexpr int kWidth = 100;  ///< columns

/// A name that the user gave, fit for a terminal: control characters become '?', what exceeds `columns` is cut
/// with "...". Columns are counted a code point each.
std::string printable(const std::string& name, int columns = 40);

/// The same, filled with spaces on the right.
std::string padded(const std::string& name, int columns);

/// Breaks `text` at spaces into lines of at most kWidth columns, the first after `first`, the others after `indent`
/// spaces. A word that is too long stands alone.
std::string wrapped(const std::string& first, const std::string& text, int indent);

}  // namespace eyebrow
