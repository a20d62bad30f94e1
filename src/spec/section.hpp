// Typed reading of one table: every number with its unit and limits, every fault with its place.
#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "spec/context.hpp"
#include "spec/limits.hpp"
#include "spec/measured.hpp"

namespace eyebrow {

/// One table of the file, or the lack of one. Remembers which keys were asked for, so that finish() can name the
/// others. A number that is missing or faulty reads as NaN: comparisons with it are false, so one slip makes one fault.
class Section {
 public:
  /// The root.
  Section(Context& context, const Node& root);

  const std::string& name() const { return name_; }  ///< last part of the path
  const std::string& path() const { return path_; }  ///< dotted; empty for the root
  std::string key_path(const std::string& key) const { return path_.empty() ? key : path_ + "." + key; }
  Place place() const;
  /// Of the key's value, or of the table when the key is missing.
  Place place(const std::string& key) const;

  bool exists() const { return node_ != nullptr; }
  bool holds_tables() const;
  bool has(const std::string& key) const { return node_ && node_->find(key); }

  /// In the program's inner unit, as the table of limits says. nullopt = missing, NaN = faulty (and told).
  std::optional<double> number(const std::string& key);
  double number_or(const std::string& key, double fallback) { return number(key).value_or(fallback); }
  /// A fault when it is missing; `or_else` names what may stand instead.
  double need(const std::string& key, const std::string& or_else = {});

  /// A number that is held against nothing: no range, and no entry among the origins. nullopt = missing, or faulty (and
  /// told).
  std::optional<Measured> measured(const std::string& key, Measure measure);

  /// A word that may follow a number and say on which side it lies: "29 BTDC".
  struct Side {
    std::string word;    ///< in capitals; they are read in either case
    double sign = 1;     ///< of the number
    bool wrong = false;  ///< known, and not allowed here: a fault, with `why`
  };
  /// number(), or a word of a number and a side; with none the number has its own sign. The side may stand before the
  /// reading error or behind it.
  std::optional<double> sided(const std::string& key, const std::vector<Side>& sides, const std::string& why);

  /// The numbers of a list, each as number() has one; its items are counted from 1 ("cam.stops.2"). nullopt = missing
  /// or no list (and told).
  std::optional<std::vector<double>> numbers(const std::string& key);

  /// true or false. nullopt = missing or neither (and told).
  std::optional<bool> flag(const std::string& key);

  /// A free word that is not empty.
  std::optional<std::string> word(const std::string& key);
  /// A fault when it is missing, which says what it is.
  std::string need_word(const std::string& key, const std::string& what);

  template <class T>
  using Choices = std::vector<std::pair<std::string, T>>;
  /// One of a few words. nullopt = missing or faulty (and told).
  template <class T>
  std::optional<T> choice(const std::string& key, const Choices<T>& choices) {
    std::vector<std::string> words;
    for (const auto& one : choices) words.push_back(one.first);
    const auto index = choice_index(key, words);
    return index ? std::optional<T>(choices[*index].second) : std::nullopt;
  }
  template <class T>
  std::optional<T> need_choice(const std::string& key, const Choices<T>& choices) {
    if (exists() && !has(key)) {
      std::vector<std::string> words;
      for (const auto& one : choices) words.push_back("\"" + one.first + "\"");
      missing(key, words);
    }
    return choice(key, choices);
  }

  /// The table under `key`; it may be lacking. `pattern`: its place in the table of limits where that is not its path.
  Section table(const std::string& key, const std::string& pattern = {});
  /// A fault when it is lacking, which names the keys that it must hold.
  Section need_table(const std::string& key, const std::string& keys, const std::string& pattern = {});
  /// The tables under `key`, one a name ([valve.NAME]).
  std::vector<Section> named(const std::string& key, std::size_t most);
  /// The tables in the list under `key`; their names are 1, 2, ...
  std::vector<Section> list(const std::string& key);

  /// Says that the key is known though it is not read here.
  void know(const std::string& key);
  /// One fault a key that nobody asked for, with the nearest that is known. Where that is a key told as missing, the
  /// typing slip is all that is told.
  void finish();

 private:
  Section(Context& context, const Node* node, std::string path, std::string pattern, std::string name);
  std::optional<std::size_t> choice_index(const std::string& key, const std::vector<std::string>& words);
  double judged(const std::string& key, const Node& value, const Limit& limit);
  std::optional<Node> without_side(const std::string& key, const Node& value, const std::vector<Side>& sides,
                                   const std::string& why);
  void missing(const std::string& key, const std::vector<std::string>& words);
  void tell_missing(std::vector<std::string> keys, std::string message);
  std::string take_back_missing(const std::string& unknown);
  void keep_origin(const std::string& key, const Node& value, const Measured* number = nullptr);
  std::string pattern_of(const std::string& key) const { return pattern_.empty() ? key : pattern_ + "." + key; }
  const Node* look(const std::string& key);

  /// A fault told: one of `keys` is wanted.
  struct Missing {
    std::vector<std::string> keys;
    std::string message;
  };

  Context* context_;
  const Node* node_;
  std::string path_, pattern_, name_;
  std::vector<std::string> known_;
  std::vector<Missing> missing_;
};

}  // namespace eyebrow
