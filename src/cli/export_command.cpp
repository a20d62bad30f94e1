#include <fmt/format.h>

#include <memory>

#include "commands.hpp"
#include "eyebrow/check.hpp"
#include "eyebrow/gap_lines.hpp"
#include "eyebrow/motion.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/report.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "named_leasts.hpp"
#include "output_file.hpp"
#include "progress.hpp"

namespace eyebrow::cli {
namespace {

struct Moment {
  std::shared_ptr<const Engine> engine;  ///< with its cam where it stands then
  double crank = 0;
  std::string of;  ///< the gap that is tightest then; empty = an angle was asked for
};

Moment moment_of(const ExportArguments& arguments, const EngineFile& file, const Parts& parts, Warnings& warnings) {
  const auto engine = std::make_shared<const Engine>(file.engine);
  if (arguments.at.crank) return {engine, *arguments.at.crank, ""};
  Progress progress("checking", arguments.quiet);
  CheckOptions options;
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  const CheckResult check = with_places(file.origins, [&] { return run_check(*engine, parts, options); });
  warnings.add(place(check.warnings, file.origins));
  const std::vector<NamedLeast> leasts = leasts_of(check);
  const NamedLeast* const of = arguments.at.gap.empty() ? tightest_of(check, leasts) : &named(leasts, arguments.at.gap);
  if (of == nullptr) throw UsageError("--at: no valve comes near the piston: nothing is tightest; give a crank angle");
  return {engine_at(engine, of), of->crank, of->name};
}

}  // namespace

int run(const ExportArguments& arguments) {
  keep_apart(arguments.engine, arguments.output);
  if (!OutputFile(arguments.output).is_regular())
    throw MachineError(arguments.output + ": cannot be written: it is no ordinary file");

  Warnings warnings(arguments.engine);
  const EngineFile file = read_engine(arguments.engine, arguments.overrides);
  warnings.add(file.warnings);
  if (!file.cylinders.empty())
    warnings.add({{"", 0, 0,
                   "the solids have the file's own numbers; what [each_cylinder] lists for single cylinders is not in "
                   "them"}});
  stop_if_asked();

  require_gaps({arguments.at}, file.engine);
  const Parts parts = build_parts(file.engine, file.origins);
  warnings.add(parts.warnings);
  stop_if_asked();

  const Moment moment = moment_of(arguments, file, parts, warnings);
  stop_if_asked();
  const Engine& engine = *moment.engine;
  const Motion motion = with_places(file.origins, [&] { return Motion(engine); });
  Placing placing;
  placing.height = motion.height(moment.crank);
  for (std::size_t i = 0; i < engine.valves.size(); ++i)
    placing.lifts.push_back(motion.lift(static_cast<int>(i), moment.crank));
  const std::vector<NamedLine> lines = gap_lines(engine, parts, moment.crank);
  export_step(engine, parts, placing, arguments.output, lines);

  if (!arguments.quiet)
    print(fmt::format("{}: crown, {} valves, bore, gasket and {} gaps at {}{}\n", arguments.output,
                      placing.lifts.size(), lines.size(), moment.of.empty() ? "" : moment.of + ", ",
                      crank_text(moment.crank)));
  return kHolds;
}

}  // namespace eyebrow::cli
