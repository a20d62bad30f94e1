#include "commands.hpp"
#include "eyebrow/untimed_report.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"
#include "progress.hpp"

namespace eyebrow::cli {

int run(const UntimedArguments& arguments) {
  std::vector<OutputFile> files;
  if (!arguments.json.empty() && arguments.json != "-") {
    keep_apart(arguments.engine, arguments.json);
    files.emplace_back(arguments.json);
  }

  Warnings warnings(arguments.engine);
  const EngineFile file = read_engine(arguments.engine, arguments.overrides);
  warnings.add(file.warnings);
  warn_of_tolerances(file, warnings);
  if (!file.cylinders.empty())
    warnings.add(
        {{"", 0, 0, "told of the file's own numbers; what [each_cylinder] lists for single cylinders has no part"}});
  stop_if_asked();

  Progress progress("moving cams", arguments.quiet);
  CheckOptions options;
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  UntimedResult result = with_places(file.origins, [&] {
    const Parts parts = build_parts(file.engine, file.origins);
    stop_if_asked();
    return run_untimed(file.engine, parts, options);
  });
  for (const Override& given : arguments.overrides) result.changed.push_back(given.key + "=" + given.value);
  warnings.add(place(std::move(result.warnings), file.origins));
  result.warnings = warnings.all();

  const std::string json = arguments.json.empty() ? "" : untimed_json(result);
  for (OutputFile& out : files) out.stage(json);
  stop_if_asked();
  for (OutputFile& out : files) out.commit();
  const Format format{arguments.units.value_or(result.units), arguments.digits};
  if (arguments.json == "-")
    print(json);
  else if (!arguments.quiet)
    print(untimed_text(result, format));
  return result.clears ? kHolds : kShort;
}

}  // namespace eyebrow::cli
