#include "film.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <system_error>
#include <vector>

#include "eyebrow/fault.hpp"

extern char** environ;

namespace eyebrow::cli {
namespace {

namespace fs = std::filesystem;

const char* const kFrameRate = "20";  // pictures a second: a degree of crank each is still to be followed

std::string ending_of(const std::string& path) {
  std::string ending = fs::path(path).extension().string();
  std::ranges::transform(ending, ending.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return ending;
}

/// What ffmpeg is told: pictures from its standard input, colours that every player shows, even sides as those ask for.
std::vector<std::string> words_for(const std::string& path, const std::string& ending) {
  std::vector<std::string> words{"ffmpeg", "-loglevel", "error",      "-y",       "-f", "image2pipe",
                                 "-c:v",   "png",       "-framerate", kFrameRate, "-i", "-"};
  const std::vector<std::string> how =
      ending == ".gif"
          ? std::vector<std::string>{"-vf", "split[a][b];[a]palettegen[p];[b][p]paletteuse"}
          : std::vector<std::string>{"-vf", "pad=ceil(iw/2)*2:ceil(ih/2)*2:color=white", "-pix_fmt", "yuv420p"};
  words.insert(words.end(), how.begin(), how.end());
  words.push_back(path);
  return words;
}

}  // namespace

bool is_film(const std::string& path) {
  const std::string ending = ending_of(path);
  return ending == ".mp4" || ending == ".webm" || ending == ".gif";
}

Film::Film(const std::string& path) : path_(path) {
  const std::string ending = ending_of(path);
  const fs::path folder = fs::path(path).has_parent_path() ? fs::path(path).parent_path() : fs::path(".");
  staged_ = (folder / fmt::format(".eyebrow-{}{}", ::getpid(), ending)).string();
  std::vector<std::string> words = words_for(staged_, ending);
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);

  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0) fail(std::generic_category().message(errno));
  posix_spawn_file_actions_t files;
  posix_spawn_file_actions_init(&files);
  posix_spawn_file_actions_adddup2(&files, ends[0], STDIN_FILENO);
  posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  const int error = ::posix_spawnp(&pid_, "ffmpeg", &files, nullptr, argv.data(), environ);
  posix_spawn_file_actions_destroy(&files);
  ::close(ends[0]);
  pipe_ = ends[1];
  if (error == 0) return;
  ::close(pipe_);
  pid_ = -1;
  if (error != ENOENT) fail("ffmpeg could not be started: " + std::generic_category().message(error));
  fail(fmt::format(
      "moving pictures are made by ffmpeg, which is not in the PATH; install it, or write numbered pictures "
      "with -o {}.png",
      fs::path(path).stem().string()));
}

Film::~Film() {
  if (pid_ < 0) return;
  ::kill(pid_, SIGKILL);  // it would tell of a film without an end
  wait();
  ::unlink(staged_.c_str());
}

int Film::wait() {
  if (pipe_ >= 0) ::close(pipe_);
  pipe_ = -1;
  int status = 0;
  while (::waitpid(pid_, &status, 0) < 0 && errno == EINTR) {
  }
  pid_ = -1;
  return status;
}

void Film::add(const std::string& png) {
  for (std::size_t done = 0; done < png.size();) {
    const ssize_t count = ::write(pipe_, png.data() + done, png.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) fail("ffmpeg takes no more pictures");
    done += static_cast<std::size_t>(count);
  }
}

void Film::finish() {
  const std::string staged = staged_;
  const int status = wait();
  if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) {
    ::unlink(staged.c_str());
    fail("ffmpeg could not make it");
  }
  if (::rename(staged.c_str(), path_.c_str()) == 0) return;
  const int error = errno;
  ::unlink(staged.c_str());
  fail(std::generic_category().message(error));
}

void Film::fail(const std::string& reason) const {
  throw MachineError(fmt::format("{}: cannot be written: {}", path_, reason));
}

}  // namespace eyebrow::cli
