#include <fmt/format.h>

#include "commands.hpp"
#include "eyebrow/plot.hpp"
#include "eyebrow/stack_report.hpp"
#include "gap_names.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"
#include "progress.hpp"
#include "spec/units.hpp"
#include "tolerances_given.hpp"

namespace eyebrow::cli {
namespace {

std::vector<StackNumber> numbers_of(const EngineFile& file) {
  std::vector<StackNumber> numbers;
  for (const Tolerance& of : file.tolerances) {
    const Origin& origin = file.origins.at(of.key);
    const auto unit = unit_from_word(origin.unit);
    const double size = unit ? factor(*unit) : 1;
    numbers.push_back({origin.unit, origin.value / size, size});
  }
  return numbers;
}

/// Everything that may be asked for, empty where it is not.
struct Reports {
  std::string csv, json, plot, bars;
};

}  // namespace

int run(const StackArguments& arguments) {
  std::vector<OutputFile> files =
      output_files(arguments.engine, {arguments.csv, arguments.json, arguments.plot, arguments.bars});

  Warnings warnings(arguments.engine);
  const EngineText text = EngineText::of_file(arguments.engine);
  const EngineFile file = text.read(arguments.overrides);
  warnings.add(file.warnings);
  if (!file.cylinders.empty())
    warnings.add(
        {{"", 0, 0,
          "the stack has the file's own numbers; what [each_cylinder] lists for single cylinders is not in it"}});
  require_tolerances(file, "a stack");
  const std::vector<std::size_t> chosen = chosen_gaps(map_gaps(file.engine), arguments.gaps);
  stop_if_asked();

  const EngineBy engine_by = engine_by_tolerances(text, file, arguments.overrides);
  StackResult result;
  {
    Progress progress("stacking", arguments.quiet);
    CheckOptions options;
    options.progress = [&](double share) { progress.show(share); };
    options.stop = [] { return signal_seen() != 0; };
    const Mapper mapper = with_places(file.origins, [&] { return Mapper(file.engine); });
    result = stack(mapper, file.tolerances, engine_by, {arguments.samples, arguments.seed}, options);
  }
  result.numbers = numbers_of(file);
  for (const Override& given : arguments.overrides) result.changed.push_back(given.key + "=" + given.value);

  const Format format{arguments.units.value_or(result.units), arguments.digits};
  const std::size_t drawn = chosen.empty() ? tightest_gap(result) : chosen.front();
  Reports reports;
  if (!arguments.csv.empty()) reports.csv = stack_csv(result, format);
  if (!arguments.json.empty()) reports.json = stack_json(result);
  if (!arguments.plot.empty())
    reports.plot = plot_histogram(stack_histogram(result, drawn), *plot_file(arguments.plot), format);
  if (!arguments.bars.empty()) reports.bars = plot_bars(stack_bars(result, drawn), *plot_file(arguments.bars), format);
  for (OutputFile& out : files)
    out.stage(out.path() == arguments.csv    ? reports.csv
              : out.path() == arguments.json ? reports.json
              : out.path() == arguments.plot ? reports.plot
                                             : reports.bars);
  stop_if_asked();
  for (OutputFile& out : files) out.commit();

  if (arguments.csv == "-")
    print(reports.csv);
  else if (arguments.json == "-")
    print(reports.json);
  else if (!arguments.quiet)
    print(stack_text(result, format, chosen));
  return result.holds() ? kHolds : kShort;
}

}  // namespace eyebrow::cli
