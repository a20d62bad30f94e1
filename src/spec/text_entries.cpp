// What an engine file's text states, value by value, for those who show it.
#include <fmt/format.h>

#include <algorithm>

#include "eyebrow/edit.hpp"
#include "spec/key_pattern.hpp"
#include "spec/limits.hpp"
#include "spec/node.hpp"
#include "spec/overrides.hpp"
#include "spec/text_headers.hpp"
#include "spec/text_place.hpp"
#include "spec/units.hpp"

namespace eyebrow {
namespace {

TextEntry::Kind entry_kind(const Node& node) {
  switch (node.kind) {
    case Node::Kind::number:
      return TextEntry::Kind::number;
    case Node::Kind::word:
      return TextEntry::Kind::word;
    default:
      break;
  }
  return node.text == "true" || node.text == "false" ? TextEntry::Kind::flag : TextEntry::Kind::other;
}

/// Behind the value on its line, when nothing but the ends of its list lies between.
std::string comment_behind(std::string_view text, std::size_t from) {
  const std::size_t end = line_end(text, from);
  const std::size_t sign = text.find_first_not_of(" \t,]}", from);
  if (sign == std::string_view::npos || sign >= end || text[sign] != '#') return "";
  std::string_view comment = text.substr(sign + 1, end - sign - 1);
  while (comment.starts_with(' ')) comment.remove_prefix(1);
  while (comment.ends_with(' ')) comment.remove_suffix(1);
  return std::string(comment);
}

struct Walk {
  std::string_view text;
  std::vector<TextEntry> entries;
  std::vector<std::pair<int, std::string>> tables;  ///< with their lines

  void down(const Node& node, const std::string& path, std::string table) {
    if (node.kind == Node::Kind::table && has_header(text, node, path)) {
      table = path;
      tables.emplace_back(node.place.line, path);
    }
    if (node.kind == Node::Kind::table || node.kind == Node::Kind::array) {
      for (std::size_t i = 0; i < node.children.size(); ++i) {
        const Node& child = node.children[i];
        const std::string part = node.kind == Node::Kind::array ? fmt::format("{}", i + 1) : child.key;
        down(child, path.empty() ? part : fmt::format("{}.{}", path, part), table);
      }
      return;
    }
    const std::size_t begin = offset_of(text, node.place), end = offset_of(text, node.end);
    TextEntry entry;
    entry.key = path;
    entry.table = std::move(table);
    entry.kind = entry_kind(node);
    entry.typed = node.kind == Node::Kind::word ? node.text : std::string(text.substr(begin, end - begin));
    entry.line = node.place.line;
    entry.column = node.place.column;
    entry.comment = comment_behind(text, end);
    entries.push_back(std::move(entry));
  }
};

Walk walked(const std::string& text, const std::string& name) {
  const Node root = parse_toml(text, name);
  Walk walk{text, {}, {}};
  walk.down(root, "", "");
  return walk;
}

}  // namespace

std::vector<TextEntry> text_entries(const std::string& text, const std::string& name) {
  std::vector<TextEntry> entries = walked(text, name).entries;
  std::stable_sort(entries.begin(), entries.end(), [](const TextEntry& a, const TextEntry& b) {
    return std::pair(a.line, a.column) < std::pair(b.line, b.column);
  });
  return entries;
}

std::vector<std::string> text_tables(const std::string& text, const std::string& name) {
  Walk walk = walked(text, name);
  std::stable_sort(walk.tables.begin(), walk.tables.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> names;
  for (auto& [line, table] : walk.tables) names.push_back(std::move(table));
  return names;
}

std::string number_hint(const std::string& key, bool inches) {
  const std::vector<std::string> parts = parts_of(key);
  for (const Limit& limit : all_limits())
    if (fits_pattern(parts, limit.key))
      return allowed_text(limit, usual_unit(limit.measure, inches ? LengthUnit::inch : LengthUnit::mm));
  return "";
}

std::vector<std::string> number_keys(const std::string& table) {
  std::vector<std::string> keys;
  for (const Limit& limit : all_limits()) {
    const std::size_t dot = limit.key.rfind('.');
    if (fits_pattern(parts_of(table), limit.key.substr(0, dot)) && limit.key.substr(dot + 1) != "*")
      keys.emplace_back(limit.key.substr(dot + 1));
  }
  return keys;
}

}  // namespace eyebrow
