#include "verb.hpp"

namespace eyebrow::cli {

Verb take_check(CLI::App& program) {
  struct Words : Typed {
    std::string step;
    bool explain = false;
  };
  const auto typed = std::make_shared<Words>();
  CLI::App* const verb = add_verb(
      program, "check", "Sweep the cycle: every gap, its tightest point, and whether the asked gaps hold", *typed);
  take_engine(verb, *typed);
  take_format(verb, *typed);
  verb->add_option("--step", typed->step, "Crank degrees between two samples (else 1)")->type_name("DEG");
  verb->add_option("--csv", typed->csv,
                   "Write the gaps at each sampled crank angle; - = print them instead of the table")
      ->type_name("FILE");
  take_json(verb, *typed, "the whole result, in mm and degrees");
  take_plot(verb, *typed, "Draw the gaps against crank angle");
  take_no_remedies(verb, *typed);
  verb->add_flag("--explain", typed->explain, "Tell what a little more of each number in the file does to each gap");
  verb->footer(
      "Where the engine file lists what was measured cylinder by cylinder ([each_cylinder]), each is\n"
      "checked, and the worst told in full: verdict and exit status are its own.\n\n" +
      kCheckStatuses);
  return {verb, [verb, typed]() -> Command {
            CheckArguments out;
            read_engine_words(*typed, out);
            read_format(*verb, *typed, out);
            out.explain = typed->explain;
            out.no_remedies = typed->no_remedies;
            if (given(*verb, "--step")) out.step = parse_step("--step", typed->step);
            read_path(*verb, "--csv", typed->csv, out.csv);
            read_path(*verb, "--json", typed->json, out.json);
            read_picture(*verb, "--plot", typed->plot, out.plot);
            require_apart({{"--csv", out.csv}, {"--json", out.json}, {"--plot", out.plot}});
            return out;
          }};
}

}  // namespace eyebrow::cli
