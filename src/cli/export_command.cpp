#include <fmt/format.h>

#include "commands.hpp"
#include "eyebrow/motion.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/report.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"

namespace eyebrow::cli {

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

  const Parts parts = build_parts(file.engine, file.origins);
  warnings.add(parts.warnings);
  stop_if_asked();

  const Motion motion = with_places(file.origins, [&] { return Motion(file.engine); });
  Placing placing;
  placing.height = motion.height(arguments.crank);
  for (std::size_t i = 0; i < file.engine.valves.size(); ++i)
    placing.lifts.push_back(motion.lift(static_cast<int>(i), arguments.crank));
  export_step(file.engine, parts, placing, arguments.output);

  if (!arguments.quiet)
    print(fmt::format("{}: crown, {} valves, bore and gasket at {}\n", arguments.output, placing.lifts.size(),
                      crank_text(arguments.crank)));
  return kHolds;
}

}  // namespace eyebrow::cli
