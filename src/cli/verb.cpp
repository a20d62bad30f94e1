#include "verb.hpp"

#include <fmt/format.h>

namespace eyebrow::cli {

const std::string kFaultStatuses =
    "  2  the command line is wrong\n"
    "  3  the engine file or a table beside it is wrong\n"
    "  4  the machine failed: no such folder, disk full, out of memory\n"
    "  130, 143  stopped by an interrupt or a request to end";
const std::string kCheckStatuses =
    "Exit status:\n"
    "  0  every asked gap holds\n"
    "  1  the check ran and a gap is short or parts touch\n" +
    kFaultStatuses;
const std::string kWriteStatuses = "Exit status:\n  0  the file is written\n" + kFaultStatuses;

CLI::App* add_verb(CLI::App& program, const std::string& name, const std::string& does, Typed& typed) {
  CLI::App* const verb = program.add_subcommand(name, does);
  verb->group("Verbs");
  verb->allow_extras();  // told by judge_rest, with the nearest right word
  verb->add_flag("--quiet", typed.quiet, "Print nothing but faults and warnings");
  return verb;
}

void take_engine(CLI::App* verb, Typed& typed) {
  verb->add_option("ENGINE", typed.engine, "The engine file; `eyebrow new` writes one to start from")
      ->required()
      ->type_name("");
  take_set(verb, typed);
}

void take_set(CLI::App* verb, Typed& typed, const std::string& more) {
  verb->add_option("--set", typed.set,
                   "Replace a value, as often as wanted: --set \"gasket.thickness=0.051 in\"" + more)
      ->option_text("KEY=VALUE")
      ->allow_extra_args(false);
}

void take_units(CLI::App* verb, Typed& typed) {
  verb->add_option("--units", typed.units, "Unit of what is printed: mm or in (else as in the engine file)")
      ->type_name("UNIT");
}

void take_format(CLI::App* verb, Typed& typed) {
  take_units(verb, typed);
  verb->add_option("--digits", typed.digits, "Decimals of a length, 2 to 6 (else 2 in mm, 3 in inches)")
      ->type_name("N");
}

void take_gaps(CLI::App* verb, Typed& typed) {
  verb->add_option("--gap", typed.gaps, "Show this gap, as often as wanted: intake.travel, intake/exhaust, piston.head")
      ->type_name("NAME")
      ->allow_extra_args(false);
}

void take_json(CLI::App* verb, Typed& typed, const std::string& what) {
  verb->add_option("--json", typed.json, "Write " + what + "; - = print it instead of the table")->type_name("FILE");
}

void take_plot(CLI::App* verb, Typed& typed, const std::string& does) {
  verb->add_option("--plot", typed.plot, does + ": a picture, .svg, .pdf or .png")->type_name("FILE");
}

void take_no_remedies(CLI::App* verb, Typed& typed) {
  verb->add_flag("--no-remedies", typed.no_remedies, "Do not look for what would restore a gap that is short");
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

void require_apart(const std::vector<std::pair<std::string, std::string>>& files) {
  for (std::size_t i = 0; i < files.size(); ++i)
    for (std::size_t k = i + 1; k < files.size(); ++k)
      if (!files[i].second.empty() && files[i].second == files[k].second)
        throw UsageError(fmt::format("{} and {} both name \"{}\"; give each its own", files[i].first, files[k].first,
                                     files[i].second));
}

}  // namespace eyebrow::cli
