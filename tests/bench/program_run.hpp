// The program as a user runs it: its own process, and what that takes.
#pragma once
#include <string>

namespace eyebrow::bench {

struct ProgramRun {
  double seconds = 0;
  double cpu_seconds = 0;     ///< of all its threads: what is still worth comparing when the machine is busy
  double peak_megabytes = 0;  ///< most memory that it held at once
};

/// `eyebrow check` of one engine file; what it prints is thrown away. Throws when it fails (a verdict is no failure).
/// The system counts what this process holds when it starts the other as held by that one too: call it before anything
/// big is made.
ProgramRun run_check_program(const std::string& engine_file);

}  // namespace eyebrow::bench
