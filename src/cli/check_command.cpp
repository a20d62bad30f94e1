#include "check_engines.hpp"
#include "commands.hpp"
#include "effects_told.hpp"
#include "eyebrow/plot.hpp"
#include "eyebrow/report.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"
#include "remedies_told.hpp"

namespace eyebrow::cli {
namespace {

/// Everything that may be asked for, empty where it is not.
struct Reports {
  std::string csv, json, plot, text;
};

const CheckResult& worst_of(const CheckResult& result) {
  return result;
}
const CheckResult& worst_of(const CylindersResult& result) {
  return result.each[result.worst];
}

template <class Result>
Reports reports_of(const Result& result, const EffectsTold& effects, const Format& format,
                   const CheckArguments& arguments) {
  Reports reports;
  if (!arguments.csv.empty()) reports.csv = check_csv(result, format);
  if (!arguments.json.empty()) reports.json = check_json(result, &effects);
  if (!arguments.plot.empty()) reports.plot = plot_curves(worst_of(result), "", *plot_file(arguments.plot), format);
  if (arguments.csv != "-" && arguments.json != "-" && !arguments.quiet)
    reports.text = check_text(result, format) + effects_text(effects, format);
  return reports;
}

}  // namespace

int run(const CheckArguments& arguments) {
  std::vector<OutputFile> files = output_files(arguments.engine, {arguments.csv, arguments.json, arguments.plot});

  Warnings warnings(arguments.engine);
  const EngineText source = EngineText::of_file(arguments.engine);
  const EngineFile file = source.read(arguments.overrides);
  warnings.add(file.warnings);
  warn_of_tolerances(file, warnings);
  stop_if_asked();
  CylindersResult result = check_engines(file, arguments, warnings);
  CheckResult& worst = result.each[result.worst];
  const bool on_paper = arguments.csv != "-" && arguments.json != "-" && !arguments.quiet;
  const bool told = !arguments.json.empty() || on_paper;
  const Format format{arguments.units.value_or(worst.units), arguments.digits};
  const MeasuredCylinder cylinder = file.checked()[result.worst];
  std::string printed;
  if (told && !arguments.no_remedies && worst.verdict != Verdict::holds) {
    // That takes seconds more, and the verdict is known: what was found is told first, the rest follows it.
    if (on_paper) print(printed = file.cylinders.empty() ? check_text(worst, format) : check_text(result, format));
    worst.remedies = find_remedies(source, cylinder, arguments.overrides, "looking for remedies", arguments.quiet);
  }

  const EffectsTold effects = effects_told(source, cylinder, arguments);
  const Reports reports = file.cylinders.empty() ? reports_of(worst, effects, format, arguments)
                                                 : reports_of(result, effects, format, arguments);
  for (OutputFile& out : files)
    out.stage(out.path() == arguments.csv ? reports.csv : out.path() == arguments.json ? reports.json : reports.plot);
  stop_if_asked();
  for (OutputFile& out : files) out.commit();

  if (arguments.csv == "-")
    print(reports.csv);
  else if (arguments.json == "-")
    print(reports.json);
  else if (!arguments.quiet)
    print(reports.text.substr(printed.size()));
  return worst.verdict == Verdict::holds ? kHolds : kShort;
}

}  // namespace eyebrow::cli
