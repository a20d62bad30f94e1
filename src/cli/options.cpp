#include "options.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>

#include "spec/nearest.hpp"
#include "values.hpp"
#include "vary.hpp"

namespace eyebrow::cli {
namespace {

const std::vector<std::string> kVerbs = {"check", "compare", "export", "faces", "map", "new", "stack", "untimed"};
const char* const kVerbsInWords = "check, compare, export, faces, map, new, stack or untimed";

/// As many engines take minutes where solids are rebuilt.
constexpr std::size_t kMostCells = 100000;
/// More engines than that nobody reads side by side; and a plot has so many kinds of line.
constexpr std::size_t kMostCompared = 12, kMostDrawn = 4;

const char* const kFaultStatuses =
    "  2  the command line is wrong\n"
    "  3  the engine file or a table beside it is wrong\n"
    "  4  the machine failed: no such folder, disk full, out of memory\n"
    "  130, 143  stopped by an interrupt or a request to end";
const std::string kCheckStatuses = std::string(
                                       "Exit status:\n"
                                       "  0  every asked gap holds\n"
                                       "  1  the check ran and a gap is short or parts touch\n") +
                                   kFaultStatuses;
const std::string kWriteStatuses = std::string("Exit status:\n  0  the file is written\n") + kFaultStatuses;

// Everything as it was typed; what it may be is judged in values.cpp, so that all messages speak alike.
struct Typed {
  std::string engine, output, at, units, digits, step, csv, json, plot, bars, samples, seed;
  std::vector<std::string> engines, set, vary, gaps, valves;
  bool quiet = false, force = false, allowed = false, explain = false, no_remedies = false;
};

struct Parser {
  CLI::App app{"Checks that no valve touches a piston, another valve or the bore at any crank angle.", "eyebrow"};
  Typed typed;
  CLI::App *check, *compare, *export_, *faces, *map, *new_, *stack, *untimed;

  Parser();
  CLI::App* verb(const std::string& name, const std::string& does);
  void take_engine(CLI::App* verb);
  void take_set(CLI::App* verb, const std::string& more = "");
  void take_format(CLI::App* verb);
  void take_plot(CLI::App* verb, const std::string& does);
  void take_no_remedies(CLI::App* verb);
};

CLI::App* Parser::verb(const std::string& name, const std::string& does) {
  CLI::App* verb = app.add_subcommand(name, does);
  verb->group("Verbs");
  verb->allow_extras();  // told by judge_rest, with the nearest right word
  verb->add_flag("--quiet", typed.quiet, "Print nothing but faults and warnings");
  return verb;
}

void Parser::take_engine(CLI::App* verb) {
  verb->add_option("ENGINE", typed.engine, "The engine file; `eyebrow new` writes one to start from")
      ->required()
      ->type_name("");
  take_set(verb);
}

void Parser::take_set(CLI::App* verb, const std::string& more) {
  verb->add_option("--set", typed.set,
                   "Replace a value, as often as wanted: --set \"gasket.thickness=0.051 in\"" + more)
      ->option_text("KEY=VALUE")
      ->allow_extra_args(false);
}

void Parser::take_format(CLI::App* verb) {
  verb->add_option("--units", typed.units, "Unit of what is printed: mm or in (else as in the engine file)")
      ->type_name("UNIT");
  verb->add_option("--digits", typed.digits, "Decimals of a length, 2 to 6 (else 2 in mm, 3 in inches)")
      ->type_name("N");
}

void Parser::take_plot(CLI::App* verb, const std::string& does) {
  verb->add_option("--plot", typed.plot, does + ": a picture, .svg, .pdf or .png")->type_name("FILE");
}

void Parser::take_no_remedies(CLI::App* verb) {
  verb->add_flag("--no-remedies", typed.no_remedies, "Do not look for what would restore a gap that is short");
}

Parser::Parser() {
  app.set_help_flag("--help,-h", "Print this and stop");
  app.set_version_flag("--version", "eyebrow " EYEBROW_VERSION, "Print the version and stop");
  app.footer("`eyebrow VERB --help` tells more of each verb.\n\n" + kCheckStatuses);
  const auto words = app.get_formatter();  // which the verbs share
  words->label("SUBCOMMAND", "VERB");
  words->label("Positionals", "Words");
  words->label("REQUIRED", "");

  check = verb("check", "Sweep the cycle: every gap, its tightest point, and whether the asked gaps hold");
  take_engine(check);
  take_format(check);
  check->add_option("--step", typed.step, "Crank degrees between two samples (else 1)")->type_name("DEG");
  check
      ->add_option("--csv", typed.csv,
                   "Write the gaps at each sampled crank angle; - = print them instead of the table")
      ->type_name("FILE");
  check
      ->add_option("--json", typed.json, "Write the whole result, in mm and degrees; - = print it instead of the table")
      ->type_name("FILE");
  take_plot(check, "Draw the gaps against crank angle");
  take_no_remedies(check);
  check->add_flag("--explain", typed.explain, "Tell what a little more of each number in the file does to each gap");
  check->footer(
      "Where the engine file lists what was measured cylinder by cylinder ([each_cylinder]), each is\n"
      "checked, and the worst told in full: verdict and exit status are its own.\n\n" +
      kCheckStatuses);

  compare = verb("compare", "Two or more engines side by side: gaps, inputs, lifts, where the valves land");
  compare->add_option("ENGINE", typed.engines, "The engine files, two or more; the others are compared with the first")
      ->required()
      ->type_name("");
  take_set(compare, " (in every engine)");
  take_format(compare);
  compare
      ->add_option("--json", typed.json, "Write the whole result, in mm and degrees; - = print it instead of the table")
      ->type_name("FILE");
  take_plot(compare, "Draw the gaps of up to four engines against crank angle");
  take_no_remedies(compare);
  compare->add_option("--valve", typed.valves, "Draw this valve alone, as often as wanted (else all)")
      ->type_name("NAME")
      ->allow_extra_args(false);
  compare->footer(
      "Compared are each file's own numbers, not what [each_cylinder] lists for single cylinders.\n\n"
      "Exit status:\n"
      "  0  every asked gap of every engine holds\n"
      "  1  in some engine a gap is short or parts touch\n" +
      std::string(kFaultStatuses));

  export_ = verb("export", "Write piston crown, valves, bore and gasket as solids (STEP AP214, mm)");
  take_engine(export_);
  export_->add_option("-o,--output", typed.output, "The file to write, .step or .stp (must be given)")
      ->required()
      ->type_name("FILE");
  export_->add_option("--at", typed.at, "Crank angle: 12.5ATDC, 8BTDC, or degrees, negative = before (else TDC)")
      ->type_name("CRANK");
  export_->footer("The solids have the file's own numbers, not what [each_cylinder] lists for single cylinders.\n\n" +
                  kWriteStatuses);

  faces = verb("faces", "What each face of the crown is taken for: pocket floor, wall, crown flat");
  take_engine(faces);
  faces->add_option("--units", typed.units, "Unit of what is printed: mm or in (else as in the engine file)")
      ->type_name("UNIT");
  faces->footer(
      "For a crown from STEP ([piston.step]): what is taken wrong is said there, by number or name.\n\n"
      "Exit status:\n  0  the faces are told\n" +
      std::string(kFaultStatuses));

  map = verb("map", "Every gap over a range of one input or two, and how far an input may go");
  take_engine(map);
  map->add_option("--vary", typed.vary,
                  "An input and its range, once or twice: --vary cam.advance=-8:8:1 (any number in the file)")
      ->option_text("KEY=FROM:TO:STEP")
      ->required()
      ->allow_extra_args(false);
  map->add_flag("--allowed", typed.allowed, "Say how far the one input may go before an asked gap is short");
  map->add_option("--gap", typed.gaps, "Show this gap, as often as wanted: intake.travel, intake/exhaust, piston.head")
      ->type_name("NAME")
      ->allow_extra_args(false);
  take_format(map);
  map->add_option("--csv", typed.csv, "Write every gap at each place of the map; - = print them instead of the table")
      ->type_name("FILE");
  map->add_option("--json", typed.json, "Write the whole map, gaps in mm; - = print it instead of the table")
      ->type_name("FILE");
  take_plot(map, "Draw the map");
  map->footer(
      "The exit status says whether the map was made, not whether a gap holds.\n\n"
      "Exit status:\n  0  the map is made\n" +
      std::string(kFaultStatuses));

  new_ = verb("new", "Write a commented engine file to start from");
  new_->add_option("FILE", typed.output, "The file to write")->required()->type_name("");
  new_->add_flag("--force", typed.force, "Replace the file if it is there already");
  new_->footer(kWriteStatuses);

  stack = verb("stack", "What the tolerances in the file make of every gap: worst case, spread, what drives it");
  take_engine(stack);
  stack->add_option("--samples", typed.samples, "Engines drawn at random, 100 to 1000000 (else 100000)")
      ->type_name("N");
  stack->add_option("--seed", typed.seed, "Another whole number draws other engines (else 1)")->type_name("N");
  stack
      ->add_option("--gap", typed.gaps, "Show this gap, as often as wanted: intake.travel, intake/exhaust, piston.head")
      ->type_name("NAME")
      ->allow_extra_args(false);
  take_format(stack);
  stack->add_option("--csv", typed.csv, "Write a row a gap; - = print them instead of the table")->type_name("FILE");
  stack->add_option("--json", typed.json, "Write the whole result, gaps in mm; - = print it instead of the table")
      ->type_name("FILE");
  take_plot(stack, "Draw how often a gap comes out (of the first --gap, else of the one with the least margin)");
  stack->add_option("--bars", typed.bars, "Draw what each input alone does to that gap: a picture, .svg, .pdf or .png")
      ->type_name("FILE");
  stack->footer(
      "Tolerances stand in the table [tolerance] of the engine file, or are given by --set:\n"
      "  --set \"tolerance.gasket.thickness=+- 0.002 in\"\n\n"
      "Exit status:\n"
      "  0  every asked gap holds, even with every part at the worst end of its tolerance\n"
      "  1  the stack is made, and in its worst case a gap is short or parts touch\n" +
      std::string(kFaultStatuses));

  untimed = verb("untimed", "What if timing is lost: do valves reach the piston at any cam position, and how far out");
  take_engine(untimed);
  take_format(untimed);
  untimed
      ->add_option("--json", typed.json, "Write the whole result, in mm and degrees; - = print it instead of the table")
      ->type_name("FILE");
  untimed->footer(
      "Told of the file's own numbers, not of what [each_cylinder] lists for single cylinders.\n\n"
      "Exit status:\n"
      "  0  nothing can touch at any cam position\n"
      "  1  parts can touch when timing is lost\n" +
      std::string(kFaultStatuses));
}

// Words that no option took.
void judge_rest(const CLI::App& verb) {
  const std::vector<std::string> rest = verb.remaining();
  if (rest.empty()) return;
  const std::string& first = rest.front();
  if (!first.starts_with('-')) throw UsageError(fmt::format("{}: \"{}\" is one word too many", verb.get_name(), first));
  std::vector<std::string> options;
  for (const CLI::Option* option : verb.get_options())
    for (const std::string& name : option->get_lnames()) options.push_back("--" + name);
  throw UsageError(fmt::format("{} has no option \"{}\"{}", verb.get_name(), first,
                               did_you_mean(first.substr(0, first.find('=')), options)));
}

// What CLI11 found wrong, in our words.
std::string explained(const CLI::ParseError& error) {
  std::string what = error.what();
  const std::string subject = what.substr(0, what.find(':'));
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) == nullptr) return what;
  if (what.find("At Most") != std::string::npos) return subject + ": given more than once";
  return subject + ": its value is missing";
}

std::vector<Override> overrides(const std::vector<std::string>& texts) {
  std::vector<Override> out;
  for (const std::string& text : texts) {
    try {
      out.push_back(parse_override(text));
    } catch (const InputError& error) {
      throw UsageError(error.what());
    }
  }
  return out;
}

// Each file its own.
void require_apart(const std::vector<std::pair<std::string, std::string>>& files) {
  for (std::size_t i = 0; i < files.size(); ++i)
    for (std::size_t k = i + 1; k < files.size(); ++k)
      if (!files[i].second.empty() && files[i].second == files[k].second)
        throw UsageError(fmt::format("{} and {} both name \"{}\"; give each its own", files[i].first, files[k].first,
                                     files[i].second));
}

// `given`: an option with an empty value was given, which must not pass for one that was not.
CheckArguments check_arguments(const CLI::App& verb, const Typed& typed) {
  const auto given = [&](const char* option) { return verb.count(option) > 0; };
  CheckArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  out.explain = typed.explain;
  out.no_remedies = typed.no_remedies;
  if (given("--units")) out.units = parse_units("--units", typed.units);
  if (given("--digits")) out.digits = parse_digits("--digits", typed.digits);
  if (given("--step")) out.step = parse_step("--step", typed.step);
  if (given("--csv")) out.csv = parse_path("--csv", typed.csv);
  if (given("--json")) out.json = parse_path("--json", typed.json);
  if (given("--plot")) out.plot = parse_picture("--plot", typed.plot);
  require_apart({{"--csv", out.csv}, {"--json", out.json}, {"--plot", out.plot}});
  out.overrides = overrides(typed.set);
  return out;
}

CompareArguments compare_arguments(const CLI::App& verb, const Typed& typed) {
  const auto given = [&](const char* option) { return verb.count(option) > 0; };
  CompareArguments out;
  for (const std::string& engine : typed.engines) out.engines.push_back(parse_path("ENGINE", engine));
  if (out.engines.size() < 2) throw UsageError("compare: takes two engine files or more");
  if (out.engines.size() > kMostCompared)
    throw UsageError(fmt::format("compare: {} engine files are more than {}", out.engines.size(), kMostCompared));
  out.quiet = typed.quiet;
  out.valves = typed.valves;
  out.no_remedies = typed.no_remedies;
  if (given("--units")) out.units = parse_units("--units", typed.units);
  if (given("--digits")) out.digits = parse_digits("--digits", typed.digits);
  if (given("--json")) out.json = parse_path("--json", typed.json);
  if (given("--plot")) out.plot = parse_picture("--plot", typed.plot);
  if (!out.plot.empty() && out.engines.size() > kMostDrawn)
    throw UsageError(fmt::format("--plot: a picture tells {} engines apart, not {}", kMostDrawn, out.engines.size()));
  if (!out.valves.empty() && out.plot.empty()) throw UsageError("--valve: chooses what is drawn; give --plot too");
  require_apart({{"--json", out.json}, {"--plot", out.plot}});
  out.overrides = overrides(typed.set);
  return out;
}

MapArguments map_arguments(const CLI::App& verb, const Typed& typed) {
  const auto given = [&](const char* option) { return verb.count(option) > 0; };
  MapArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
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
  if (given("--units")) out.units = parse_units("--units", typed.units);
  if (given("--digits")) out.digits = parse_digits("--digits", typed.digits);
  if (given("--csv")) out.csv = parse_path("--csv", typed.csv);
  if (given("--json")) out.json = parse_path("--json", typed.json);
  if (given("--plot")) out.plot = parse_picture("--plot", typed.plot);
  require_apart({{"--csv", out.csv}, {"--json", out.json}, {"--plot", out.plot}});
  out.overrides = overrides(typed.set);
  return out;
}

UntimedArguments untimed_arguments(const CLI::App& verb, const Typed& typed) {
  const auto given = [&](const char* option) { return verb.count(option) > 0; };
  UntimedArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  if (given("--units")) out.units = parse_units("--units", typed.units);
  if (given("--digits")) out.digits = parse_digits("--digits", typed.digits);
  if (given("--json")) out.json = parse_path("--json", typed.json);
  out.overrides = overrides(typed.set);
  return out;
}

StackArguments stack_arguments(const CLI::App& verb, const Typed& typed) {
  const auto given = [&](const char* option) { return verb.count(option) > 0; };
  StackArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  out.gaps = typed.gaps;
  if (given("--samples")) out.samples = parse_samples("--samples", typed.samples);
  if (given("--seed")) out.seed = parse_seed("--seed", typed.seed);
  if (given("--units")) out.units = parse_units("--units", typed.units);
  if (given("--digits")) out.digits = parse_digits("--digits", typed.digits);
  if (given("--csv")) out.csv = parse_path("--csv", typed.csv);
  if (given("--json")) out.json = parse_path("--json", typed.json);
  if (given("--plot")) out.plot = parse_picture("--plot", typed.plot);
  if (given("--bars")) out.bars = parse_picture("--bars", typed.bars);
  require_apart({{"--csv", out.csv}, {"--json", out.json}, {"--plot", out.plot}, {"--bars", out.bars}});
  out.overrides = overrides(typed.set);
  return out;
}

FacesArguments faces_arguments(const CLI::App& verb, const Typed& typed) {
  FacesArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  if (verb.count("--units") > 0) out.units = parse_units("--units", typed.units);
  out.overrides = overrides(typed.set);
  return out;
}

ExportArguments export_arguments(const CLI::App& verb, const Typed& typed) {
  ExportArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  out.output = parse_step_file("--output", typed.output);
  if (verb.count("--at") > 0) out.crank = parse_crank("--at", typed.at);
  out.overrides = overrides(typed.set);
  return out;
}

}  // namespace

Command parse_command_line(int argc, const char* const* argv) {
  Parser parser;
  if (argc < 2) throw UsageError(fmt::format("a verb is missing: {} (`eyebrow --help` tells more)", kVerbsInWords));
  const std::string first = argv[1];
  const bool of_the_program = first == "--help" || first == "-h" || first == "--version";
  if (!of_the_program && first.starts_with('-'))
    throw UsageError(fmt::format("\"{}\" stands where the verb belongs: {}", first, kVerbsInWords));
  if (!of_the_program && std::find(kVerbs.begin(), kVerbs.end(), first) == kVerbs.end())
    throw UsageError(fmt::format("\"{}\" is no verb{}", first, did_you_mean(first, kVerbs)));
  try {
    parser.app.parse(argc, argv);
  } catch (const CLI::CallForVersion& version) {
    return Shown{std::string(version.what()) + "\n"};
  } catch (const CLI::CallForHelp&) {
    return Shown{parser.app.help()};
  } catch (const CLI::ParseError& error) {
    // A word that is not known explains more than what is missing because of it.
    for (const CLI::App* verb : parser.app.get_subcommands()) judge_rest(*verb);
    throw UsageError(explained(error));
  }
  for (const CLI::App* verb : parser.app.get_subcommands()) judge_rest(*verb);
  if (parser.check->parsed()) return check_arguments(*parser.check, parser.typed);
  if (parser.compare->parsed()) return compare_arguments(*parser.compare, parser.typed);
  if (parser.export_->parsed()) return export_arguments(*parser.export_, parser.typed);
  if (parser.faces->parsed()) return faces_arguments(*parser.faces, parser.typed);
  if (parser.map->parsed()) return map_arguments(*parser.map, parser.typed);
  if (parser.stack->parsed()) return stack_arguments(*parser.stack, parser.typed);
  if (parser.untimed->parsed()) return untimed_arguments(*parser.untimed, parser.typed);
  if (parser.new_->parsed())
    return NewArguments{parse_path("FILE", parser.typed.output), parser.typed.force, parser.typed.quiet};
  throw UsageError(fmt::format("a verb is missing: {} (`eyebrow --help` tells more)", kVerbsInWords));
}

}  // namespace eyebrow::cli
