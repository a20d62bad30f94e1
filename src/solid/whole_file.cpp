#include "solid/whole_file.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <system_error>

#include <fmt/format.h>

#include "eyebrow/fault.hpp"

namespace eyebrow {

void write_whole(const std::string& path, const std::string& text) {
  namespace fs = std::filesystem;
  std::error_code error;
  if (path.empty() || fs::is_directory(path, error)) {
    throw MachineError(fmt::format("cannot write '{}': {}", path, path.empty() ? "no name" : "it is a folder"));
  }
  const fs::path beside = fmt::format("{}.{}.part", path, ::getpid());
  errno = 0;
  std::ofstream file(beside, std::ios::binary | std::ios::trunc);
  file << text;
  file.close();
  if (!file) {
    const std::string reason = errno != 0 ? std::strerror(errno) : "the disk took only a part of it";
    fs::remove(beside, error);
    throw MachineError(fmt::format("cannot write {}: {}", path, reason));
  }
  fs::rename(beside, path, error);
  if (error) {
    const std::string reason = error.message();
    fs::remove(beside, error);
    throw MachineError(fmt::format("cannot write {}: {}", path, reason));
  }
}

}  // namespace eyebrow
