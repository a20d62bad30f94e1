#include "commands.hpp"
#include "eyebrow/check.hpp"
#include "eyebrow/report.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"
#include "progress.hpp"

namespace eyebrow::cli {
namespace {

CheckResult check(const CheckArguments& arguments, Warnings& warnings) {
  const EngineFile file = read_engine(arguments.engine, arguments.overrides);
  warnings.add(file.warnings);
  stop_if_asked();

  Progress progress("checking", arguments.quiet);
  const Parts parts = build_parts(file.engine, file.origins);
  stop_if_asked();

  CheckOptions options;
  options.step = arguments.step;
  options.drop_table = !arguments.csv.empty() || !arguments.json.empty();
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  CheckResult result = with_places(file.origins, [&] { return run_check(file.engine, parts, options); });
  result.warnings = place(std::move(result.warnings), file.origins);
  for (const Override& given : arguments.overrides) result.conditions.changed.push_back(given.key + "=" + given.value);
  return result;
}

}  // namespace

int run(const CheckArguments& arguments) {
  // A place that cannot be written is told now, not after the sweep.
  std::vector<OutputFile> files;
  for (const std::string& path : {arguments.csv, arguments.json}) {
    if (path.empty() || path == "-") continue;
    keep_apart(arguments.engine, path);
    files.emplace_back(path);
  }

  Warnings warnings(arguments.engine);
  CheckResult result = check(arguments, warnings);
  warnings.add(result.warnings);  // those of the parts among them
  result.warnings = warnings.all();

  const Format format{arguments.units.value_or(result.units), arguments.digits};
  const std::string csv = arguments.csv.empty() ? "" : check_csv(result, format);
  const std::string json = arguments.json.empty() ? "" : check_json(result);
  for (OutputFile& file : files) file.stage(file.path() == arguments.csv ? csv : json);
  stop_if_asked();
  for (OutputFile& file : files) file.commit();

  if (arguments.csv == "-")
    print(csv);
  else if (arguments.json == "-")
    print(json);
  else if (!arguments.quiet)
    print(check_text(result, format));
  return result.verdict == Verdict::holds ? kHolds : kShort;
}

}  // namespace eyebrow::cli
