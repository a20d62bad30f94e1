// What the verbs of the command line have in common: words that several take, and how they are read.
#pragma once
#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "options.hpp"
#include "values.hpp"

namespace eyebrow::cli {

/// A verb that the program knows. `read`: once it was parsed, its words judged as its arguments; throws UsageError.
struct Verb {
  CLI::App* app;
  std::function<Command()> read;
};

// Each takes the verb into the program, with its options and its help.
Verb take_check(CLI::App& program);
Verb take_compare(CLI::App& program);
Verb take_export(CLI::App& program);
Verb take_faces(CLI::App& program);
Verb take_map(CLI::App& program);
Verb take_new(CLI::App& program);
Verb take_picture(CLI::App& program);
Verb take_pocket(CLI::App& program);
Verb take_stack(CLI::App& program);
Verb take_untimed(CLI::App& program);
Verb take_view(CLI::App& program);

// The rest is for them.

/// What several take, as it was typed; what it may be is judged in values.cpp, so that all messages speak alike.
struct Typed {
  std::string engine, output, units, digits, csv, json, plot;
  std::vector<std::string> set, gaps;
  bool quiet = false, no_remedies = false;
};

extern const std::string kFaultStatuses, kCheckStatuses, kWriteStatuses;

CLI::App* add_verb(CLI::App& program, const std::string& name, const std::string& does, Typed& typed);
void take_engine(CLI::App* verb, Typed& typed);
/// `more`: what else is to be said of it.
void take_set(CLI::App* verb, Typed& typed, const std::string& more = "");
void take_units(CLI::App* verb, Typed& typed);
/// Units and digits.
void take_format(CLI::App* verb, Typed& typed);
void take_gaps(CLI::App* verb, Typed& typed);
/// `what` it is: "the whole result, in mm and degrees".
void take_json(CLI::App* verb, Typed& typed, const std::string& what);
void take_plot(CLI::App* verb, Typed& typed, const std::string& does);
void take_no_remedies(CLI::App* verb, Typed& typed);

/// An option with an empty value was given: it must not pass for one that was not.
inline bool given(const CLI::App& verb, const char* option) {
  return verb.count(option) > 0;
}

std::vector<Override> overrides(const std::vector<std::string>& texts);

/// What every verb with an engine file takes.
template <class Arguments>
void read_engine_words(const Typed& typed, Arguments& out) {
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  out.overrides = overrides(typed.set);
}

template <class Arguments>
void read_format(const CLI::App& verb, const Typed& typed, Arguments& out) {
  if (given(verb, "--units")) out.units = parse_units("--units", typed.units);
  if (given(verb, "--digits")) out.digits = parse_digits("--digits", typed.digits);
}

inline void read_path(const CLI::App& verb, const char* option, const std::string& text, std::string& to) {
  if (given(verb, option)) to = parse_path(option, text);
}

inline void read_picture(const CLI::App& verb, const char* option, const std::string& text, std::string& to) {
  if (given(verb, option)) to = parse_picture(option, text);
}

/// Option and file: each file its own.
void require_apart(const std::vector<std::pair<std::string, std::string>>& files);

}  // namespace eyebrow::cli
