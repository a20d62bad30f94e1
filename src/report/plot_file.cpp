#include "eyebrow/plot.hpp"

namespace eyebrow {

std::optional<PlotFile> plot_file(const std::string& name) {
  const auto ends = [&](const char* ending) {
    const std::string with = ending;
    if (name.size() < with.size()) return false;
    for (std::size_t i = 0; i < with.size(); ++i) {
      const char c = name[name.size() - with.size() + i];
      if ((c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c) != with[i]) return false;
    }
    return true;
  };
  if (ends(".svg")) return PlotFile::svg;
  if (ends(".pdf")) return PlotFile::pdf;
  if (ends(".png")) return PlotFile::png;
  return std::nullopt;
}

}  // namespace eyebrow
