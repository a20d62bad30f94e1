#include "options.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <tuple>

#include "scene/words.hpp"
#include "spec/nearest.hpp"
#include "values.hpp"
#include "vary.hpp"

namespace eyebrow::cli {
namespace {

const std::vector<std::string> kVerbs = {"check",   "compare", "export", "faces",   "map", "new",
                                         "picture", "pocket",  "stack",  "untimed", "view"};
const char* const kVerbsInWords = "check, compare, export, faces, map, new, picture, pocket, stack, untimed or view";

/// As many engines take minutes where solids are rebuilt.
constexpr std::size_t kMostCells = 100000;
/// More engines than that nobody reads side by side; and a plot has so many kinds of line.
constexpr std::size_t kMostCompared = 12, kMostDrawn = 4;

/// Cutters and walls of metal, mm: from model engines to marine diesels.
constexpr double kMostCorner = 50, kLeastCutter = 1, kMostCutter = 400, kMostMetal = 100;

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
  std::string section, color, view, size, cycle, spin;
  std::vector<std::string> engines, set, vary, gaps, valves, places, lit, hidden, transparent;
  std::string corner, cutter, tilt, over_groove, over_underside, between, share, fix, sheet;
  bool quiet = false, force = false, allowed = false, explain = false, no_remedies = false;
  bool keep_place = false, existing = false, thickest = false, crown_not_known = false, worst_case = false;
};

struct Parser {
  CLI::App app{"Checks that no valve touches a piston, another valve or the bore at any crank angle.", "eyebrow"};
  Typed typed;
  CLI::App *check, *compare, *export_, *faces, *map, *new_, *picture, *pocket, *stack, *untimed, *view;

  Parser();
  CLI::App* verb(const std::string& name, const std::string& does);
  void take_picture();
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
  export_->add_option("--at", typed.at, "12.5ATDC, 8BTDC, degrees, tightest, or tightest:intake.radial (else TDC)")
      ->type_name("CRANK");
  export_->footer(
      "Beside the solids: a curve for each gap of the valves, named with what it measures.\n"
      "The solids have the file's own numbers, not what [each_cylinder] lists for single cylinders.\n\n" +
      kWriteStatuses);

  faces = verb("faces", "What each face of the crown is taken for, and the outline of a valve from STEP");
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

  take_picture();
  pocket = verb("pocket", "Size the pockets for the asked gaps: place, diameter, depth, corner, and the crown left");
  take_engine(pocket);
  pocket->add_flag("--existing", typed.existing, "Keep the pockets that are there; deeper and wider by the least");
  pocket
      ->add_option("--corner", typed.corner,
                   "Corner radii of the cutters to choose from: 1mm,2mm (else as in the file)")
      ->type_name("LIST");
  pocket->add_option("--cutter", typed.cutter, "Diameters of the cutters to choose from: 48mm,50mm (else any)")
      ->type_name("LIST");
  pocket->add_option("--tilt", typed.tilt, "Degrees that every pocket's axis is tilted (else parallel to its valve)")
      ->type_name("DEG");
  pocket->add_flag("--keep-place", typed.keep_place, "Leave x and y of the pockets as they are in the file");
  pocket->add_flag("--thickest", typed.thickest, "Leave the thinnest metal as thick as can be (else remove the least)");
  pocket->add_option("--over-groove", typed.over_groove, "Metal to leave over the ring groove, with its unit")
      ->type_name("LENGTH");
  pocket->add_option("--over-underside", typed.over_underside, "Metal to leave over the crown's underside")
      ->type_name("LENGTH");
  pocket->add_option("--between", typed.between, "Metal to leave between pockets")->type_name("LENGTH");
  pocket->add_flag("--worst-case", typed.worst_case,
                   "Leave every asked gap of valves to the piston anywhere within the file's tolerances");
  pocket
      ->add_option("--share", typed.share, "Or leave all of them in this share of engines within the tolerances: 99.9%")
      ->type_name("SHARE");
  take_format(pocket);
  pocket
      ->add_option("--json", typed.json, "Write the whole result, in mm and degrees; - = print it instead of the table")
      ->type_name("FILE");
  pocket->add_option("--fix", typed.fix, "Write the engine file with these pockets in it, comments kept")
      ->type_name("FILE");
  pocket->add_flag("--crown-not-known", typed.crown_not_known, "Let --fix write where crown left is NOT KNOWN");
  pocket->add_option("--sheet", typed.sheet, "Draw the sheet for the machinist: .svg, .pdf or .png")->type_name("FILE");
  pocket->footer(
      "Sized for the file's own numbers, not for what [each_cylinder] lists for single cylinders;\n"
      "with --worst-case or --share for what the table [tolerance] makes of them.\n\n"
      "Exit status:\n"
      "  0  the pockets leave everything that is asked of them\n"
      "  1  no pocket that was found leaves it, or it could not be shown within the tolerances\n" +
      std::string(kFaultStatuses));

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

  view = verb("view", "The window: numbers, gaps against crank angle, the moving parts; every change checked at once");
  view->add_option("ENGINE", typed.engine, "The engine file; without one, the file that `eyebrow new` writes")
      ->type_name("");
  take_set(view, "; as if typed there");
  view->footer("Needs a display.\n\nExit status:\n  0  the window was closed\n" + std::string(kFaultStatuses));
}

void Parser::take_picture() {
  picture = verb("picture", "Draw the engine in 3-D: the gaps lit, a section, the crown coloured; needs no display");
  take_engine(picture);
  picture
      ->add_option("-o,--output", typed.output,
                   "The file to write, .png; with --cycle or --spin also .mp4, .webm or .gif (must be given)")
      ->required()
      ->type_name("FILE");
  picture
      ->add_option(
          "--at", typed.places,
          "12.5ATDC, 8BTDC, degrees, or tightest:NAME such as tightest:intake.radial, tightest:intake/exhaust, "
          "tightest:intake.bore, tightest:piston.head; as often as wanted (else the least margin)")
      ->type_name("PLACE")
      ->allow_extra_args(false);
  picture
      ->add_option("--section", typed.section,
                   "Cut open through a valve's axis (intake, intake@4:30 o'clock), or at x=, y= or z= a length")
      ->type_name("WHERE");
  picture
      ->add_option("--color", typed.color,
                   "Colour the crown by its distance to the valves: gap (now), least (over the cycle); its faces by\n"
                   "what they are taken for: groups; or plain")
      ->type_name("WORD");
  picture
      ->add_option("--view", typed.view,
                   "From where: best, near, square (to the section), front, rear, right, left, above")
      ->type_name("WORD");
  for (const auto& [name, values, does, word] :
       {std::tuple{
            "--lit", &typed.lit,
            "Light this kind of gap alone, as often as wanted: travel, face, radial, closest, valves, bore, head; or "
            "none",
            "KIND"},
        std::tuple{"--hide", &typed.hidden,
                   "Leave out a part, as often as wanted: crown, bore, gasket, \"valve intake\"", "PART"},
        std::tuple{"--transparent", &typed.transparent, "Let one see through a part, as often as wanted", "PART"}})
    picture->add_option(name, *values, does)->type_name(word)->allow_extra_args(false);
  picture->add_option("--size", typed.size, "Pixels (else 1600x1000)")->type_name("WxH");
  picture->add_option("--cycle", typed.cycle, "A picture at each crank angle: 40BTDC:40ATDC:1")
      ->type_name("FROM:TO:STEP");
  picture->add_option("--spin", typed.spin, "So many pictures of one turn around the engine")->type_name("N");
  take_format(picture);
  picture->footer(
      "Several pictures (more than one --at, --cycle, --spin) get numbers: -o run.png writes run-01.png, run-02.png,\n"
      "..., all or none. Films (.mp4, .webm, .gif) are made by ffmpeg where that is installed.\n"
      "The engine is drawn by the file's own numbers, not by what [each_cylinder] lists for single cylinders.\n\n"
      "Exit status:\n  0  the pictures are written, whether gaps hold or not\n" +
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

PictureArguments picture_arguments(const CLI::App& verb, const Typed& typed) {
  const auto given = [&](const char* option) { return verb.count(option) > 0; };
  PictureArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  out.output = parse_picture_or_film("--output", typed.output, given("--cycle") || given("--spin"));
  for (const std::string& place : typed.places) out.at.push_back(parse_at("--at", place));
  if (given("--section") && typed.section != "off") out.section = parse_section("--section", typed.section);
  if (given("--color")) out.color = parse_word("--color", typed.color, scene::kColoringWords);
  if (given("--view")) out.view = parse_word("--view", typed.view, scene::kViewWords);
  if (out.view == "square" && out.section.empty())
    throw UsageError("--view: square is to a section; give --section too");
  std::vector<std::string> kinds = scene::kLitWords;
  kinds.push_back("none");
  for (const std::string& kind : typed.lit) out.lit.push_back(parse_word("--lit", kind, kinds));
  if (out.lit.size() > 1 && std::find(out.lit.begin(), out.lit.end(), "none") != out.lit.end())
    throw UsageError("--lit: none stands alone");
  out.hidden = typed.hidden;
  out.transparent = typed.transparent;
  if (given("--size")) std::tie(out.width, out.height) = parse_size("--size", typed.size);
  if (given("--cycle")) out.cycle = parse_cycle("--cycle", typed.cycle);
  if (given("--spin")) out.spin = parse_spin("--spin", typed.spin);
  if (!out.cycle.empty() && (out.spin > 0 || !out.at.empty()))
    throw UsageError("--cycle: says the crank angles by itself; leave out --at and --spin");
  if (out.spin > 0 && out.at.size() > 1) throw UsageError("--spin: turns around one --at");
  if (given("--units")) out.units = parse_units("--units", typed.units);
  if (given("--digits")) out.digits = parse_digits("--digits", typed.digits);
  out.overrides = overrides(typed.set);
  return out;
}

PocketArguments pocket_arguments(const CLI::App& verb, const Typed& typed) {
  const auto given = [&](const char* option) { return verb.count(option) > 0; };
  PocketArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  out.crown_not_known = typed.crown_not_known;
  PocketWish& wish = out.wish;
  wish.existing = typed.existing;
  wish.hold_place = typed.keep_place;
  if (typed.thickest) wish.goal = PocketWish::Goal::thickest;
  if (given("--corner")) wish.corners = parse_lengths("--corner", typed.corner, 0, kMostCorner);
  if (given("--cutter")) wish.diameters = parse_lengths("--cutter", typed.cutter, kLeastCutter, kMostCutter);
  if (given("--tilt")) wish.tilt = parse_tilt("--tilt", typed.tilt);
  const auto metal = [&](const char* option, const std::string& text, double& asked) {
    if (given(option)) asked = parse_length(option, text, 0, kMostMetal);
  };
  metal("--over-groove", typed.over_groove, wish.over_groove);
  metal("--over-underside", typed.over_underside, wish.over_underside);
  metal("--between", typed.between, wish.between);
  out.worst_case = typed.worst_case;
  if (given("--share")) out.share = parse_share("--share", typed.share);
  if (out.worst_case && out.share) throw UsageError("--share: --worst-case asks for all engines; give one of the two");
  for (const char* option : {"--corner", "--cutter", "--tilt", "--keep-place", "--thickest"})
    if (wish.existing && given(option))
      throw UsageError(
          fmt::format("{}: --existing keeps place, tilt and cutter of the pockets that are there", option));
  if (given("--units")) out.units = parse_units("--units", typed.units);
  if (given("--digits")) out.digits = parse_digits("--digits", typed.digits);
  if (given("--json")) out.json = parse_path("--json", typed.json);
  if (given("--fix")) out.fix = parse_path("--fix", typed.fix);
  if (given("--sheet")) out.sheet = parse_picture("--sheet", typed.sheet);
  if (out.crown_not_known && out.fix.empty()) throw UsageError("--crown-not-known: goes with --fix");
  require_apart({{"--json", out.json}, {"--fix", out.fix}, {"--sheet", out.sheet}});
  out.overrides = overrides(typed.set);
  return out;
}

ExportArguments export_arguments(const CLI::App& verb, const Typed& typed) {
  ExportArguments out;
  out.engine = parse_path("ENGINE", typed.engine);
  out.quiet = typed.quiet;
  out.output = parse_step_file("--output", typed.output);
  if (verb.count("--at") > 0) out.at = parse_at("--at", typed.at);
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
  if (parser.picture->parsed()) {
    PictureArguments out = picture_arguments(*parser.picture, parser.typed);
    out.words.assign(argv + 1, argv + argc);
    return out;
  }
  if (parser.pocket->parsed()) return pocket_arguments(*parser.pocket, parser.typed);
  if (parser.stack->parsed()) return stack_arguments(*parser.stack, parser.typed);
  if (parser.view->parsed()) {
    const std::string& engine = parser.typed.engine;
    return ViewArguments{
        {argv + 1, argv + argc}, engine.empty() ? "" : parse_path("ENGINE", engine), overrides(parser.typed.set)};
  }
  if (parser.untimed->parsed()) return untimed_arguments(*parser.untimed, parser.typed);
  if (parser.new_->parsed())
    return NewArguments{parse_path("FILE", parser.typed.output), parser.typed.force, parser.typed.quiet};
  throw UsageError(fmt::format("a verb is missing: {} (`eyebrow --help` tells more)", kVerbsInWords));
}

}  // namespace eyebrow::cli
