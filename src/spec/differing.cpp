#include "eyebrow/differing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "spec/like.hpp"
#include "spec/units.hpp"

namespace eyebrow {
namespace {

constexpr double kSameNumber = 1e-9;   ///< of its size: what changing units rounds
constexpr double kSameMeaning = 1e-6;  ///< mm or radians: what deriving one number from others rounds

using Files = std::vector<const EngineFile*>;
using StatedInput = DifferingInput::Stated;

bool is_item_number(const std::string& part) {
  return !part.empty() && std::ranges::all_of(part, [](unsigned char c) { return std::isdigit(c) != 0; });
}

std::vector<std::string> key_parts(const std::string& key) {
  std::vector<std::string> parts;
  for (std::size_t from = 0;;) {
    const auto dot = key.find('.', from);
    parts.push_back(key.substr(from, dot == std::string::npos ? dot : dot - from));
    if (dot == std::string::npos) return parts;
    from = dot + 1;
  }
}

/// "lobe.intake.durations" of "lobe.intake.durations.2.at"; empty for what is in no list.
std::string list_of(const std::string& key) {
  std::string list;
  for (const std::string& part : key_parts(key)) {
    if (is_item_number(part) && !list.empty()) return list;
    list += (list.empty() ? "" : ".") + part;
  }
  return {};
}

std::string own_table_of(const std::string& key) {
  const std::string list = list_of(key);
  const std::string& whole = list.empty() ? key : list;
  const auto dot = whole.rfind('.');
  return dot == std::string::npos ? "" : whole.substr(0, dot);
}

/// Its name within the table: "durations" of "lobe.intake.durations.2.at".
std::string name_in_table(const std::string& key) {
  const std::string list = list_of(key);
  const std::string& whole = list.empty() ? key : list;
  return whole.substr(whole.rfind('.') + 1);
}

bool is_compared(const std::string& key) {
  return key != "name" && key != "units" && !key.starts_with("tolerance.") && !key.starts_with("each_cylinder.");
}

/// A list as a whole has a place, but its items state it.
bool states_something(const Origin& origin) {
  return !std::isnan(origin.value) || !origin.word.empty();
}

const Origin* origin_in(const EngineFile& file, const std::string& key) {
  const auto found = file.origins.find(key);
  return found == file.origins.end() ? nullptr : &found->second;
}

StatedInput stated_in(const EngineFile& file, const std::string& key) {
  const Origin* origin = origin_in(file, key);
  if (!origin) return {};
  StatedInput out;
  if (std::isnan(origin->value)) {
    out.text = '"' + origin->word + '"';
    return out;
  }
  const Unit unit = unit_from_word(origin->unit).value_or(Unit::none);
  out.value = origin->value / factor(unit);
  out.unit = origin->unit;
  out.text = fmt::format("{:.10g}{}{}", out.value + 0.0, out.unit.empty() ? "" : " ", out.unit);
  return out;
}

bool same_in(const EngineFile& one, const EngineFile& other, const std::string& key) {
  const Origin *a = origin_in(one, key), *b = origin_in(other, key);
  if (!a || !b) return a == b;
  if (std::isnan(a->value) || std::isnan(b->value))
    return std::isnan(a->value) && std::isnan(b->value) && a->word == b->word;
  return std::fabs(a->value - b->value) <= kSameNumber * std::fmax(std::fabs(a->value), std::fabs(b->value));
}

bool same_in_all(const Files& files, const std::string& key) {
  return std::ranges::all_of(files, [&](const EngineFile* file) { return same_in(*files.front(), *file, key); });
}

/// Under which key all files that have it say that it is written, by `like`; empty = not all, or not the same.
std::string taken_from_in_all(const Files& files, const std::string& key) {
  std::string from;
  for (const EngineFile* file : files) {
    const Origin* origin = origin_in(*file, key);
    if (!origin) continue;
    if (origin->taken_from.empty() || (!from.empty() && origin->taken_from != from)) return {};
    from = origin->taken_from;
  }
  return from;
}

/// Every key once: tables as they come in the files, their keys likewise.
std::vector<std::pair<std::string, std::vector<std::string>>> tables_of(const Files& files) {
  std::vector<std::pair<std::string, std::vector<std::string>>> tables;
  std::set<std::string> seen;
  for (const EngineFile* file : files) {
    std::vector<std::pair<std::string, const Origin*>> keys;
    for (const auto& [key, origin] : file->origins)
      if (is_compared(key) && states_something(origin) && seen.insert(key).second) keys.emplace_back(key, &origin);
    // What --set states has no line and goes first.
    std::ranges::stable_sort(keys, {}, [](const auto& each) {
      return std::pair(each.second->file == "--set" ? 0 : each.second->line, each.second->column);
    });
    for (const auto& [key, origin] : keys) {
      const std::string table = own_table_of(key);
      auto at = std::ranges::find(tables, table, [](const auto& each) { return each.first; });
      if (at == tables.end()) at = tables.insert(tables.end(), {table, {}});
      at->second.push_back(key);
    }
  }
  return tables;
}

/// What a row of ways_of_stating comes to, of one table; nothing where that is no single number.
std::optional<std::vector<double>> meaning(const Engine& engine, const std::string& table, const std::string& way) {
  if (table == "cylinder" && way == "deck_clearance") return std::vector{engine.cylinder.deck_clearance};
  const auto of = [&](const auto& items, const char* kind) {
    return std::ranges::find_if(items, [&](const auto& item) { return table == kind + ('.' + item.name); });
  };
  const auto leaning = [](double tilt, double lean) {
    const Vec3 axis = tilted_axis(tilt, lean);
    return std::vector{axis.x, axis.y, axis.z};
  };
  if (const auto valve = of(engine.valves, "valve"); valve != engine.valves.end()) {
    if (way == "tilt") return leaning(valve->tilt, valve->lean);
    if (way == "rim_height") return std::vector{valve->rim_height};
  }
  const auto& pockets = engine.piston.pockets;
  if (const auto pocket = of(pockets, "pocket"); pocket != pockets.end()) {
    if (way == "tilt") return leaning(pocket->tilt, pocket->lean);
    if (way == "diameter") return std::vector{pocket->diameter};
  }
  return std::nullopt;
}

DifferingInput::OtherKeys same_meaning(const Files& files, const std::string& table, const std::string& way) {
  const auto first = meaning(files.front()->engine, table, way);
  for (const EngineFile* file : files) {
    const auto other = meaning(file->engine, table, way);
    if (!first || !other) return DifferingInput::OtherKeys::unknown;
    for (std::size_t i = 0; i < first->size(); ++i)
      if (!(std::fabs((*first)[i] - (*other)[i]) <= kSameMeaning)) return DifferingInput::OtherKeys::different;
  }
  return DifferingInput::OtherKeys::same;
}

class OfTable {
 public:
  OfTable(const Files& files, std::string table, const std::vector<std::string>& keys, std::size_t most_of_list)
      : files_(files), table_(std::move(table)), keys_(keys), most_of_list_(most_of_list) {}

  void add_to(std::vector<DifferingInput>& out) {
    if (add_whole(out)) return;
    add_other_keys(out);
    std::set<std::string> lists;
    for (const std::string& key : keys_) {
      if (told_.contains(name_in_table(key))) continue;
      const std::string list = list_of(key);
      if (!list.empty()) {
        if (lists.insert(list).second) add_list(list, out);
        continue;
      }
      if (!same_in_all(files_, key)) add_key(key, out);
    }
  }

 private:
  template <class Text>
  DifferingInput told(const std::string& key, const Text& text_of) const {
    DifferingInput made;
    made.key = key;
    for (const EngineFile* file : files_) made.stated.push_back({text_of(*file), NAN, {}});
    return made;
  }
  std::size_t count_in(const EngineFile& file, const std::string& inside) const {
    return static_cast<std::size_t>(std::ranges::count_if(keys_, [&](const std::string& key) {
      return (inside.empty() || key.starts_with(inside + '.')) && origin_in(file, key);
    }));
  }
  static std::string counted(std::size_t count, const char* what) {
    return count == 0 ? "" : fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
  }

  /// A short list of numbers as it is, of another how many there are.
  std::string list_text(const EngineFile& file, const std::string& list) const {
    std::string text, unit;
    std::size_t count = 0;
    for (const std::string& key : keys_) {
      if (!key.starts_with(list + '.') || !origin_in(file, key)) continue;
      const StatedInput one = stated_in(file, key);
      if (++count > most_of_list_ || std::isnan(one.value) || (count > 1 && one.unit != unit))
        return counted(count_in(file, list), "number");
      unit = one.unit;
      text += fmt::format("{}{:.10g}", count > 1 ? ", " : "", one.value + 0.0);
    }
    return text.empty() || unit.empty() ? text : text + ' ' + unit;
  }

  /// A table that some file lacks is one row.
  bool add_whole(std::vector<DifferingInput>& out) const {
    if (table_.empty() || std::ranges::all_of(files_, [&](const EngineFile* file) { return count_in(*file, ""); }))
      return false;
    out.push_back(told(table_, [&](const EngineFile& file) { return counted(count_in(file, ""), "key"); }));
    return true;
  }

  /// What the files state by other keys of the table.
  void add_other_keys(std::vector<DifferingInput>& out) {
    for (const auto& ways : ways_of_stating()) {
      const auto way_of = [&](const EngineFile& file) {
        return std::ranges::find_if(ways, [&](const std::vector<std::string>& way) {
          return std::ranges::any_of(keys_, [&](const std::string& key) {
            return origin_in(file, key) && std::ranges::find(way, name_in_table(key)) != way.end();
          });
        });
      };
      // A file may state two ways, which are checked against each other: then what it has in common counts.
      const auto uses = [&](const EngineFile& file, const std::vector<std::string>& way) {
        return std::ranges::any_of(keys_, [&](const std::string& key) {
          return origin_in(file, key) && std::ranges::find(way, name_in_table(key)) != way.end();
        });
      };
      const bool all_state =
          std::ranges::all_of(files_, [&](const EngineFile* file) { return way_of(*file) != ways.end(); });
      const bool some_in_common = std::ranges::any_of(ways, [&](const auto& way) {
        return std::ranges::all_of(files_, [&](const EngineFile* file) { return uses(*file, way); });
      });
      if (!all_state || some_in_common) continue;
      DifferingInput made = told(table_, [&](const EngineFile& file) {
        std::string text;
        for (const std::string& key : keys_) {
          const bool of_way = std::ranges::any_of(
              ways, [&](const auto& way) { return std::ranges::find(way, name_in_table(key)) != way.end(); });
          if (!of_way || !origin_in(file, key)) continue;
          const std::string list = list_of(key), name = name_in_table(key);
          if (!list.empty() && text.find(name) != std::string::npos) continue;
          text += (text.empty() ? "" : ", ") + name;
          if (list.empty()) text += ' ' + stated_in(file, key).text;
        }
        return text;
      });
      made.other_keys = same_meaning(files_, table_, ways.front().front());
      out.push_back(std::move(made));
      for (const auto& way : ways) told_.insert(way.begin(), way.end());
    }
  }

  void add_list(const std::string& list, std::vector<DifferingInput>& out) const {
    std::vector<std::string> differ;
    for (const std::string& key : keys_)
      if (key.starts_with(list + '.') && !same_in_all(files_, key)) differ.push_back(key);
    const auto length = [&](const EngineFile& file) { return count_in(file, list); };
    const bool same_length =
        std::ranges::all_of(files_, [&](const EngineFile* file) { return length(*file) == length(*files_.front()); });
    if (same_length && differ.size() <= most_of_list_) {
      for (const std::string& key : differ) add_key(key, out);
      return;
    }
    if (differ.empty() || !taken_from_in_all(files_, differ.front()).empty()) return;
    out.push_back(told(list, [&](const EngineFile& file) { return list_text(file, list); }));
  }

  void add_key(const std::string& key, std::vector<DifferingInput>& out) const {
    if (!taken_from_in_all(files_, key).empty()) return;
    DifferingInput made;
    made.key = key;
    for (const EngineFile* file : files_) made.stated.push_back(stated_in(*file, key));
    for (const auto& [other, origin] : files_.front()->origins)
      if (taken_from_in_all(files_, other) == key) made.also.push_back(other);
    out.push_back(std::move(made));
  }

  const Files& files_;
  std::string table_;
  const std::vector<std::string>& keys_;
  std::size_t most_of_list_;
  std::set<std::string> told_;  ///< names in the table that a row has already
};

/// Tables of lift readings stand beside the engine file: the same name says nothing of what is in them.
void add_readings(const Files& files, std::vector<DifferingInput>& out) {
  for (const Lobe& lobe : files.front()->engine.lobes) {
    bool all = true, same = true;
    DifferingInput made;
    made.key = "lobe." + lobe.name + ".table";
    for (const EngineFile* file : files) {
      const auto& lobes = file->engine.lobes;
      const auto other = std::ranges::find(lobes, lobe.name, &Lobe::name);
      all = all && other != lobes.end() && other->table;
      if (!all) break;
      same = same && *other->table == *lobe.table;
      made.stated.push_back({fmt::format("{} readings", other->table->angle.size()), NAN, {}});
    }
    if (all && !same) out.push_back(std::move(made));
  }
}

}  // namespace

std::vector<DifferingInput> differing_inputs(const Files& files, std::size_t most_of_list) {
  std::vector<DifferingInput> out;
  if (files.empty()) return out;
  for (const auto& [table, keys] : tables_of(files)) OfTable(files, table, keys, most_of_list).add_to(out);
  add_readings(files, out);
  return out;
}

}  // namespace eyebrow
