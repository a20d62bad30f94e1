// Runs the program as a user would, in a folder of its own.
#pragma once
#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

namespace eyebrow::testing {

/// A model's file, as it is.
std::filesystem::path model(const std::string& name);
/// The two-valve wedge, whose check tells of no fault.
inline const std::string kEngine = model("two_valve_wedge").string();
std::string read_file(const std::filesystem::path& path);
void write_file(const std::filesystem::path& path, const std::string& text);
std::vector<std::string> lines_of(const std::string& text);

struct Outcome {
  int status = -1;  ///< 0 ... 255; 1000 plus the signal when one ended it
  std::string out, err;
};

struct Manner {
  std::string out = "";    ///< where the standard output goes; empty: caught; "closed": closed
  bool as_nobody = false;  ///< without the rights of the superuser
  bool terminal = false;   ///< the standard error is a terminal
};

/// A program that runs.
struct Child {
  int pid = -1;
  int terminal = -1;  ///< our end of it
};

/// A fresh folder for each test, removed with everything in it.
class ProgramTest : public ::testing::Test {
 protected:
  ProgramTest();
  ~ProgramTest() override;
  Outcome run(const std::vector<std::string>& words, const Manner& manner = {}) const;
  Child start(const std::vector<std::string>& words, const Manner& manner = {}) const;
  /// Waits for its end. With a terminal: sends `signal`, when not 0, as soon as the terminal shows `cue`.
  Outcome finish(const Child& child, const std::string& cue = "", int signal = 0) const;
  /// A file in the folder.
  std::filesystem::path path(const std::string& name) const { return folder_ / name; }
  /// Names in the folder, in order.
  std::vector<std::string> names() const;

 private:
  std::filesystem::path folder_;
};

/// `text` with the one place that reads `from` replaced; fails the test when there is no such place, or a second.
std::string replaced(std::string text, const std::string& from, const std::string& to);

}  // namespace eyebrow::testing
