#include "spec/section.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "spec/nearest.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// Names become part of dotted keys and of reports.
bool good_name(const std::string& name) {
  if (name.empty() || name.size() > 64) return false;
  return std::none_of(name.begin(), name.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f || c == '.'; });
}

/// The table's heading for messages: "[valve.intake]", or the top of the file.
std::string heading(const std::string& path) {
  return path.empty() ? "the top of the file" : "[" + path + "]";
}

/// "a and b" to its words.
std::vector<std::string> split_at_and(std::string text) {
  const std::string joint = " and ";
  std::vector<std::string> words;
  for (auto at = text.find(joint); at != std::string::npos; at = text.find(joint)) {
    words.push_back(text.substr(0, at));
    text.erase(0, at + joint.size());
  }
  if (!text.empty()) words.push_back(text);
  return words;
}

/// Letters that the text ends with, blanks aside.
std::size_t word_at_end(std::string_view text) {
  const auto end = text.find_last_not_of(' ') + 1;
  auto begin = end;
  while (begin > 0 && std::isalpha(static_cast<unsigned char>(text[begin - 1])) != 0) --begin;
  return end - begin;
}

}  // namespace

Section::Section(Context& context, const Node& root) : context_(&context), node_(&root) {}

Section::Section(Context& context, const Node* node, std::string path, std::string pattern, std::string name)
    : context_(&context), node_(node), path_(std::move(path)), pattern_(std::move(pattern)), name_(std::move(name)) {
  if (node_) context_->tables[path_] = node_->place;
}

Place Section::place() const {
  return node_ ? node_->place : Place{context_->file};
}

Place Section::place(const std::string& key) const {
  const Node* value = node_ ? node_->find(key) : nullptr;
  return value ? value->place : place();
}

bool Section::holds_tables() const {
  return node_ && std::any_of(node_->children.begin(), node_->children.end(),
                              [](const Node& child) { return child.kind == Node::Kind::table; });
}

void Section::know(const std::string& key) {
  if (std::find(known_.begin(), known_.end(), key) == known_.end()) known_.push_back(key);
}

const Node* Section::look(const std::string& key) {
  know(key);
  return node_ ? node_->find(key) : nullptr;
}

void Section::keep_origin(const std::string& key, const Node& value, const Measured* number) {
  Origin origin{value.place.file, value.place.line, value.place.column};
  origin.taken_from = value.taken_from;
  if (!number) origin.word = value.text;
  if (number) {
    origin.unit = to_string(number->unit);
    origin.value = number->value;
    origin.error = number->error;
  }
  context_->origins[key_path(key)] = std::move(origin);
}

std::optional<double> Section::number(const std::string& key) {
  const Limit& limit = limit_of(pattern_of(key));  // first, so that a key without one shows in any file
  const Node* value = look(key);
  return value ? std::optional(judged(key, *value, limit)) : std::nullopt;
}

std::optional<Measured> Section::measured(const std::string& key, Measure measure) {
  const Node* value = look(key);
  return value ? read_measured(*context_, key_path(key), *value, measure) : std::nullopt;
}

std::optional<double> Section::sided(const std::string& key, const std::vector<Side>& sides, const std::string& why) {
  const Limit& limit = limit_of(pattern_of(key));
  const Node* value = look(key);
  if (!value) return std::nullopt;
  const auto plain = without_side(key, *value, sides, why);
  return plain ? judged(key, *plain, limit) : NAN;
}

/// The value as number() takes it; null = a fault, told.
std::optional<Node> Section::without_side(const std::string& key, const Node& value, const std::vector<Side>& sides,
                                          const std::string& why) {
  if (value.kind != Node::Kind::word) return value;
  // "29 BTDC ± 1", or "29 ± 1 BTDC".
  const auto parts = split_at_error(value.text);
  const bool before_error = parts && word_at_end(parts->before) > 0;
  const std::string_view with_side = before_error ? parts->before : std::string_view(value.text);
  const std::string_view behind = std::string_view(value.text).substr(with_side.size());
  const auto size = word_at_end(with_side), end = with_side.find_last_not_of(' ') + 1;
  std::string word(with_side.substr(end - size, size));
  if (word.empty() || word.size() == end || unit_from_word(word)) return value;
  for (char& c : word) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  std::vector<std::string> allowed;
  for (const Side& side : sides)
    if (!side.wrong) allowed.push_back(side.word);
  const auto found = std::find_if(sides.begin(), sides.end(), [&](const Side& side) { return side.word == word; });
  if (found == sides.end() || found->wrong) {
    context_->fault(value.place,
                    fmt::format("{} is \"{}\"; after its number may stand {}{}", key_path(key), clipped(value.text),
                                joined(allowed, " or "), found == sides.end() ? "" : ": " + why));
    return std::nullopt;
  }
  Node plain = value;
  plain.text = std::string(with_side.substr(0, end - size)).append(behind);
  if (found->sign < 0) {
    const auto first = plain.text.find_first_not_of(' ');
    const bool signed_already = first != std::string::npos && (plain.text[first] == '-' || plain.text[first] == '+');
    const bool negative = signed_already && plain.text[first] == '-';
    if (signed_already) plain.text.erase(0, first + 1);
    if (!negative) plain.text.insert(0, "-");
  }
  return plain;
}

std::optional<std::vector<double>> Section::numbers(const std::string& key) {
  const Limit& limit = limit_of(pattern_of(key) + ".*");
  const Node* list = look(key);
  if (!list) return std::nullopt;
  if (list->kind != Node::Kind::array) {
    context_->fault(list->place,
                    fmt::format("{} must be a list of numbers, found {}", key_path(key), kind_text(*list)));
    return std::nullopt;
  }
  std::vector<double> values;
  for (const Node& item : list->children)
    values.push_back(judged(key + "." + std::to_string(values.size() + 1), item, limit));
  return values;
}

std::optional<bool> Section::flag(const std::string& key) {
  const Node* value = look(key);
  if (!value) return std::nullopt;
  const bool plain = value->kind == Node::Kind::other || value->kind == Node::Kind::word;  // a word from --set
  if (!plain || (value->text != "true" && value->text != "false")) {
    context_->fault(value->place, fmt::format("{} must be true or false, found {}", key_path(key), kind_text(*value)));
    return std::nullopt;
  }
  keep_origin(key, *value);
  return value->text == "true";
}

/// mm, radians or plain; NaN = faulty (and told).
double Section::judged(const std::string& key, const Node& value, const Limit& limit) {
  const auto refuse = [&](const std::string& what) {
    context_->fault(value.place, fmt::format("{} {}", key_path(key), what));
    return NAN;
  };
  context_->numbers[key_path(key)] = &limit;
  const auto measured = read_measured(*context_, key_path(key), value, limit.measure);
  if (!measured) return NAN;
  keep_origin(key, value, &*measured);
  const Unit unit = measured->unit;
  if (!std::isfinite(measured->value))
    return refuse(fmt::format("is {}; it must be a finite number, {}", measured->value / factor(unit),
                              allowed_text(limit, unit)));
  if (const std::string trouble = limit_trouble(limit, measured->value, unit); !trouble.empty()) {
    if (measured->bare && limit.measure == Measure::length && fits_in_other_unit(limit, measured->value, unit))
      ++context_->other_unit_fits;
    return refuse(trouble);
  }
  if (!(measured->error > 0)) return measured->value;
  if (limit.counted) return refuse("is counted, not measured: it has no reading error");
  if (const auto trouble = reach_trouble(limit, measured->value, measured->error, unit, "reading error");
      !trouble.empty())
    return refuse(trouble);
  return measured->value;
}

double Section::need(const std::string& key, const std::string& or_else) {
  if (const auto value = number(key)) return *value;
  if (exists()) {
    const Limit& limit = limit_of(pattern_of(key));
    const Unit unit = usual_unit(limit.measure, context_->units.value_or(LengthUnit::mm));
    std::vector<std::string> keys = split_at_and(or_else);
    keys.insert(keys.begin(), key);
    tell_missing(std::move(keys), fmt::format("missing key \"{}\" in {}{}: {}, {}", key, heading(path_),
                                              or_else.empty() ? "" : " (or " + or_else + ")", to_string(limit.measure),
                                              allowed_text(limit, unit)));
  }
  return NAN;
}

std::optional<std::string> Section::word(const std::string& key) {
  const Node* value = look(key);
  if (!value) return std::nullopt;
  const bool good = value->kind == Node::Kind::word && !value->text.empty() &&
                    std::none_of(value->text.begin(), value->text.end(), [](unsigned char c) { return c < 0x20; });
  if (!good) {
    context_->fault(value->place,
                    fmt::format("{} must be a word in quotes, found {}", key_path(key), kind_text(*value)));
    return std::nullopt;
  }
  keep_origin(key, *value);
  return value->text;
}

std::string Section::need_word(const std::string& key, const std::string& what) {
  if (exists() && !has(key))
    tell_missing({key}, fmt::format("missing key \"{}\" in {}: {}", key, heading(path_), what));
  return word(key).value_or("");
}

std::optional<std::size_t> Section::choice_index(const std::string& key, const std::vector<std::string>& words) {
  const Node* value = look(key);
  if (!value) return std::nullopt;
  if (value->kind != Node::Kind::word) {
    context_->fault(value->place, fmt::format("{} must be a word, found {}: allowed are {}", key_path(key),
                                              kind_text(*value), joined(words)));
    return std::nullopt;
  }
  keep_origin(key, *value);
  const auto found = std::find(words.begin(), words.end(), value->text);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  const std::string near = nearest(value->text, words);
  context_->fault(value->place, fmt::format("{} is \"{}\"; allowed are {}{}", key_path(key), clipped(value->text),
                                            joined(words), near.empty() ? "" : ": did you mean \"" + near + "\"?"));
  return std::nullopt;
}

void Section::missing(const std::string& key, const std::vector<std::string>& words) {
  tell_missing({key}, fmt::format("missing key \"{}\" in {}: one of {}", key, heading(path_), joined(words)));
}

Section Section::table(const std::string& key, const std::string& pattern) {
  const Node* value = look(key);
  if (value && value->kind != Node::Kind::table) {
    context_->fault(value->place, fmt::format("{} must be a table ([{}]), found {}", key_path(key), key_path(key),
                                              kind_text(*value)));
    value = nullptr;
  }
  return {*context_, value, key_path(key), pattern.empty() ? pattern_of(key) : pattern, key};
}

Section Section::need_table(const std::string& key, const std::string& keys, const std::string& pattern) {
  if (exists() && !has(key))
    tell_missing({key}, fmt::format("missing table [{}], which holds {}", key_path(key), keys));
  return table(key, pattern);
}

std::vector<Section> Section::named(const std::string& key, std::size_t most) {
  std::vector<Section> sections;
  const Section parent = table(key);
  if (!parent.exists()) return sections;
  for (const Node& child : parent.node_->children) {
    if (child.kind != Node::Kind::table) {
      context_->fault(child.key_place, fmt::format("[{0}] holds named tables ([{0}.NAME]), found \"{1}\", {2}",
                                                   parent.path_, clipped(child.key), kind_text(child)));
    } else if (!good_name(child.key)) {
      context_->fault(child.key_place, fmt::format("the name \"{}\" is not usable: 1 to 64 signs, no full stop, no "
                                                   "control signs",
                                                   clipped(child.key)));
    } else if (sections.size() == most) {
      context_->fault(child.key_place, fmt::format("more than {} tables [{}.NAME]", most, parent.path_));
      break;
    } else {
      sections.push_back({*context_, &child, parent.key_path(child.key), parent.pattern_ + ".*", child.key});
    }
  }
  return sections;
}

std::vector<Section> Section::list(const std::string& key) {
  std::vector<Section> sections;
  const Node* value = look(key);
  if (!value) return sections;
  if (value->kind != Node::Kind::array) {
    context_->fault(value->place,
                    fmt::format("{} must be a list of tables, found {}", key_path(key), kind_text(*value)));
    return sections;
  }
  int number = 0;
  for (const Node& item : value->children) {
    const std::string name = std::to_string(++number);
    if (item.kind != Node::Kind::table) {
      context_->fault(item.place,
                      fmt::format("{}.{} must be a table in braces, found {}", key_path(key), name, kind_text(item)));
      continue;
    }
    sections.push_back({*context_, &item, key_path(key) + "." + name, pattern_of(key) + ".*", name});
  }
  return sections;
}

void Section::tell_missing(std::vector<std::string> keys, std::string message) {
  if (node_->lacks_like) return;
  context_->fault(place(), message);
  missing_.push_back({std::move(keys), std::move(message)});
}

/// The key told as missing that the unknown one is most likely meant for: its fault is taken back. Empty = none.
std::string Section::take_back_missing(const std::string& unknown) {
  std::vector<std::string> wanted;
  for (const Missing& missing : missing_) wanted.insert(wanted.end(), missing.keys.begin(), missing.keys.end());
  const std::string near = nearest(unknown, wanted);
  if (near.empty()) return {};
  const auto meant = std::find_if(missing_.begin(), missing_.end(), [&](const Missing& missing) {
    return std::find(missing.keys.begin(), missing.keys.end(), near) != missing.keys.end();
  });
  const Place here = place();
  std::erase_if(context_->faults, [&](const Fault& fault) {
    return fault.message == meant->message && fault.file == here.file && fault.line == here.line;
  });
  missing_.erase(meant);
  return near;
}

void Section::finish() {
  if (!node_) return;
  for (const Node& child : node_->children) {
    if (std::find(known_.begin(), known_.end(), child.key) != known_.end()) continue;
    const std::string near = take_back_missing(child.key);
    context_->fault(child.key_place,
                    fmt::format("unknown key \"{}\" in {}{}", clipped(child.key), heading(path_),
                                near.empty() ? did_you_mean(child.key, known_) : ": did you mean \"" + near + "\"?"));
  }
}

}  // namespace eyebrow
