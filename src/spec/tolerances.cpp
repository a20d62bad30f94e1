// [tolerance]. Its keys are dotted keys of numbers, in quotes ("gasket.thickness" = ...) or not: then TOML has them as
// tables in tables.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "spec/like.hpp"
#include "spec/nearest.hpp"
#include "spec/overrides.hpp"
#include "spec/sections.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

constexpr const char* kToleranceTable = "tolerance";
const Section::Choices<Tolerance::Shape> kShapes = {{"uniform", Tolerance::Shape::uniform},
                                                    {"normal", Tolerance::Shape::normal},
                                                    {"triangular", Tolerance::Shape::triangular}};

/// The entries of [tolerance], each a table under its whole dotted key.
class Entries {
 public:
  explicit Entries(Context& context) : context_(context) {}

  Node of(const Node& table) {
    flat_ = table;
    flat_.children.clear();
    add_all(table, "");
    return flat_;
  }

 private:
  bool is_number(const std::string& key) const { return context_.numbers.count(key) != 0; }

  /// Or does it only hold entries?
  bool is_entry(const Node& node, const std::string& key) const {
    if (node.kind != Node::Kind::table || node.children.empty() || is_number(key)) return true;
    return std::any_of(node.children.begin(), node.children.end(), [&](const Node& child) {
      const bool field =
          child.key == "plus_minus" || child.key == "deviation" || child.key == "shape" || child.key == "shared";
      return field && child.kind != Node::Kind::table && !is_number(key + "." + child.key);
    });
  }

  void add_all(const Node& table, const std::string& path) {
    for (const Node& child : table.children) {
      const std::string key = path.empty() ? child.key : path + "." + child.key;
      if (is_entry(child, key))
        add(child, key);
      else
        add_all(child, key);
    }
  }

  void add(const Node& node, const std::string& key) {
    auto entry = as_table(node, key);
    if (!entry) return;
    Node* before = flat_.find(key);
    if (!before) {
      flat_.children.push_back(std::move(*entry));
      return;
    }
    const bool sets = node.place.file == kSetFile;
    if (sets == (before->place.file == kSetFile)) {
      context_.fault(node.key_place, fmt::format("{}.{} stands twice", kToleranceTable, key));
      return;
    }
    if (!sets) std::swap(*before, *entry);
    // A whole tolerance that is set takes the place of the file's; a part of one goes into it.
    if (!whole_set_.count(key))
      for (Node& child : before->children)
        if (!entry->find(child.key)) entry->children.push_back(std::move(child));
    *before = std::move(*entry);
  }

  /// "± 0.002 in" is { plus_minus = "0.002 in" }.
  std::optional<Node> as_table(const Node& node, const std::string& key) {
    Node entry = node;
    entry.key = key;
    if (node.kind == Node::Kind::table) return entry;
    const auto parts = node.kind == Node::Kind::word ? split_at_error(node.text) : std::nullopt;
    if (!parts || parts->before.find_first_not_of(" \t") != std::string_view::npos) {
      context_.fault(node.place, fmt::format("{}.{} must be \"\u00b1 0.1 mm\" or the like, or a table in braces "
                                             "with plus_minus or deviation, found {}",
                                             kToleranceTable, key, kind_text(node)));
      return std::nullopt;
    }
    if (node.place.file == kSetFile) whole_set_.insert(key);
    Node half = node;
    half.key = "plus_minus";
    half.text = std::string(parts->behind);
    entry.kind = Node::Kind::table;
    entry.children = {std::move(half)};
    return entry;
  }

  Context& context_;
  Node flat_;
  std::set<std::string> whole_set_;  ///< given as one value by an override
};

/// Why there is no number to have this tolerance.
std::string trouble_of_key(const Context& context, const std::string& key) {
  const auto dot = key.rfind('.');
  if (dot != std::string::npos)
    for (const auto& [stated, limit] : context.numbers)
      if (stated.compare(0, dot + 1, key, 0, dot + 1) == 0 && are_two_ways(key.substr(dot + 1), stated.substr(dot + 1)))
        return fmt::format("the file does not state {}, it states {}: a tolerance is of a number as it is stated",
                           clipped(key), stated);
  std::vector<std::string> keys;
  for (const auto& [stated, limit] : context.numbers)
    if (!limit->counted) keys.push_back(stated);
  const std::string near = nearest(key, keys);
  return fmt::format("unknown key \"{}\" in [{}]: {}", clipped(key), kToleranceTable,
                     near.empty() ? "a tolerance stands under the dotted key of a number that this file states, such "
                                    "as \"gasket.thickness\""
                                  : "did you mean \"" + near + "\"?");
}

/// Half-width or deviation, 0 or more; NaN = faulty, and told.
std::optional<double> read_size(Context& context, Section& entry, const char* key, Measure measure) {
  if (!entry.has(key)) {
    entry.know(key);
    return std::nullopt;
  }
  const auto size = entry.measured(key, measure);
  if (!size) return NAN;
  const auto refuse = [&](const std::string& what) {
    context.fault(entry.place(key), fmt::format("{} {}", entry.key_path(key), what));
    return NAN;
  };
  if (size->error > 0) return refuse("is a tolerance: it has no reading error");
  if (!std::isfinite(size->value) || size->value < 0)
    return refuse(fmt::format("is {}; it must be a finite number, 0 or more", quantity_text(size->value, size->unit)));
  return size->value;
}

void read_tolerance(Context& context, Section& entry, const Limit& limit) {
  using Shape = Tolerance::Shape;
  Tolerance out;
  out.key = entry.name();
  const auto half = read_size(context, entry, "plus_minus", limit.measure);
  const auto deviation = read_size(context, entry, "deviation", limit.measure);
  const auto shape = entry.choice<Shape>("shape", kShapes);
  out.shared = entry.word("shared").value_or("");
  entry.finish();
  if (half.has_value() == deviation.has_value()) {
    context.fault(entry.place(), fmt::format("[{}] must have plus_minus or deviation, found {}", entry.path(),
                                             half ? "both: leave one of the two out" : "neither"));
    return;
  }
  out.shape = shape.value_or(deviation ? Shape::normal : Shape::uniform);
  if (deviation && out.shape != Shape::normal)
    context.fault(entry.place("shape"),
                  fmt::format("{} is \"{}\", beside deviation: that is of a normal one; state plus_minus instead",
                              entry.key_path("shape"), to_string(out.shape)));
  out.plus_minus = half.value_or(0);
  if (out.shape == Shape::normal) out.deviation = deviation.value_or(out.plus_minus / 3);
  const auto origin = context.origins.find(out.key);
  if (origin == context.origins.end() || !std::isfinite(origin->second.value) || !std::isfinite(out.worst())) return;
  const Unit unit = unit_from_word(origin->second.unit).value_or(Unit::none);
  const char* what = half ? "tolerance" : "tolerance of 3 deviations";
  if (!limit_trouble(limit, origin->second.value, unit).empty()) return;  // told
  if (const auto trouble = reach_trouble(limit, origin->second.value, out.worst(), unit, what); !trouble.empty())
    context.fault(entry.place(), fmt::format("{} {}", out.key, trouble));
  context.tolerances.push_back(std::move(out));
}

/// A name that nothing else has is a slip, or of no use.
void warn_of_lone_names(Context& context, Section& table) {
  for (const Tolerance& one : context.tolerances) {
    if (one.shared.empty()) continue;
    const auto sharing = std::count_if(context.tolerances.begin(), context.tolerances.end(),
                                       [&](const Tolerance& other) { return other.shared == one.shared; });
    if (sharing < 2)
      context.warn(
          context.place_of(table.key_path(one.key) + ".shared"),
          fmt::format("{}.{}.shared: no other tolerance shares \"{}\"", kToleranceTable, one.key, clipped(one.shared)));
  }
}

}  // namespace

const char* to_string(Tolerance::Shape shape) {
  for (const auto& [word, each] : kShapes)
    if (each == shape) return word.c_str();
  return "?";
}

void read_tolerances(Context& context, Section& top, const Node& root) {
  top.know(kToleranceTable);
  const Node* given = root.find(kToleranceTable);
  if (!given) return;
  if (given->kind != Node::Kind::table) {
    top.table(kToleranceTable);  // tells
    return;
  }
  Node holder;
  holder.children = {Entries(context).of(*given)};
  Section table = Section(context, holder).table(kToleranceTable);
  for (const Node& child : holder.children.front().children) {
    const auto number = context.numbers.find(child.key);
    if (number == context.numbers.end())
      context.fault(child.key_place, trouble_of_key(context, child.key));
    else if (number->second->counted)
      context.fault(child.key_place, fmt::format("{} is counted, not measured: it has no tolerance", child.key));
    else if (Section entry = table.table(child.key); entry.exists())
      read_tolerance(context, entry, *number->second);
  }
  warn_of_lone_names(context, table);
}

}  // namespace eyebrow
