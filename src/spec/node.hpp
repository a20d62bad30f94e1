// The engine file as a tree of plain nodes, each of which knows where it stands.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "eyebrow/fault.hpp"

namespace eyebrow {

/// Where something stands in what the user gave; line and column are 1-based, 0 = unknown.
struct Place {
  std::string file;
  int line = 0, column = 0;
};

inline Fault fault_at(const Place& place, std::string message) {
  return {place.file, place.line, place.column, std::move(message)};
}

struct Node {
  enum class Kind { table, array, number, word, other };

  Kind kind = Kind::table;
  std::string key;  ///< empty for the root and for items of an array
  Place key_place;  ///< of the key
  Place place;      ///< of the value; of its header for a table
  Place end;        ///< just behind that
  double number = 0;
  std::string text;             ///< the word; for `other`, what it is ("true", "a date")
  std::string taken_from = {};  ///< dotted key that it was written under, where `like` brought it here; else empty
  bool lacks_like = false;      ///< a table whose `like` names nothing: told, so nothing is told that it lacks
  std::vector<Node> children;   ///< of a table, in the order of the file; of an array, its items

  const Node* find(std::string_view name) const {
    for (const Node& child : children)
      if (child.key == name) return &child;
    return nullptr;
  }
  Node* find(std::string_view name) { return const_cast<Node*>(static_cast<const Node*>(this)->find(name)); }
};

/// "a number", "a table", ...: for messages.
std::string kind_text(const Node& node);

/// Reads TOML. Throws InputError with the one place where the text stops being TOML, or where it nests too deep.
Node parse_toml(std::string_view text, const std::string& file);

}  // namespace eyebrow
