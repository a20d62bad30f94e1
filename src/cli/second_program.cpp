// What links the 3-D library is a program of its own: eyebrow-view, beside this one or in the PATH.
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <system_error>

#include "commands.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow::cli {
namespace {

const char* const kSecond = "eyebrow-view";

/// Becomes that program. Returns only where that fails.
[[noreturn]] void become_second(const std::vector<std::string>& words) {
  std::vector<char*> argv{const_cast<char*>(kSecond)};  // exec does not change them
  for (const std::string& word : words) argv.push_back(const_cast<char*>(word.c_str()));
  argv.push_back(nullptr);
  std::error_code none;
  const std::filesystem::path own = std::filesystem::read_symlink("/proc/self/exe", none);
  if (!none) ::execv((own.parent_path() / kSecond).c_str(), argv.data());
  ::execvp(kSecond, argv.data());
  throw MachineError(
      fmt::format("{} is needed to draw, and could not be started from beside this program or from the PATH: {}",
                  kSecond, std::generic_category().message(errno)));
}

}  // namespace

int run(const PictureArguments& arguments) {
  become_second(arguments.words);
}

int run(const ViewArguments& arguments) {
  become_second(arguments.words);
}

}  // namespace eyebrow::cli
