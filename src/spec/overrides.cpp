#include "spec/overrides.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "spec/nearest.hpp"
#include "spec/nesting.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

std::string between_blanks(const std::string& text) {
  const auto first = text.find_first_not_of(" \t");
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

Node value_node(const std::string& given) {
  Node node;
  node.key_place.file = node.place.file = kSetFile;
  double number = 0;
  const char* begin = given.data() + (given.size() > 1 && given[0] == '+' && given[1] != '-' ? 1 : 0);
  const auto [end, error] = std::from_chars(begin, given.data() + given.size(), number);
  if (error == std::errc() && end == given.data() + given.size()) {
    node.kind = Node::Kind::number;
    node.number = number;
    return node;
  }
  node.kind = Node::Kind::word;
  // As it would stand in the file, for those who carry the quotes over.
  const bool quoted = given.size() > 1 && given.front() == '"' && given.back() == '"';
  node.text = quoted ? given.substr(1, given.size() - 2) : given;
  return node;
}

std::vector<std::string> keys_of(const Node& table) {
  std::vector<std::string> keys;
  for (const Node& child : table.children) keys.push_back(child.key);
  return keys;
}

/// Does this table hold named tables, one a valve, pocket, lobe, notch or cam?
bool holds_named(const std::string& path, const Node& table) {
  if (path == "valve" || path == "pocket" || path == "lobe" || path == "cylinder.notch") return true;
  if (path != "cam") return false;  // one cam may also stand as a plain table
  return std::any_of(table.children.begin(), table.children.end(),
                     [](const Node& child) { return child.kind == Node::Kind::table; });
}

enum class Outcome { done, wait };

bool crown_from_step(Node& root) {
  Node* piston = root.find("piston");
  return piston && piston->kind == Node::Kind::table && piston->find("step");
}

Outcome apply(Node& root, const Written& one, bool may_wait, std::vector<Fault>& faults) {
  const std::vector<std::string> parts = parts_of(one.key);
  const auto refuse = [&](const std::string& what) {
    faults.push_back(fault_at(one.value.key_place, clipped(one.key) + ": " + what));
    return Outcome::done;
  };
  if (parts.size() > static_cast<std::size_t>(kMostNesting)) return refuse("too many parts in a dotted key");
  Node* at = &root;
  std::string path;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string& part = parts[i];
    if (part.empty()) return refuse("an empty part in a dotted key");
    Node* next = nullptr;
    if (at->kind == Node::Kind::array) {
      std::size_t number = 0;
      const auto [end, error] = std::from_chars(part.data(), part.data() + part.size(), number);
      const bool whole = error == std::errc() && end == part.data() + part.size();
      if (!whole || number < 1 || number > at->children.size())
        return refuse(fmt::format("{} has {} {}, counted from 1; there is no \"{}\"", path, at->children.size(),
                                  at->children.size() == 1 ? "item" : "items", part));
      next = &at->children[number - 1];
    } else if (at->kind == Node::Kind::table) {
      next = at->find(part);
      if (!next) {
        if (path == "pocket" && crown_from_step(root))
          return refuse("the crown is taken from STEP ([piston.step]), whose pockets have no such numbers");
        if (holds_named(path, *at))
          return refuse(fmt::format("there is no [{}.{}]{}", path, part, did_you_mean(part, keys_of(*at))));
        const bool last = i + 1 == parts.size();
        if (!last && may_wait && at->find("like")) return Outcome::wait;
        Node child;
        child.key = part;
        child.key_place = child.place = one.value.key_place;
        at->children.push_back(std::move(child));
        next = &at->children.back();
      }
    } else {
      return refuse(fmt::format("{} is {} and has no parts", path, kind_text(*at)));
    }
    at = next;
    path += (path.empty() ? "" : ".") + part;
  }
  const std::string key = at->key;
  *at = one.value;
  at->key = key;
  return Outcome::done;
}

}  // namespace

Override parse_override(const std::string& text) {
  const auto equals = text.find('=');
  if (equals == std::string::npos)
    throw InputError(
        {{kSetFile, 0, 0,
          fmt::format("\"{}\" has no '=': write key=value, as in gasket.thickness=0.051", clipped(text))}});
  Override one{between_blanks(text.substr(0, equals)), between_blanks(text.substr(equals + 1))};
  if (one.key.empty())
    throw InputError({{kSetFile, 0, 0, fmt::format("\"{}\" names no key before the '='", clipped(text))}});
  if (one.value.empty())
    throw InputError({{kSetFile, 0, 0, fmt::format("\"{}\" gives no value after the '='", clipped(text))}});
  return one;
}

std::vector<std::string> parts_of(const std::string& key) {
  std::vector<std::string> parts;
  std::size_t from = 0;
  for (;;) {
    const auto dot = key.find('.', from);
    parts.push_back(between_blanks(key.substr(from, dot == std::string::npos ? dot : dot - from)));
    if (dot == std::string::npos) return parts;
    from = dot + 1;
  }
}

std::vector<Written> written(const std::vector<Override>& overrides) {
  std::vector<Written> values;
  values.reserve(overrides.size());
  for (const Override& one : overrides) values.push_back({one.key, value_node(one.value)});
  return values;
}

void apply_overrides(Node& root, const std::vector<Written>& values, std::vector<Written>* deferred,
                     std::vector<Fault>& faults) {
  for (const Written& one : values)
    if (apply(root, one, deferred != nullptr, faults) == Outcome::wait) deferred->push_back(one);
}

}  // namespace eyebrow
