// Pictures that move, made by the program ffmpeg.
#pragma once
#include <string>

namespace eyebrow::cli {

/// Does the name end in .mp4, .webm or .gif?
bool is_film(const std::string& path);

/// A file that frames are added to. It stands in its place when it is finished, or not at all. All throw MachineError.
class Film {
 public:
  /// Starts ffmpeg, and says so where it is not in the PATH.
  explicit Film(const std::string& path);
  Film(const Film&) = delete;
  Film& operator=(const Film&) = delete;
  /// Ends ffmpeg, and removes what is not finished.
  ~Film();

  /// The bytes of a PNG; all of one size.
  void add(const std::string& png);
  /// Waits for ffmpeg and puts the file in its place.
  void finish();

 private:
  [[noreturn]] void fail(const std::string& reason) const;
  int wait();

  std::string path_, staged_;
  int pid_ = -1, pipe_ = -1;
};

}  // namespace eyebrow::cli
