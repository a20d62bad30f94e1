// Verbs that take little: export, faces, new, untimed, view.
#include "verb.hpp"

namespace eyebrow::cli {

Verb take_export(CLI::App& program) {
  struct Words : Typed {
    std::string at;
  };
  const auto typed = std::make_shared<Words>();
  CLI::App* const verb =
      add_verb(program, "export", "Write piston crown, valves, bore and gasket as solids (STEP AP214, mm)", *typed);
  take_engine(verb, *typed);
  verb->add_option("-o,--output", typed->output, "The file to write, .step or .stp (must be given)")
      ->required()
      ->type_name("FILE");
  verb->add_option("--at", typed->at, "12.5ATDC, 8BTDC, degrees, tightest, or tightest:intake.radial (else TDC)")
      ->type_name("CRANK");
  verb->footer(
      "Beside the solids: a curve for each gap of the valves, named with what it measures.\n"
      "The solids have the file's own numbers, not what [each_cylinder] lists for single cylinders.\n\n" +
      kWriteStatuses);
  return {verb, [verb, typed]() -> Command {
            ExportArguments out;
            read_engine_words(*typed, out);
            out.output = parse_step_file("--output", typed->output);
            if (given(*verb, "--at")) out.at = parse_at("--at", typed->at);
            return out;
          }};
}

Verb take_faces(CLI::App& program) {
  const auto typed = std::make_shared<Typed>();
  CLI::App* const verb = add_verb(
      program, "faces", "What each face of the crown is taken for, and the outline of a valve from STEP", *typed);
  take_engine(verb, *typed);
  take_units(verb, *typed);
  verb->footer(
      "For a crown from STEP ([piston.step]): what is taken wrong is said there, by number or name.\n\n"
      "Exit status:\n  0  the faces are told\n" +
      kFaultStatuses);
  return {verb, [verb, typed]() -> Command {
            FacesArguments out;
            read_engine_words(*typed, out);
            if (given(*verb, "--units")) out.units = parse_units("--units", typed->units);
            return out;
          }};
}

Verb take_new(CLI::App& program) {
  struct Words : Typed {
    bool force = false;
  };
  const auto typed = std::make_shared<Words>();
  CLI::App* const verb = add_verb(program, "new", "Write a commented engine file to start from", *typed);
  verb->add_option("FILE", typed->output, "The file to write")->required()->type_name("");
  verb->add_flag("--force", typed->force, "Replace the file if it is there already");
  verb->footer(kWriteStatuses);
  return {verb, [typed]() -> Command {
            return NewArguments{parse_path("FILE", typed->output), typed->force, typed->quiet};
          }};
}

Verb take_untimed(CLI::App& program) {
  const auto typed = std::make_shared<Typed>();
  CLI::App* const verb =
      add_verb(program, "untimed",
               "What if timing is lost: do valves reach the piston at any cam position, and how far out", *typed);
  take_engine(verb, *typed);
  take_format(verb, *typed);
  take_json(verb, *typed, "the whole result, in mm and degrees");
  verb->footer(
      "Told of the file's own numbers, not of what [each_cylinder] lists for single cylinders.\n\n"
      "Exit status:\n"
      "  0  nothing can touch at any cam position\n"
      "  1  parts can touch when timing is lost\n" +
      kFaultStatuses);
  return {verb, [verb, typed]() -> Command {
            UntimedArguments out;
            read_engine_words(*typed, out);
            read_format(*verb, *typed, out);
            read_path(*verb, "--json", typed->json, out.json);
            return out;
          }};
}

Verb take_view(CLI::App& program) {
  const auto typed = std::make_shared<Typed>();
  CLI::App* const verb =
      add_verb(program, "view",
               "The window: numbers, gaps against crank angle, the moving parts; every change checked at once", *typed);
  verb->add_option("ENGINE", typed->engine, "The engine file; without one, the file that `eyebrow new` writes")
      ->type_name("");
  take_set(verb, *typed, "; as if typed there");
  verb->footer("Needs a display.\n\nExit status:\n  0  the window was closed\n" + kFaultStatuses);
  return {verb, [typed]() -> Command {
            return ViewArguments{
                {}, typed->engine.empty() ? "" : parse_path("ENGINE", typed->engine), overrides(typed->set)};
          }};
}

}  // namespace eyebrow::cli
