// What the program writes: files whole or not at all, and the standard output.
#pragma once
#include <string>

namespace eyebrow::cli {

/// A file to be written. All throw MachineError with the file's name and the reason.
class OutputFile {
 public:
  /// Only looks: the folder must be there and writable, `path` must not be a folder or write-protected.
  explicit OutputFile(const std::string& path);
  OutputFile(OutputFile&& other) noexcept;
  OutputFile(const OutputFile&) = delete;
  OutputFile& operator=(const OutputFile&) = delete;
  /// Removes what was staged and not committed.
  ~OutputFile();

  /// Writes the text beside its place. A device or pipe gets it directly.
  void stage(const std::string& text);
  /// Puts what was staged in its place.
  void commit();

  const std::string& path() const { return path_; }
  /// False for a device or a pipe, which cannot be replaced as a whole.
  bool is_regular() const { return regular_; }

 private:
  std::string path_, target_, staged_;  ///< as named; with links followed; the temporary one
  bool regular_ = true;
};

/// Prints to the standard output. A reader who closed the pipe is no error.
void print(const std::string& text);

/// Keeps the descriptors 0, 1 and 2 taken when the program was started without them, so that no file of ours
/// becomes the standard output by accident; writing to one of them fails all the same.
void guard_standard_streams();

}  // namespace eyebrow::cli
