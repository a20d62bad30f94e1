#include "spec/step_file.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "spec/text_file.hpp"

namespace eyebrow {
namespace {

/// A whole piston with ribs and fillets is some 2 MB.
constexpr TextLimits kStepLimits{std::size_t{64} << 20, 4000000};

}  // namespace

StepFileRead read_step_file(Context& context, Section& section) {
  StepFileRead read;
  read.text = std::make_shared<const std::string>();
  if (!section.exists()) return read;
  const std::size_t told = context.faults.size();
  const std::string name = section.need_word("file", "the STEP file, as seen from the engine file's folder");
  read.solid = section.word("solid").value_or("");
  if (context.faults.size() != told) return read;
  read.file = (std::filesystem::path(context.file).parent_path() / name).string();
  TextFile text = read_text(read.file, kStepLimits);
  if (!text.trouble.empty())
    context.fault(section.place("file"), fmt::format("STEP file {}: {}", read.file, text.trouble));
  else if (text.text.empty())
    context.fault(section.place("file"), fmt::format("STEP file {} is empty", read.file));
  read.text = std::make_shared<const std::string>(std::move(text.text));
  return read;
}

}  // namespace eyebrow
