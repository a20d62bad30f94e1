// One line on a terminal that tells how far the check is.
#pragma once
#include <string>

namespace eyebrow::cli {

/// Writes to the standard error, only when that is a terminal. The line is wiped at the end, whatever ends it.
class Progress {
 public:
  Progress(std::string what, bool quiet);
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress();
  /// `share` of the work done, 0 ... 1.
  void show(double share);

 private:
  std::string what_;
  bool on_;
  int percent_ = -1;
  std::size_t width_ = 0;
};

}  // namespace eyebrow::cli
