// Where commands write.
#include <fmt/format.h>

#include <filesystem>

#include "commands.hpp"

namespace eyebrow::cli {

void keep_apart(const std::string& engine, const std::string& output) {
  std::error_code none;
  if (engine == output || std::filesystem::equivalent(engine, output, none))
    throw UsageError(fmt::format("{} is the engine file; write to another", output));
}

std::vector<OutputFile> output_files(const std::string& engine, const std::vector<std::string>& paths) {
  std::vector<OutputFile> files;
  for (const std::string& path : paths) {
    if (path.empty() || path == "-") continue;
    keep_apart(engine, path);
    files.emplace_back(path);
  }
  return files;
}

}  // namespace eyebrow::cli
