#include "spec/each_cylinder.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/like.hpp"
#include "spec/limits.hpp"
#include "spec/nearest.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

constexpr const char* kTable = "each_cylinder";
/// No engine in line or vee of the trade has more.
constexpr std::size_t kMostCylinders = 24;
constexpr std::size_t kLongestName = 64;

/// Adds the dotted keys of the tree that fit the pattern's parts from number `i` on. `at` null: a table that the file
/// leaves out, and may have.
void expand(const Node* at, const std::vector<std::string>& pattern, std::size_t i, const std::string& path,
            std::vector<std::string>& keys) {
  if (i == pattern.size()) {
    keys.push_back(path);
    return;
  }
  const auto step = [&](const Node* to, const std::string& part) {
    expand(to, pattern, i + 1, path.empty() ? part : path + "." + part, keys);
  };
  if (pattern[i] != "*") {
    step(at && at->kind == Node::Kind::table ? at->find(pattern[i]) : nullptr, pattern[i]);
    return;
  }
  if (!at) return;
  if (at->kind == Node::Kind::array)
    for (std::size_t item = 0; item < at->children.size(); ++item) step(&at->children[item], std::to_string(item + 1));
  if (at->kind != Node::Kind::table) return;
  bool named = false;
  for (const Node& child : at->children) {
    if (child.kind != Node::Kind::table) continue;
    named = true;
    step(&child, child.key);
  }
  if (!named && path == "cam") expand(at, pattern, i + 1, path, keys);  // one cam may stand as a plain table
}

/// Every dotted key under which the file states a number, or may.
std::vector<std::string> number_keys(const Node& root) {
  std::vector<std::string> keys;
  for (const Limit& limit : all_limits()) expand(&root, parts_of(std::string(limit.key)), 0, "", keys);
  return keys;
}

std::string trouble_of_name(const Node& item, const std::vector<std::string>& before) {
  if (item.kind != Node::Kind::word) return fmt::format("must be a word in quotes, found {}", kind_text(item));
  const std::string& name = item.text;
  if (name.empty() || name.size() > kLongestName ||
      std::any_of(name.begin(), name.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; }))
    return fmt::format("\"{}\" is no name: 1 to {} signs, no control signs", clipped(name), kLongestName);
  if (std::find(before.begin(), before.end(), name) != before.end())
    return fmt::format("\"{}\" stands twice", clipped(name));
  return {};
}

/// Empty when they are missing or faulty, and told.
std::vector<std::string> read_names(Context& context, const Node& table) {
  const Node* list = table.find("names");
  if (!list) {
    context.fault(table.place, fmt::format("missing key \"names\" in [{}]: what the cylinders are called, such as "
                                           "[\"1\", \"2\"]",
                                           kTable));
    return {};
  }
  if (list->kind != Node::Kind::array || list->children.empty() || list->children.size() > kMostCylinders) {
    context.fault(list->place,
                  fmt::format("{}.names must be a list of 1 to {} names, found {}", kTable, kMostCylinders,
                              list->kind == Node::Kind::array ? std::to_string(list->children.size()) + " items"
                                                              : kind_text(*list)));
    return {};
  }
  std::vector<std::string> names;
  bool good = true;
  for (std::size_t i = 0; i < list->children.size(); ++i) {
    const Node& item = list->children[i];
    if (const std::string trouble = trouble_of_name(item, names); !trouble.empty()) {
      context.fault(item.place, fmt::format("{}.names.{} {}", kTable, i + 1, trouble));
      good = false;
    }
    names.push_back(item.text);
  }
  return good ? names : std::vector<std::string>{};
}

/// Why the list under a key cannot be used; empty when it can.
std::string trouble_of_list(const Node& list, const std::vector<std::string>& keys) {
  if (list.kind == Node::Kind::table)
    return fmt::format(
        "[{}] holds a table \"{}\": put the whole dotted key in quotes, as in "
        "\"cylinder.deck_clearance\" = [ ... ]",
        kTable, clipped(list.key));
  if (std::find(keys.begin(), keys.end(), list.key) != keys.end()) return {};
  const std::string near = nearest(list.key, keys);
  return fmt::format("unknown key \"{}\" in [{}]: {}", clipped(list.key), kTable,
                     near.empty() ? "a list stands under the dotted key of a number of this file, in quotes, such as "
                                    "\"cylinder.deck_clearance\""
                                  : "did you mean \"" + near + "\"?");
}

/// "valve.intake" and "flush_lift".
std::pair<std::string, std::string> split_last(const std::string& key) {
  const auto dot = key.rfind('.');
  return dot == std::string::npos ? std::pair(std::string(), key) : std::pair(key.substr(0, dot), key.substr(dot + 1));
}

/// Does an override state the number, in this way or another?
const Written* overriding(const std::string& key, const std::vector<Written>& overrides) {
  const auto [table, leaf] = split_last(key);
  const auto found = std::find_if(overrides.begin(), overrides.end(), [&](const Written& one) {
    const auto [its_table, its_leaf] = split_last(joined(parts_of(one.key), "."));
    return its_table == table && (its_leaf == leaf || are_two_ways(leaf, its_leaf));
  });
  return found == overrides.end() ? nullptr : &*found;
}

}  // namespace

std::vector<CylinderNumbers> read_each_cylinder(Context& context, const Node& root,
                                                const std::vector<Written>& overrides) {
  const Node* table = root.find(kTable);
  if (!table) return {};
  if (table->kind != Node::Kind::table) {
    context.fault(table->place, fmt::format("{0} must be a table ([{0}]), found {1}", kTable, kind_text(*table)));
    return {};
  }
  const std::vector<std::string> names = read_names(context, *table), keys = number_keys(root);
  std::vector<CylinderNumbers> cylinders;
  for (const std::string& name : names) cylinders.push_back({name, {}});
  bool any = false;
  for (const Node& list : table->children) {
    if (list.key == "names") continue;
    any = true;
    if (const std::string trouble = trouble_of_list(list, keys); !trouble.empty()) {
      context.fault(list.key_place, trouble);
      continue;
    }
    const std::string shown = fmt::format("{}.\"{}\"", kTable, clipped(list.key));
    if (list.kind != Node::Kind::array) {
      context.fault(list.place,
                    fmt::format("{} must be a list of numbers, one a cylinder, found {}", shown, kind_text(list)));
    } else if (const Written* set = overriding(list.key, overrides)) {
      context.warn(set->value.place,
                   fmt::format("{} holds for every cylinder: {} is not used", clipped(set->key), shown));
    } else if (!names.empty() && list.children.size() != names.size()) {
      context.fault(list.place,
                    fmt::format("{} has {} {}, but names has {}: one number a cylinder", shown, list.children.size(),
                                list.children.size() == 1 ? "item" : "items", names.size()));
    } else {
      for (std::size_t i = 0; i < cylinders.size(); ++i) {
        Node value = list.children[i];
        value.key_place = list.key_place;
        cylinders[i].numbers.push_back({list.key, std::move(value)});
      }
    }
  }
  if (!any)
    context.fault(table->place, fmt::format("[{}] holds no list of numbers, such as \"cylinder.deck_clearance\" = "
                                            "[ ... ]",
                                            kTable));
  return cylinders;
}

void drop_other_ways(Node& root, const CylinderNumbers& cylinder) {
  std::erase_if(root.children, [](const Node& child) { return child.key == "tolerance"; });
  for (const Written& one : cylinder.numbers) {
    const auto [path, leaf] = split_last(one.key);
    Node* table = &root;
    for (const std::string& part : parts_of(path))
      if (table) table = table->kind == Node::Kind::table ? table->find(part) : nullptr;
    if (!table || table->kind != Node::Kind::table) continue;
    // A deck clearance beside one height gives the other; beside both it would have to agree with them.
    const bool measured = leaf == "deck_clearance", both = measured && table->find("compression_height");
    std::erase_if(table->children, [&](const Node& child) {
      return measured ? both && child.key == "block_deck_height" : are_two_ways(leaf, child.key);
    });
  }
}

}  // namespace eyebrow
