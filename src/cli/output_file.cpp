#include "output_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>
#include <utility>

#include "eyebrow/fault.hpp"

namespace eyebrow::cli {
namespace {

namespace fs = std::filesystem;

constexpr int kMostTries = 1000;  // of a temporary name; more than any crowd of leftovers

[[noreturn]] void fail(const std::string& path, const std::string& reason) {
  throw MachineError(fmt::format("{}: cannot be written: {}", path, reason));
}

[[noreturn]] void fail(const std::string& path, int error) {
  fail(path, std::generic_category().message(error));
}

// All of `text`; 0 or an errno.
int write_all(int file, const std::string& text) {
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t count = ::write(file, text.data() + done, text.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return errno;
    done += static_cast<std::size_t>(count);
  }
  return 0;
}

// Writes, flushes to the disk when `durable`, and closes; 0 or an errno.
int write_and_close(int file, const std::string& text, bool durable) {
  int error = write_all(file, text);
  if (error == 0 && durable && ::fsync(file) != 0 && errno != EINVAL) error = errno;
  if (::close(file) != 0 && error == 0) error = errno;
  return error;
}

fs::path folder_of(const fs::path& path) {
  return path.has_parent_path() ? path.parent_path() : fs::path(".");
}

}  // namespace

OutputFile::OutputFile(const std::string& path) : path_(path), target_(path) {
  struct stat there {};
  if (::stat(path.c_str(), &there) == 0) {
    if (S_ISDIR(there.st_mode)) fail(path, "it is a folder");
    if (::access(path.c_str(), W_OK) != 0) fail(path, errno);
    regular_ = S_ISREG(there.st_mode);
    if (!regular_) return;
    std::error_code fault;
    const fs::path real = fs::canonical(path, fault);  // a link stays a link
    if (!fault) target_ = real.string();
  } else if (errno != ENOENT) {
    fail(path, errno);
  }
  const std::string folder = folder_of(target_).string();
  if (::stat(folder.c_str(), &there) != 0) fail(path, "there is no folder " + folder);
  if (!S_ISDIR(there.st_mode)) fail(path, folder + " is no folder");
  if (::access(folder.c_str(), W_OK) != 0) fail(path, errno);
}

OutputFile::OutputFile(OutputFile&& other) noexcept
    : path_(std::move(other.path_)),
      target_(std::move(other.target_)),
      staged_(std::exchange(other.staged_, {})),
      regular_(other.regular_) {}

OutputFile::~OutputFile() {
  if (!staged_.empty()) ::unlink(staged_.c_str());
}

void OutputFile::stage(const std::string& text) {
  if (!regular_) {
    const int file = ::open(target_.c_str(), O_WRONLY | O_CLOEXEC);
    if (file < 0) fail(path_, errno);
    if (const int error = write_and_close(file, text, false)) fail(path_, error);
    return;
  }
  int file = -1;
  for (int i = 0; i < kMostTries && file < 0; ++i) {
    staged_ = (folder_of(target_) / fmt::format(".eyebrow-{}-{}", ::getpid(), i)).string();
    file = ::open(staged_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (file < 0 && errno != EEXIST) break;
  }
  if (file < 0) {
    const int error = errno;
    staged_.clear();
    fail(path_, error);
  }
  struct stat there {};
  if (::stat(target_.c_str(), &there) == 0) ::fchmod(file, there.st_mode & 07777);  // best effort: as it was
  if (const int error = write_and_close(file, text, true)) fail(path_, error);
}

void OutputFile::commit() {
  if (staged_.empty()) return;
  if (::rename(staged_.c_str(), target_.c_str()) != 0) fail(path_, errno);
  staged_.clear();
}

void print(const std::string& text) {
  const int error = write_all(STDOUT_FILENO, text);
  if (error != 0 && error != EPIPE) fail("standard output", error);
}

void guard_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (::fcntl(stream, F_GETFD) != -1) continue;
    // The lowest free descriptor is this one. The wrong direction: a use of it must fail.
    [[maybe_unused]] const int taken = ::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
  }
}

}  // namespace eyebrow::cli
