// From the engine file's text to an Engine: overrides and `like` first, then each table, then what lies between them.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "eyebrow/spec.hpp"
#include "spec/another_camshaft.hpp"
#include "spec/card.hpp"
#include "spec/cross_checks.hpp"
#include "spec/each_cylinder.hpp"
#include "spec/like.hpp"
#include "spec/moved_heights.hpp"
#include "spec/node.hpp"
#include "spec/overrides.hpp"
#include "spec/proportions.hpp"
#include "spec/sections.hpp"
#include "spec/text_file.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// A file of an engine has some 200 lines; these bounds only keep nonsense from taking all memory.
constexpr TextLimits kFileLimits{std::size_t{4} << 20, 1000000};
/// More help nobody.
constexpr std::size_t kMostFaults = 100;
/// Told beside the fault that the file's unit is wrong.
constexpr std::size_t kFaultsBesideUnits = 3;

/// A message as it would be of any table of its kind: what a table that is `like` another takes over faulty is one
/// fault.
std::string of_any_table(std::string message) {
  for (const std::string kind : {"valve.", "pocket.", "lobe."})
    for (std::size_t at = message.find(kind); at != std::string::npos; at = message.find(kind, at + kind.size())) {
      const std::size_t name = at + kind.size();
      message.erase(name, message.find_first_of(".] ", name) - name);
    }
  return message;
}

/// In the order of the lines, each once, file by file as they came up; beyond `most` only their number.
std::vector<Fault> in_order(std::vector<Fault> faults, std::size_t most = kMostFaults) {
  std::map<std::string, std::size_t> file_rank;
  for (const Fault& fault : faults) file_rank.emplace(fault.file, file_rank.size());
  const auto rank = [&](const Fault& fault) { return std::tuple(file_rank.at(fault.file), fault.line, fault.column); };
  std::stable_sort(faults.begin(), faults.end(), [&](const Fault& a, const Fault& b) { return rank(a) < rank(b); });
  std::set<std::tuple<std::string, int, int, std::string>> told;
  std::erase_if(faults, [&](const Fault& fault) {
    const std::string message = fault.line > 0 ? of_any_table(fault.message) : fault.message;
    return !told.insert({fault.file, fault.line, fault.column, message}).second;
  });
  if (faults.size() > most) {
    const std::size_t more = faults.size() - most;
    faults.resize(most);
    faults.push_back({faults.front().file, 0, 0, fmt::format("and {} more", more)});
  }
  return faults;
}

void write_values_and_likes(Context& context, Node& root, const std::vector<Written>& values) {
  std::vector<Written> deferred;
  apply_overrides(root, values, &deferred, context.faults);
  resolve_likes(root, context.faults);
  apply_overrides(root, deferred, nullptr, context.faults);
}

void read_top(Context& context, Section& top, Engine& engine) {
  engine.name = top.need_word("name", "what the engine is called");
  context.units = top.choice<LengthUnit>("units", {{"mm", LengthUnit::mm}, {"in", LengthUnit::inch}});
  context.units_faulty = top.has("units") && !context.units;
}

/// One slip in the default unit makes a fault a number: what to say first, of the file's faults. Null: it is not that.
std::optional<Fault> units_blamed(const Context& context) {
  constexpr int kMany = 4, kLeastShare = 5;  // one length in five: the ranges of the two units overlap for most
  if (!context.units && !context.units_faulty && context.bare_lengths >= kMany)
    return fault_at({context.file},
                    fmt::format("{} lengths have no unit, and the file states no default: write units = \"mm\" or "
                                "units = \"in\" at the top",
                                context.bare_lengths));
  if (!context.units || context.other_unit_fits < kMany) return std::nullopt;
  if (context.other_unit_fits * kLeastShare < context.bare_lengths) return std::nullopt;
  const bool mm = *context.units == LengthUnit::mm;
  return fault_at(context.place_of("units"),
                  fmt::format("the lengths in this file look like {} read as {} ({} of {} are implausible so and would "
                              "fit in {}): set units = \"{}\"",
                              mm ? "inches" : "mm", mm ? "mm" : "inches", context.other_unit_fits, context.bare_lengths,
                              mm ? "inches" : "mm", mm ? "in" : "mm"));
}

/// All faults in order; where one slip makes most of them, that first and only a few of the others.
std::vector<Fault> told_faults(Context& context) {
  const auto blamed = units_blamed(context);
  std::vector<Fault> faults = in_order(std::move(context.faults), blamed ? kFaultsBesideUnits : kMostFaults);
  if (blamed) faults.insert(faults.begin(), *blamed);
  return faults;
}

/// Where the file states no default, the output follows the bore's unit.
LengthUnit output_unit(const Context& context) {
  if (context.units) return *context.units;
  const auto bore = context.origins.find("cylinder.bore");
  return bore != context.origins.end() && bore->second.unit == "in" ? LengthUnit::inch : LengthUnit::mm;
}

/// What a tree gave: an engine only when there are no faults.
struct TreeRead {
  Context context;
  Node root;  ///< with the values and `like` applied
  Engine engine;
};

TreeRead read_tree(Node root, const std::string& name, const std::vector<Written>& values) {
  TreeRead reading;
  Context& context = reading.context;
  Engine& engine = reading.engine;
  context.file = name;
  write_values_and_likes(context, root, values);
  Section top(context, root);
  read_top(context, top, engine);
  read_cylinder(context, top, engine.cylinder);
  read_gasket(top, engine.gasket);
  read_head(context, top, engine.head);
  read_piston(context, top, engine.piston);
  read_pockets(context, top, engine.piston);
  const CamsAsRead cams = read_cams_and_lobes(context, top, engine);
  read_drive(context, top, engine);
  read_valves(context, top, engine);
  settle_cams(context, engine, cams);
  read_check(top, engine);
  read_asked(context, top, engine);
  read_running(context, top, engine);
  read_tolerances(context, top, root);
  top.know("each_cylinder");
  top.finish();
  engine.units = output_unit(context);
  check_between_tables(context, engine);
  check_proportions(context, engine);
  reading.root = std::move(root);
  return reading;
}

/// Those of `found` that are not among `known`, told as the cylinder's.
void add_news(std::vector<Fault>& known, const std::vector<Fault>& found, const std::vector<Fault>& of_the_file,
              const std::string& cylinder) {
  for (const Fault& fault : found) {
    const bool of_all = std::any_of(of_the_file.begin(), of_the_file.end(), [&](const Fault& each) {
      return each.file == fault.file && each.line == fault.line && each.column == fault.column &&
             each.message == fault.message;
    });
    if (of_all) continue;
    known.push_back(fault);
    known.back().message = fmt::format("cylinder \"{}\": {}", clipped(cylinder), fault.message);
  }
}

/// The file with the numbers of one cylinder.
TreeRead read_cylinder_tree(const CylinderNumbers& cylinder, const Node& file, const std::string& name,
                            const std::vector<Written>& overrides) {
  Node root = file;
  drop_other_ways(root, cylinder);
  std::vector<Written> values = cylinder.numbers;
  values.insert(values.end(), overrides.begin(), overrides.end());
  return read_tree(std::move(root), name, values);
}

/// Into the file's context goes what is wrong or doubtful with a cylinder alone.
std::vector<MeasuredCylinder> read_cylinders(TreeRead& reading, const Node& file,
                                             const std::vector<Written>& overrides) {
  Context& context = reading.context;
  const auto cylinders = read_each_cylinder(context, reading.root, overrides);
  const std::vector<Fault> faults = context.faults, warnings = context.warnings;
  std::vector<MeasuredCylinder> engines;
  for (const CylinderNumbers& cylinder : cylinders) {
    TreeRead one = read_cylinder_tree(cylinder, file, context.file, overrides);
    add_news(context.faults, one.context.faults, faults, cylinder.name);
    add_news(context.warnings, one.context.warnings, warnings, cylinder.name);
    engines.push_back({cylinder.name, std::move(one.engine), std::move(one.context.origins)});
  }
  return engines;
}

/// The engine as the file alone has it; an empty one where only the overrides make the file good.
Engine without_overrides(const Node& file, const std::string& name) {
  TreeRead reading = read_tree(file, name, {});
  return reading.context.faults.empty() ? std::move(reading.engine) : Engine{};
}

}  // namespace

std::vector<MeasuredCylinder> EngineFile::checked() const {
  if (!cylinders.empty()) return cylinders;
  return {{"", engine, origins}};
}

struct EngineText::Tree {
  std::string name;
  Node root;
};

EngineText::EngineText(const std::string& text, const std::string& name) {
  if (const std::string trouble = text_trouble(text, kFileLimits); !trouble.empty())
    throw InputError({{name, 0, 0, trouble}});
  tree_ = std::make_shared<const Tree>(Tree{name, parse_toml(text, name)});
}

EngineText EngineText::of_file(const std::string& path) {
  const TextFile file = read_text(path, kFileLimits);
  if (!file.trouble.empty()) throw InputError({{path, 0, 0, file.trouble}});
  return EngineText(file.text, path);
}

EngineFile EngineText::read(const std::vector<Override>& overrides) const {
  const std::vector<Written> values = written(overrides);
  TreeRead reading = read_tree(tree_->root, tree_->name, values);
  EngineFile out;
  out.cylinders = read_cylinders(reading, tree_->root, values);
  Context& context = reading.context;
  if (!context.faults.empty()) throw InputError(told_faults(context));
  out.engine = std::move(reading.engine);
  if (!overrides.empty()) {
    tell_moved_heights(context, without_overrides(tree_->root, tree_->name), out.engine);
    tell_another_camshaft(context, out.engine);
  }
  out.origins = std::move(context.origins);
  out.tolerances = std::move(context.tolerances);
  out.warnings = in_order(std::move(context.warnings));
  return out;
}

Engine EngineText::engine(const std::vector<Override>& overrides, const std::string& cylinder) const {
  const std::vector<Written> values = written(overrides);
  TreeRead reading = read_tree(tree_->root, tree_->name, values);
  if (!cylinder.empty() && reading.context.faults.empty())
    for (const CylinderNumbers& each : read_each_cylinder(reading.context, reading.root, values))
      if (each.name == cylinder) {
        reading = read_cylinder_tree(each, tree_->root, tree_->name, values);
        break;
      }
  if (!reading.context.faults.empty()) throw InputError(told_faults(reading.context));
  return std::move(reading.engine);
}

EngineFile parse_engine(const std::string& text, const std::string& name, const std::vector<Override>& overrides) {
  return EngineText(text, name).read(overrides);
}

EngineFile read_engine(const std::string& path, const std::vector<Override>& overrides) {
  return EngineText::of_file(path).read(overrides);
}

}  // namespace eyebrow
