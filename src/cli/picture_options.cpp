#include <algorithm>
#include <tuple>

#include "scene/words.hpp"
#include "verb.hpp"

namespace eyebrow::cli {
namespace {

struct PictureWords : Typed {
  std::string section, color, view, size, cycle, spin;
  std::vector<std::string> places, lit, hidden, transparent;
};

Command picture_arguments(const CLI::App& verb, const PictureWords& typed) {
  PictureArguments out;
  read_engine_words(typed, out);
  read_format(verb, typed, out);
  out.output = parse_picture_or_film("--output", typed.output, given(verb, "--cycle") || given(verb, "--spin"));
  for (const std::string& place : typed.places) out.at.push_back(parse_at("--at", place));
  if (given(verb, "--section") && typed.section != "off") out.section = parse_section("--section", typed.section);
  if (given(verb, "--color")) out.color = parse_word("--color", typed.color, scene::kColoringWords);
  if (given(verb, "--view")) out.view = parse_word("--view", typed.view, scene::kViewWords);
  if (out.view == "square" && out.section.empty())
    throw UsageError("--view: square is to a section; give --section too");
  std::vector<std::string> kinds = scene::kLitWords;
  kinds.push_back("none");
  for (const std::string& kind : typed.lit) out.lit.push_back(parse_word("--lit", kind, kinds));
  if (out.lit.size() > 1 && std::find(out.lit.begin(), out.lit.end(), "none") != out.lit.end())
    throw UsageError("--lit: none stands alone");
  out.hidden = typed.hidden;
  out.transparent = typed.transparent;
  if (given(verb, "--size")) std::tie(out.width, out.height) = parse_size("--size", typed.size);
  if (given(verb, "--cycle")) out.cycle = parse_cycle("--cycle", typed.cycle);
  if (given(verb, "--spin")) out.spin = parse_spin("--spin", typed.spin);
  if (!out.cycle.empty() && (out.spin > 0 || !out.at.empty()))
    throw UsageError("--cycle: says the crank angles by itself; leave out --at and --spin");
  if (out.spin > 0 && out.at.size() > 1) throw UsageError("--spin: turns around one --at");
  return out;
}

/// What is drawn, and from where.
void take_look(CLI::App* verb, PictureWords& typed) {
  verb->add_option(
          "--at", typed.places,
          "12.5ATDC, 8BTDC, degrees, or tightest:NAME such as tightest:intake.radial, tightest:intake/exhaust, "
          "tightest:intake.bore, tightest:piston.head; as often as wanted (else the least margin)")
      ->type_name("PLACE")
      ->allow_extra_args(false);
  verb->add_option("--section", typed.section,
                   "Cut open through a valve's axis (intake, intake@4:30 o'clock), or at x=, y= or z= a length")
      ->type_name("WHERE");
  verb->add_option("--color", typed.color,
                   "Colour the crown by its distance to the valves: gap (now), least (over the cycle); its faces by\n"
                   "what they are taken for: groups; or plain")
      ->type_name("WORD");
  verb->add_option("--view", typed.view,
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
    verb->add_option(name, *values, does)->type_name(word)->allow_extra_args(false);
}

}  // namespace

Verb take_picture(CLI::App& program) {
  const auto typed = std::make_shared<PictureWords>();
  CLI::App* const verb =
      add_verb(program, "picture",
               "Draw the engine in 3-D: the gaps lit, a section, the crown coloured; needs no display", *typed);
  take_engine(verb, *typed);
  verb->add_option("-o,--output", typed->output,
                   "The file to write, .png; with --cycle or --spin also .mp4, .webm or .gif (must be given)")
      ->required()
      ->type_name("FILE");
  take_look(verb, *typed);
  verb->add_option("--size", typed->size, "Pixels (else 1600x1000)")->type_name("WxH");
  verb->add_option("--cycle", typed->cycle, "A picture at each crank angle: 40BTDC:40ATDC:1")
      ->type_name("FROM:TO:STEP");
  verb->add_option("--spin", typed->spin, "So many pictures of one turn around the engine")->type_name("N");
  take_format(verb, *typed);
  verb->footer(
      "Several pictures (more than one --at, --cycle, --spin) get numbers: -o run.png writes run-01.png, run-02.png,\n"
      "..., all or none. Films (.mp4, .webm, .gif) are made by ffmpeg where that is installed.\n"
      "The engine is drawn by the file's own numbers, not by what [each_cylinder] lists for single cylinders.\n\n"
      "Exit status:\n  0  the pictures are written, whether gaps hold or not\n" +
      kFaultStatuses);
  return {verb, [verb, typed] { return picture_arguments(*verb, *typed); }};
}

}  // namespace eyebrow::cli
