// A reader of its own for exchange files (ISO 10303-21, clear text encoding), for tests of what is written: the grammar
// as that standard has it, from memory; no schema.
#pragma once
#include <cctype>
#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>

namespace eyebrow::test {

struct Part21Instance {
  std::string name;        ///< "ADVANCED_FACE"; empty = several at once
  std::string text;        ///< all behind the =
  std::vector<long> uses;  ///< instances that it names
  std::vector<std::string> strings;
  std::vector<double> reals;  ///< in order, lists and all
};

class Part21File {
 public:
  std::map<std::string, std::string> header;  ///< entity to its text
  std::map<long, Part21Instance> data;

  /// Throws std::runtime_error at the first thing that the grammar does not allow.
  explicit Part21File(const std::string& text) : text_(text) {
    for (const char c : text_)
      if (c != '\n' && c != '\r' && (c < ' ' || c > '~')) fail("a byte outside the basic alphabet");
    word("ISO-10303-21;");
    word("HEADER;");
    while (!at("ENDSEC;")) {
      Part21Instance entity;
      record(entity);
      word(";");
      header[entity.name] = entity.text;
    }
    word("ENDSEC;");
    for (const char* needed : {"FILE_DESCRIPTION", "FILE_NAME", "FILE_SCHEMA"})
      if (!header.contains(needed)) throw std::runtime_error(fmt::format("no {} in the header", needed));
    word("DATA;");
    while (!at("ENDSEC;")) instance();
    word("ENDSEC;");
    word("END-ISO-10303-21;");
    if (at_ != text_.size()) fail("something behind the end");
    for (const auto& [id, one] : data)
      for (const long used : one.uses)
        if (!data.contains(used)) throw std::runtime_error(fmt::format("#{} names #{}, which is not there", id, used));
  }

  std::vector<const Part21Instance*> all(const std::string& name) const {
    std::vector<const Part21Instance*> found;
    for (const auto& [id, one] : data)
      if (one.name == name) found.push_back(&one);
    return found;
  }
  /// First strings of all instances of that name.
  std::multiset<std::string> names(const std::string& entity) const {
    std::multiset<std::string> found;
    for (const Part21Instance* one : all(entity)) found.insert(one->strings.empty() ? "" : one->strings.front());
    return found;
  }

 private:
  [[noreturn]] void fail(const std::string& what) const {
    throw std::runtime_error(fmt::format("{} at byte {}: {}", what, at_, text_.substr(at_, 60)));
  }
  void blanks() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_]))) ++at_;
  }
  bool at(const std::string& what) {
    blanks();
    return text_.compare(at_, what.size(), what) == 0;
  }
  void word(const std::string& what) {
    if (!at(what)) fail("no " + what);
    at_ += what.size();
    blanks();
  }
  char peek() {
    blanks();
    return at_ < text_.size() ? text_[at_] : '\0';
  }
  std::string keyword() {
    std::string name;
    while (at_ < text_.size() && (std::isupper(static_cast<unsigned char>(text_[at_])) || text_[at_] == '_' ||
                                  (!name.empty() && std::isdigit(static_cast<unsigned char>(text_[at_])))))
      name += text_[at_++];
    if (name.empty()) fail("no keyword");
    return name;
  }
  long number() {
    std::size_t used = 0;
    const long value = std::stol(text_.substr(at_, 12), &used);
    at_ += used;
    return value;
  }
  void instance() {
    word("#");
    const long id = number();
    word("=");
    Part21Instance one;
    if (peek() == '(') {  // several entities of one instance
      const std::size_t from = at_;
      word("(");
      while (peek() != ')') {
        Part21Instance part;
        record(part);
        one.uses.insert(one.uses.end(), part.uses.begin(), part.uses.end());
      }
      word(")");
      one.text = text_.substr(from, at_ - from);
    } else {
      record(one);
    }
    word(";");
    if (!data.emplace(id, std::move(one)).second) fail(fmt::format("#{} a second time", id));
  }
  void record(Part21Instance& into) {
    blanks();
    into.name = keyword();
    const std::size_t from = at_;
    list(into);
    into.text = text_.substr(from, at_ - from);
  }
  void list(Part21Instance& into) {
    word("(");
    if (peek() == ')') return word(")");
    for (;;) {
      parameter(into);
      if (peek() == ')') return word(")");
      word(",");
    }
  }
  void parameter(Part21Instance& into) {
    const char c = peek();
    if (c == '(') return list(into);
    if (c == '$' || c == '*') return void(++at_);
    if (c == '#') {
      ++at_;
      into.uses.push_back(number());
    } else if (c == '\'') {
      into.strings.push_back(string());
    } else if (c == '.') {
      ++at_;
      keyword();
      word(".");
    } else if (std::isupper(static_cast<unsigned char>(c))) {
      keyword();
      list(into);
    } else if (std::isdigit(static_cast<unsigned char>(c)) || c == '-' || c == '+') {
      std::size_t end = at_ + 1;
      while (std::isdigit(static_cast<unsigned char>(text_[end]))) ++end;
      if (text_[end] == '.') {
        ++end;
        while (std::isdigit(static_cast<unsigned char>(text_[end]))) ++end;
        if (text_[end] == 'E') {  // upper case alone
          ++end;
          if (text_[end] == '+' || text_[end] == '-') ++end;
          if (!std::isdigit(static_cast<unsigned char>(text_[end]))) fail("no exponent");
          while (std::isdigit(static_cast<unsigned char>(text_[end]))) ++end;
        }
        into.reals.push_back(std::stod(text_.substr(at_, end - at_)));
      }
      at_ = end;
    } else {
      fail("no parameter");
    }
  }
  std::string string() {
    std::string out;
    for (++at_;; ++at_) {
      if (at_ >= text_.size()) fail("a string without an end");
      if (text_[at_] == '\n' || text_[at_] == '\r') continue;  // a line may end within
      if (text_[at_] != '\'') {
        out += text_[at_];
        continue;
      }
      if (text_[at_ + 1] != '\'') break;
      out += '\'';
      ++at_;
    }
    ++at_;
    return out;
  }

  const std::string& text_;
  std::size_t at_ = 0;
};

}  // namespace eyebrow::test
