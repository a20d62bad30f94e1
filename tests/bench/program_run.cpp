// The program as a user runs it: its own process, and what that takes.
#include "bench/program_run.hpp"

#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <stdexcept>

#include "bench/timing.hpp"

namespace eyebrow::bench {

ProgramRun run_check_program(const std::string& engine_file) {
  std::string program = EYEBROW_PROGRAM, verb = "check", file = engine_file;
  char* arguments[] = {program.data(), verb.data(), file.data(), nullptr};
  posix_spawn_file_actions_t quiet;
  posix_spawn_file_actions_init(&quiet);
  posix_spawn_file_actions_addopen(&quiet, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&quiet, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
  pid_t child = 0;
  int status = 0, failed = 0;
  rusage used{};
  ProgramRun run;
  run.seconds = seconds_of([&] {
    failed = posix_spawn(&child, program.c_str(), &quiet, nullptr, arguments, environ);
    if (failed == 0) wait4(child, &status, 0, &used);
  });
  posix_spawn_file_actions_destroy(&quiet);
  // 0 and 1 are verdicts.
  if (failed != 0 || !WIFEXITED(status) || WEXITSTATUS(status) > 1)
    throw std::runtime_error(program + " check " + engine_file + " failed");
  for (const timeval& part : {used.ru_utime, used.ru_stime})
    run.cpu_seconds += static_cast<double>(part.tv_sec) + 1e-6 * static_cast<double>(part.tv_usec);
  run.peak_megabytes = static_cast<double>(used.ru_maxrss) * 1024 / 1e6;
  return run;
}

}  // namespace eyebrow::bench
