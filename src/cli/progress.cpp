#include "progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace eyebrow::cli {

Progress::Progress(std::string what, bool quiet) : what_(std::move(what)), on_(!quiet && isatty(STDERR_FILENO) == 1) {
  if (on_) show(0);
}

Progress::~Progress() {
  if (!on_ || width_ == 0) return;
  std::fprintf(stderr, "\r%*s\r", static_cast<int>(width_), "");
  std::fflush(stderr);
}

void Progress::show(double share) {
  const int percent = static_cast<int>(std::floor(100 * std::clamp(share, 0.0, 1.0)));
  if (!on_ || percent <= percent_) return;
  percent_ = percent;
  const std::string line = fmt::format("{}: {} %", what_, percent);
  std::fprintf(stderr, "\r%s", line.c_str());
  std::fflush(stderr);
  width_ = line.size();
}

}  // namespace eyebrow::cli
