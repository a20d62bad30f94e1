#include <fmt/format.h>

#include "vary.hpp"
#include "verb.hpp"

namespace eyebrow::cli {
namespace {

/// As many engines take minutes where solids are rebuilt.
constexpr std::size_t kMostCells = 100000;

struct MapWords : Typed {
  std::vector<std::string> vary;
  bool allowed = false;
};

Command map_arguments(const CLI::App& verb, const MapWords& typed) {
  MapArguments out;
  read_engine_words(typed, out);
  read_format(verb, typed, out);
  out.allowed = typed.allowed;
  out.gaps = typed.gaps;
  if (typed.vary.size() > 2) throw UsageError("--vary: a map is over one input or two");
  for (const std::string& text : typed.vary) out.inputs.push_back(parse_vary("--vary", text));
  if (out.inputs.size() == 2 && out.inputs[0].key == out.inputs[1].key)
    throw UsageError(fmt::format("--vary: \"{}\" is varied twice", out.inputs[0].key));
  if (out.allowed && out.inputs.size() != 1) throw UsageError("--allowed: tells of one input; give --vary once");
  std::size_t cells = 1;
  for (const Varied& input : out.inputs) cells *= input.values.size();
  if (cells > kMostCells)
    throw UsageError(fmt::format("--vary: {} engines are more than {}; take wider steps", cells, kMostCells));
  read_path(verb, "--csv", typed.csv, out.csv);
  read_path(verb, "--json", typed.json, out.json);
  read_picture(verb, "--plot", typed.plot, out.plot);
  require_apart({{"--csv", out.csv}, {"--json", out.json}, {"--plot", out.plot}});
  return out;
}

}  // namespace

Verb take_map(CLI::App& program) {
  const auto typed = std::make_shared<MapWords>();
  CLI::App* const verb =
      add_verb(program, "map", "Every gap over a range of one input or two, and how far an input may go", *typed);
  take_engine(verb, *typed);
  verb->add_option("--vary", typed->vary,
                   "An input and its range, once or twice: --vary cam.advance=-8:8:1 (any number in the file)")
      ->option_text("KEY=FROM:TO:STEP")
      ->required()
      ->allow_extra_args(false);
  verb->add_flag("--allowed", typed->allowed, "Say how far the one input may go before an asked gap is short");
  take_gaps(verb, *typed);
  take_format(verb, *typed);
  verb->add_option("--csv", typed->csv, "Write every gap at each place of the map; - = print them instead of the table")
      ->type_name("FILE");
  take_json(verb, *typed, "the whole map, gaps in mm");
  take_plot(verb, *typed, "Draw the map");
  verb->footer(
      "The exit status says whether the map was made, not whether a gap holds.\n\n"
      "Exit status:\n  0  the map is made\n" +
      kFaultStatuses);
  return {verb, [verb, typed] { return map_arguments(*verb, *typed); }};
}

}  // namespace eyebrow::cli
