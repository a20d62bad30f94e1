// Changing single values in an engine file's text. All else stays as its owner wrote it: order, spaces, comments.
#pragma once
#include <string>
#include <vector>

namespace eyebrow {

/// One number, word or flag as the text states it.
struct TextEntry {
  std::string key;    ///< dotted; items of a list are counted from 1 ("lobe.intake.durations.2.duration")
  std::string table;  ///< whose header it stands under: "valve.intake"; empty = before the first header
  std::string typed;  ///< as a person types it: the word without its quotes
  enum class Kind { number, word, flag, other } kind = Kind::number;
  int line = 0, column = 0;  ///< of the value, 1-based
  std::string comment;       ///< what stands behind it on its line, without the '#'
  bool operator==(const TextEntry&) const = default;
};

/// In the order of the text. Throws InputError where it is no TOML; `name` stands for the file in messages.
std::vector<TextEntry> text_entries(const std::string& text, const std::string& name);

/// The tables that have a header of their own, in the order of the text. Throws as text_entries.
std::vector<std::string> text_tables(const std::string& text, const std::string& name);

/// The text with another value for `key`, as a person types it: "0.041", "1.04 mm", "deepest". What is no number or
/// flag is put in quotes, so that the text stays TOML whatever was typed; whether it is allowed is for the reader of
/// engines. A comment behind the value stays in its column as far as there is room. A key that is not there is added
/// to its table, a table that is not there to the end. Throws InputError where the text is no TOML, Error where `key`
/// names something that is no single value, or what the text has no place for.
std::string edited_text(const std::string& text, const std::string& key, const std::string& typed);

/// The text without `key`, and without its line where nothing else stands on it; a comment stays, on a line of its
/// own. Throws as edited_text, and Error where the key is not there, or is an item of a list.
std::string text_without(const std::string& text, const std::string& key);

/// What is plausible for a number under this key and what it is: "0.1 to 10 mm (compressed, from shims to stacked
/// sheet)". Empty for a key that is no number of an engine file. `inches`: the unit of lengths.
std::string number_hint(const std::string& key, bool inches);

/// Keys of numbers that a table of this name may state: "thickness", "bore" for "gasket". Empty where it is no table
/// of an engine file.
std::vector<std::string> number_keys(const std::string& table);

}  // namespace eyebrow
