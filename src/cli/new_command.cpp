#include <fmt/format.h>

#include <filesystem>

#include "commands.hpp"
#include "output_file.hpp"

namespace eyebrow::cli {

int run(const Shown& shown) {
  print(shown.text);
  return kHolds;
}

int run(const NewArguments& arguments) {
  OutputFile file(arguments.path);
  std::error_code none;
  if (!arguments.force && file.is_regular() && std::filesystem::exists(arguments.path, none))
    throw UsageError(fmt::format("{} is there already; --force replaces it", arguments.path));
  file.stage(starter_file());
  file.commit();
  if (!arguments.quiet) print(fmt::format("{0}: written; `eyebrow check {0}` checks it\n", arguments.path));
  return kHolds;
}

}  // namespace eyebrow::cli
