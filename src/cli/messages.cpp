#include "messages.hpp"

#include <fmt/format.h>

#include <cstdio>

namespace eyebrow::cli {
namespace {

// A file may have a fault on each of a million lines.
constexpr std::size_t kMostTold = 200;

// The message may quote what a file or the command line held: no control character of it may reach a terminal.
void put(std::string line) {
  for (char& c : line) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte < 0x20 && c != '\t') || byte == 0x7F) c = '?';
  }
  line += '\n';
  std::fwrite(line.data(), 1, line.size(), stderr);
}

Fault placed(Fault fault, const std::string& input) {
  if (fault.file.empty()) fault.file = input;
  return fault;
}

}  // namespace

void tell(const std::vector<Fault>& faults, const std::string& input) {
  for (std::size_t i = 0; i < faults.size() && i < kMostTold; ++i) put(to_string(placed(faults[i], input)));
  if (faults.size() > kMostTold) put(fmt::format("eyebrow: and {} faults more", faults.size() - kMostTold));
}

void tell(const std::string& message) {
  put("eyebrow: " + message);
}

void Warnings::add(const std::vector<Fault>& warnings) {
  for (const Fault& given : warnings) {
    Fault warning = placed(given, input_);
    if (!told_.insert(to_string(warning)).second) continue;
    all_.push_back(warning);
    warning.message = "warning: " + warning.message;
    put(to_string(warning));
  }
}

void warn_of_tolerances(const EngineFile& file, Warnings& warnings) {
  if (file.tolerances.empty()) return;
  warnings.add(
      place({{"", 0, 0,
              "[tolerance] has no part here, where every number is as it is stated; `eyebrow stack` tells what it "
              "makes of the gaps",
              "tolerance"}},
            file.origins));
}

}  // namespace eyebrow::cli
