#include <fmt/format.h>

#include "verb.hpp"

namespace eyebrow::cli {
namespace {

/// Cutters and walls of metal, mm: from model engines to marine diesels.
constexpr double kMostCorner = 50, kLeastCutter = 1, kMostCutter = 400, kMostMetal = 100;

struct PocketWords : Typed {
  std::string corner, cutter, tilt, over_groove, over_underside, between, share, fix, sheet;
  bool keep_place = false, existing = false, thickest = false, crown_not_known = false, worst_case = false;
};

PocketWish wish_of(const CLI::App& verb, const PocketWords& typed) {
  PocketWish wish;
  wish.existing = typed.existing;
  wish.hold_place = typed.keep_place;
  if (typed.thickest) wish.goal = PocketWish::Goal::thickest;
  if (given(verb, "--corner")) wish.corners = parse_lengths("--corner", typed.corner, 0, kMostCorner);
  if (given(verb, "--cutter")) wish.diameters = parse_lengths("--cutter", typed.cutter, kLeastCutter, kMostCutter);
  if (given(verb, "--tilt")) wish.tilt = parse_tilt("--tilt", typed.tilt);
  const auto metal = [&](const char* option, const std::string& text, double& asked) {
    if (given(verb, option)) asked = parse_length(option, text, 0, kMostMetal);
  };
  metal("--over-groove", typed.over_groove, wish.over_groove);
  metal("--over-underside", typed.over_underside, wish.over_underside);
  metal("--between", typed.between, wish.between);
  for (const char* option : {"--corner", "--cutter", "--tilt", "--keep-place", "--thickest"})
    if (wish.existing && given(verb, option))
      throw UsageError(
          fmt::format("{}: --existing keeps place, tilt and cutter of the pockets that are there", option));
  return wish;
}

Command pocket_arguments(const CLI::App& verb, const PocketWords& typed) {
  PocketArguments out;
  read_engine_words(typed, out);
  read_format(verb, typed, out);
  out.wish = wish_of(verb, typed);
  out.worst_case = typed.worst_case;
  if (given(verb, "--share")) out.share = parse_share("--share", typed.share);
  if (out.worst_case && out.share) throw UsageError("--share: --worst-case asks for all engines; give one of the two");
  read_path(verb, "--json", typed.json, out.json);
  read_path(verb, "--fix", typed.fix, out.fix);
  read_picture(verb, "--sheet", typed.sheet, out.sheet);
  out.crown_not_known = typed.crown_not_known;
  if (out.crown_not_known && out.fix.empty()) throw UsageError("--crown-not-known: goes with --fix");
  require_apart({{"--json", out.json}, {"--fix", out.fix}, {"--sheet", out.sheet}});
  return out;
}

void take_wish(CLI::App* verb, PocketWords& typed) {
  verb->add_flag("--existing", typed.existing, "Keep the pockets that are there; deeper and wider by the least");
  verb->add_option("--corner", typed.corner,
                   "Corner radii of the cutters to choose from: 1mm,2mm (else as in the file)")
      ->type_name("LIST");
  verb->add_option("--cutter", typed.cutter, "Diameters of the cutters to choose from: 48mm,50mm (else any)")
      ->type_name("LIST");
  verb->add_option("--tilt", typed.tilt, "Degrees that every pocket's axis is tilted (else parallel to its valve)")
      ->type_name("DEG");
  verb->add_flag("--keep-place", typed.keep_place, "Leave x and y of the pockets as they are in the file");
  verb->add_flag("--thickest", typed.thickest, "Leave the thinnest metal as thick as can be (else remove the least)");
  verb->add_option("--over-groove", typed.over_groove, "Metal to leave over the ring groove, with its unit")
      ->type_name("LENGTH");
  verb->add_option("--over-underside", typed.over_underside, "Metal to leave over the crown's underside")
      ->type_name("LENGTH");
  verb->add_option("--between", typed.between, "Metal to leave between pockets")->type_name("LENGTH");
  verb->add_flag("--worst-case", typed.worst_case,
                 "Leave every asked gap of valves to the piston anywhere within the file's tolerances");
  verb->add_option("--share", typed.share, "Or leave all of them in this share of engines within the tolerances: 99.9%")
      ->type_name("SHARE");
}

}  // namespace

Verb take_pocket(CLI::App& program) {
  const auto typed = std::make_shared<PocketWords>();
  CLI::App* const verb =
      add_verb(program, "pocket",
               "Size the pockets for the asked gaps: place, diameter, depth, corner, and the crown left", *typed);
  take_engine(verb, *typed);
  take_wish(verb, *typed);
  take_format(verb, *typed);
  take_json(verb, *typed, "the whole result, in mm and degrees");
  verb->add_option("--fix", typed->fix, "Write the engine file with these pockets in it, comments kept")
      ->type_name("FILE");
  verb->add_flag("--crown-not-known", typed->crown_not_known, "Let --fix write where crown left is NOT KNOWN");
  verb->add_option("--sheet", typed->sheet, "Draw the sheet for the machinist: .svg, .pdf or .png")->type_name("FILE");
  verb->footer(
      "Sized for the file's own numbers, not for what [each_cylinder] lists for single cylinders;\n"
      "with --worst-case or --share for what the table [tolerance] makes of them.\n\n"
      "Exit status:\n"
      "  0  the pockets leave everything that is asked of them\n"
      "  1  no pocket that was found leaves it, or it could not be shown within the tolerances\n" +
      kFaultStatuses);
  return {verb, [verb, typed] { return pocket_arguments(*verb, *typed); }};
}

}  // namespace eyebrow::cli
