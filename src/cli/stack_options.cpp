#include "verb.hpp"

namespace eyebrow::cli {

Verb take_stack(CLI::App& program) {
  struct Words : Typed {
    std::string samples, seed, bars;
  };
  const auto typed = std::make_shared<Words>();
  CLI::App* const verb =
      add_verb(program, "stack",
               "What the tolerances in the file make of every gap: worst case, spread, what drives it", *typed);
  take_engine(verb, *typed);
  verb->add_option("--samples", typed->samples, "Engines drawn at random, 100 to 1000000 (else 100000)")
      ->type_name("N");
  verb->add_option("--seed", typed->seed, "Another whole number draws other engines (else 1)")->type_name("N");
  take_gaps(verb, *typed);
  take_format(verb, *typed);
  verb->add_option("--csv", typed->csv, "Write a row a gap; - = print them instead of the table")->type_name("FILE");
  take_json(verb, *typed, "the whole result, gaps in mm");
  take_plot(verb, *typed, "Draw how often a gap comes out (of the first --gap, else of the one with the least margin)");
  verb->add_option("--bars", typed->bars, "Draw what each input alone does to that gap: a picture, .svg, .pdf or .png")
      ->type_name("FILE");
  verb->footer(
      "Tolerances stand in the table [tolerance] of the engine file, or are given by --set:\n"
      "  --set \"tolerance.gasket.thickness=+- 0.002 in\"\n\n"
      "Exit status:\n"
      "  0  every asked gap holds, even with every part at the worst end of its tolerance\n"
      "  1  the stack is made, and in its worst case a gap is short or parts touch\n" +
      kFaultStatuses);
  return {verb, [verb, typed]() -> Command {
            StackArguments out;
            read_engine_words(*typed, out);
            read_format(*verb, *typed, out);
            out.gaps = typed->gaps;
            if (given(*verb, "--samples")) out.samples = parse_samples("--samples", typed->samples);
            if (given(*verb, "--seed")) out.seed = parse_seed("--seed", typed->seed);
            read_path(*verb, "--csv", typed->csv, out.csv);
            read_path(*verb, "--json", typed->json, out.json);
            read_picture(*verb, "--plot", typed->plot, out.plot);
            read_picture(*verb, "--bars", typed->bars, out.bars);
            require_apart({{"--csv", out.csv}, {"--json", out.json}, {"--plot", out.plot}, {"--bars", out.bars}});
            return out;
          }};
}

}  // namespace eyebrow::cli
