#include <fmt/format.h>

#include "verb.hpp"

namespace eyebrow::cli {
namespace {

/// More engines than that nobody reads side by side; and a plot has so many kinds of line.
constexpr std::size_t kMostCompared = 12, kMostDrawn = 4;

struct CompareWords : Typed {
  std::vector<std::string> engines, valves;
};

Command compare_arguments(const CLI::App& verb, const CompareWords& typed) {
  CompareArguments out;
  for (const std::string& engine : typed.engines) out.engines.push_back(parse_path("ENGINE", engine));
  if (out.engines.size() < 2) throw UsageError("compare: takes two engine files or more");
  if (out.engines.size() > kMostCompared)
    throw UsageError(fmt::format("compare: {} engine files are more than {}", out.engines.size(), kMostCompared));
  out.quiet = typed.quiet;
  out.valves = typed.valves;
  out.no_remedies = typed.no_remedies;
  read_format(verb, typed, out);
  read_path(verb, "--json", typed.json, out.json);
  read_picture(verb, "--plot", typed.plot, out.plot);
  if (!out.plot.empty() && out.engines.size() > kMostDrawn)
    throw UsageError(fmt::format("--plot: a picture tells {} engines apart, not {}", kMostDrawn, out.engines.size()));
  if (!out.valves.empty() && out.plot.empty()) throw UsageError("--valve: chooses what is drawn; give --plot too");
  require_apart({{"--json", out.json}, {"--plot", out.plot}});
  out.overrides = overrides(typed.set);
  return out;
}

}  // namespace

Verb take_compare(CLI::App& program) {
  const auto typed = std::make_shared<CompareWords>();
  CLI::App* const verb = add_verb(
      program, "compare", "Two or more engines side by side: gaps, inputs, lifts, where the valves land", *typed);
  verb->add_option("ENGINE", typed->engines, "The engine files, two or more; the others are compared with the first")
      ->required()
      ->type_name("");
  take_set(verb, *typed, " (in every engine)");
  take_format(verb, *typed);
  take_json(verb, *typed, "the whole result, in mm and degrees");
  take_plot(verb, *typed, "Draw the gaps of up to four engines against crank angle");
  take_no_remedies(verb, *typed);
  verb->add_option("--valve", typed->valves, "Draw this valve alone, as often as wanted (else all)")
      ->type_name("NAME")
      ->allow_extra_args(false);
  verb->footer(
      "Compared are each file's own numbers, not what [each_cylinder] lists for single cylinders.\n\n"
      "Exit status:\n"
      "  0  every asked gap of every engine holds\n"
      "  1  in some engine a gap is short or parts touch\n" +
      kFaultStatuses);
  return {verb, [verb, typed] { return compare_arguments(*verb, *typed); }};
}

}  // namespace eyebrow::cli
