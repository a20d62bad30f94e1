#include "spec/node.hpp"

#include <toml++/toml.h>

#include <algorithm>

#include "spec/nesting.hpp"
#include "spec/toml_hint.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

Place place_of(const toml::source_position& at, const std::string& file) {
  return {file, static_cast<int>(at.line), static_cast<int>(at.column)};
}

Place place_of(const toml::source_region& source, const std::string& file) {
  return place_of(source.begin, file);
}

std::string other_text(const toml::node& node) {
  if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  return node.is_date() ? "a date" : "a time";
}

/// Far more than any table of an engine file needs; the readers look keys up one by one.
constexpr std::size_t kMostEntries = 1000;

void refuse_if_many(std::size_t entries, const Place& place) {
  if (entries > kMostEntries)
    throw InputError({fault_at(place, "holds " + std::to_string(entries) + " entries; allowed are " +
                                          std::to_string(kMostEntries) + " in one table or list")});
}

Node plain(const toml::node& from, const std::string& file) {
  Node node;
  node.place = place_of(from.source(), file);
  node.end = place_of(from.source().end, file);
  if (const auto* table = from.as_table()) {
    node.kind = Node::Kind::table;
    refuse_if_many(table->size(), node.place);
    for (const auto& [key, value] : *table) {
      Node child = plain(value, file);
      child.key = key.str();
      child.key_place = place_of(key.source(), file);
      node.children.push_back(std::move(child));
    }
    // The library keeps keys in the order of the alphabet; messages and valves go in the order of the file.
    std::stable_sort(node.children.begin(), node.children.end(), [](const Node& a, const Node& b) {
      return std::pair(a.key_place.line, a.key_place.column) < std::pair(b.key_place.line, b.key_place.column);
    });
  } else if (const auto* array = from.as_array()) {
    node.kind = Node::Kind::array;
    refuse_if_many(array->size(), node.place);
    for (const auto& item : *array) node.children.push_back(plain(item, file));
  } else if (const auto* real = from.as_floating_point()) {
    node.kind = Node::Kind::number;
    node.number = real->get();
  } else if (const auto* integer = from.as_integer()) {
    node.kind = Node::Kind::number;
    node.number = static_cast<double>(integer->get());
  } else if (const auto* word = from.as_string()) {
    node.kind = Node::Kind::word;
    node.text = word->get();
  } else {
    node.kind = Node::Kind::other;
    node.text = other_text(from);
  }
  return node;
}

}  // namespace

std::string kind_text(const Node& node) {
  switch (node.kind) {
    case Node::Kind::table:
      return "a table";
    case Node::Kind::array:
      return "a list";
    case Node::Kind::number:
      return "a number";
    case Node::Kind::word:
      return "the word \"" + clipped(node.text) + "\"";
    case Node::Kind::other:
      return node.text;
  }
  return "?";
}

Node parse_toml(std::string_view text, const std::string& file) {
  if (const auto deep = first_too_deep(text)) {
    throw InputError({{file, deep->line, deep->column,
                       "nested more than " + std::to_string(kMostNesting) + " deep; an engine file needs 4"}});
  }
  try {
    return plain(toml::parse(text), file);
  } catch (const toml::parse_error& error) {
    const Place place = place_of(error.source(), file);
    std::vector<Fault> faults{fault_at(place, "not valid TOML: " + std::string(error.description()))};
    if (const auto hint = toml_hint(text, place.line, error.description()))
      faults.push_back(fault_at({file, hint->line, hint->column}, hint->text));
    throw InputError(std::move(faults));
  }
}

}  // namespace eyebrow
