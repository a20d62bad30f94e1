// One value of an engine file's text replaced, added or taken out.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include "eyebrow/edit.hpp"
#include "spec/node.hpp"
#include "spec/text_headers.hpp"
#include "spec/text_place.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// Stands for the file in messages that tell of a text alone.
constexpr const char* kText = "the engine file";

bool is_container(const Node& node) {
  return node.kind == Node::Kind::table || node.kind == Node::Kind::array;
}

std::string part_of(const Node& parent, std::size_t child) {
  return parent.kind == Node::Kind::array ? fmt::format("{}", child + 1) : parent.children[child].key;
}

/// A value or table, and the way down to it.
struct Spot {
  const Node* node = nullptr;
  const Node* parent = nullptr;
};

/// A part may itself have dots (quoted keys), so paths are compared as wholes.
Spot find_spot(const Node& at, const std::string& path, const std::string& key) {
  for (std::size_t i = 0; i < at.children.size(); ++i) {
    const std::string below = path.empty() ? part_of(at, i) : fmt::format("{}.{}", path, part_of(at, i));
    const Node& child = at.children[i];
    if (below == key) return {&child, &at};
    if (is_container(child) && key.starts_with(below + "."))
      if (const Spot found = find_spot(child, below, key); found.node) return found;
  }
  return {};
}

/// TOML has neither "1." nor ".5" nor leading zeros.
bool is_toml_number(std::string_view typed) {
  if (typed.starts_with('+') || typed.starts_with('-')) typed.remove_prefix(1);
  const auto digits = [&] {
    std::size_t count = 0;
    while (count < typed.size() && typed[count] >= '0' && typed[count] <= '9') ++count;
    const std::string_view seen = typed.substr(0, count);
    typed.remove_prefix(count);
    return seen;
  };
  const std::string_view whole = digits();
  if (whole.empty() || (whole.size() > 1 && whole[0] == '0')) return false;
  bool real = false;
  if (typed.starts_with('.')) {
    typed.remove_prefix(1);
    if (digits().empty()) return false;
    real = true;
  }
  if (typed.starts_with('e') || typed.starts_with('E')) {
    typed.remove_prefix(1);
    if (typed.starts_with('+') || typed.starts_with('-')) typed.remove_prefix(1);
    if (digits().empty()) return false;
    real = true;
  }
  // More digits than an integer of TOML holds.
  return typed.empty() && (real || whole.size() <= 18);
}

std::string quoted(std::string_view typed) {
  std::string out = "\"";
  for (const char c : typed) {
    if (c == '"' || c == '\\')
      out += {'\\', c};
    else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    else
      out += c;
  }
  return out + '"';
}

/// `bare`: a number may stand without quotes here.
std::string token_of(const std::string& typed, bool bare) {
  return bare && (is_toml_number(typed) || typed == "true" || typed == "false") ? typed : quoted(typed);
}

/// A name is a word even if it looks like a number.
bool may_be_bare(const std::string& key, const Node* before) {
  if (!before || before->kind != Node::Kind::word) return true;
  return !number_hint(key, false).empty();
}

/// The text with a piece replaced; a comment behind on the line stays in its column.
std::string replaced(const std::string& text, std::size_t begin, std::size_t end, const std::string& token) {
  std::size_t gap_end = end;
  while (gap_end < text.size() && text[gap_end] == ' ') ++gap_end;
  std::string gap = text.substr(end, gap_end - end);
  if (gap_end < text.size() && text[gap_end] == '#') {
    const auto was = static_cast<std::ptrdiff_t>(end - begin), is = static_cast<std::ptrdiff_t>(token.size());
    const std::ptrdiff_t room = static_cast<std::ptrdiff_t>(gap.size()) + was - is;
    gap.assign(static_cast<std::size_t>(std::max<std::ptrdiff_t>(1, room)), ' ');
  }
  return text.substr(0, begin) + token + gap + text.substr(gap_end);
}

/// The offset just behind the last thing that stands under the table's own header.
std::size_t end_of_keys(const std::string& text, const Node& table, const std::string& path, std::size_t from) {
  std::size_t last = from;
  for (const Node& child : table.children) {
    const std::string below = path.empty() ? child.key : fmt::format("{}.{}", path, child.key);
    if (child.kind == Node::Kind::table && child.children.empty() && has_header(text, child, below)) continue;
    if (child.kind == Node::Kind::table) {
      const std::size_t at = offset_of(text, child.place);
      if (at >= text.size() || text[at] != '{') continue;
    }
    if (child.kind == Node::Kind::array && !child.children.empty() && has_header(text, child.children.front(), below))
      continue;
    last = std::max(last, offset_of(text, child.end));
  }
  return last;
}

/// "key" to the width of the keys of the line above, so that equals signs stand in a column.
std::string aligned(const std::string& text, std::size_t line_of, const std::string& key) {
  const std::string line = text.substr(line_begin(text, line_of), line_end(text, line_of) - line_begin(text, line_of));
  const std::size_t equals = line.find('=');
  const std::size_t first = line.find_first_not_of(" \t");
  if (equals == std::string::npos || first == std::string::npos || line[first] == '[' || line[first] == '#') return key;
  const std::size_t width = equals > 0 && line[equals - 1] == ' ' ? equals - 1 : equals;
  return line.substr(0, first) + key + std::string(width > first + key.size() ? width - first - key.size() : 0, ' ');
}

std::string written_key(const std::string& key) {
  const bool bare = !key.empty() && std::all_of(key.begin(), key.end(), [](unsigned char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '-';
  });
  return bare ? key : quoted(key);
}

std::string with_line(const std::string& text, std::size_t behind, const std::string& key, const std::string& token) {
  const std::size_t end = line_end(text, behind);
  const char* feed = end < text.size() && text[end] == '\r' ? "\r\n" : "\n";
  return text.substr(0, end) + feed + aligned(text, behind, key) + " = " + token + text.substr(end);
}

std::string with_entry_in_braces(const std::string& text, const Node& table, const std::string& key,
                                 const std::string& token) {
  const std::size_t close = offset_of(text, table.end) - 1;
  std::size_t behind = close;
  while (behind > 0 && text[behind - 1] == ' ') --behind;
  const bool empty = table.children.empty();
  return fmt::format("{}{}{} = {} {}", text.substr(0, behind), empty ? " " : ", ", key, token, text.substr(close));
}

std::string with_new_key(const std::string& text, const Node& root, const std::string& key, const std::string& typed) {
  const std::size_t dot = key.rfind('.');
  const std::string table = dot == std::string::npos ? "" : key.substr(0, dot);
  const std::string last = written_key(key.substr(dot == std::string::npos ? 0 : dot + 1));
  const std::string token = token_of(typed, true);
  if (table.empty()) {
    const std::size_t end = end_of_keys(text, root, "", 0);
    if (end == 0) return fmt::format("{} = {}\n{}", last, token, text);
    return with_line(text, end, last, token);
  }
  const Spot spot = find_spot(root, "", table);
  if (!spot.node) {
    const char* feed = text.empty() || text.ends_with('\n') ? "" : "\n";
    return fmt::format("{}{}\n[{}]\n{} = {}\n", text, feed, table, last, token);
  }
  if (spot.node->kind != Node::Kind::table)
    throw Error(fmt::format("{}: there is no table of this name to add a key to", clipped(table)));
  const std::size_t begin = offset_of(text, spot.node->place);
  if (has_header(text, *spot.node, table)) {
    const std::size_t header = text.find(']', begin);
    return with_line(text, end_of_keys(text, *spot.node, table, header), last, token);
  }
  if (begin < text.size() && text[begin] == '{') return with_entry_in_braces(text, *spot.node, last, token);
  return fmt::format("{}{}\n[{}]\n{} = {}\n", text, text.ends_with('\n') ? "" : "\n", table, last, token);
}

/// What was made has to read back as what was meant; all else would be a slip of ours that spoils the file.
std::string believed(std::string text, const std::string& key, bool there) {
  const Node root = parse_toml(text, kText);
  if ((find_spot(root, "", key).node != nullptr) != there)
    throw Error(fmt::format("{}: the file is written in a way in which this cannot be changed here", clipped(key)));
  return text;
}

}  // namespace

std::string edited_text(const std::string& text, const std::string& key, const std::string& typed) {
  const Node root = parse_toml(text, kText);
  const Spot spot = find_spot(root, "", key);
  std::string edited;
  if (!spot.node) {
    edited = with_new_key(text, root, key, typed);
  } else {
    if (is_container(*spot.node))
      throw Error(fmt::format("{} is {}, not a value", clipped(key), kind_text(*spot.node)));
    edited = replaced(text, offset_of(text, spot.node->place), offset_of(text, spot.node->end),
                      token_of(typed, may_be_bare(key, spot.node)));
  }
  try {
    return believed(std::move(edited), key, true);
  } catch (const InputError&) {
    throw Error(fmt::format("{}: the file is written in a way in which this cannot be changed here", clipped(key)));
  }
}

std::string text_without(const std::string& text, const std::string& key) {
  const Node root = parse_toml(text, kText);
  const Spot spot = find_spot(root, "", key);
  if (!spot.node) throw Error(fmt::format("{}: the file does not state it", clipped(key)));
  if (is_container(*spot.node) || spot.parent->kind != Node::Kind::table)
    throw Error(fmt::format("{}: only a single value of a table can be taken out", clipped(key)));
  const std::size_t begin = offset_of(text, spot.node->key_place), end = offset_of(text, spot.node->end);
  const std::size_t first = line_begin(text, begin), last = line_end(text, end);
  const auto blank = [&](std::size_t from, std::size_t to) { return text.find_first_not_of(" \t\r", from) >= to; };
  const std::size_t rest = text.find_first_not_of(" \t", end);
  const bool comment = rest < last && text[rest] == '#';
  if (!blank(first, begin) || (!blank(end, last) && !comment))
    throw Error(fmt::format("{}: other things stand on its line", clipped(key)));
  if (comment) return believed(text.substr(0, begin) + text.substr(rest), key, false);
  std::size_t next = text.find('\n', end);
  next = next == std::string::npos ? text.size() : next + 1;
  return believed(text.substr(0, first) + text.substr(next), key, false);
}

}  // namespace eyebrow
