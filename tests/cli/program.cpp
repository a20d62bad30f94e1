#include "cli/program.hpp"

#include <fcntl.h>
#include <grp.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>
#include <stdexcept>
#include <system_error>

namespace eyebrow::testing {
namespace {

namespace fs = std::filesystem;

constexpr int kNobody = 65534;

// What must hold in the child before the program starts; it may only use calls that are safe after fork.
[[noreturn]] void become(const std::vector<char*>& words, const fs::path& folder, const Manner& manner, int out,
                         int err) {
  if (chdir(folder.c_str()) != 0) _exit(251);
  if (manner.as_nobody && getuid() == 0 && (setgroups(0, nullptr) != 0 || setgid(kNobody) != 0 || setuid(kNobody) != 0))
    _exit(252);
  const int none = open("/dev/null", O_RDONLY);
  dup2(none, STDIN_FILENO);
  if (manner.out == "closed")
    close(STDOUT_FILENO);
  else
    dup2(out, STDOUT_FILENO);
  dup2(err, STDERR_FILENO);
  execv(EYEBROW_PROGRAM, words.data());
  _exit(254);
}

int open_for_writing(const fs::path& path) {
  const int file = open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  if (file < 0) throw std::system_error(errno, std::generic_category(), path.string());
  return file;
}

}  // namespace

fs::path model(const std::string& name) {
  return fs::path(EYEBROW_MODELS) / (name + ".toml");
}

std::string read_file(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw std::runtime_error("cannot read " + path.string());
  return {std::istreambuf_iterator<char>(stream), {}};
}

void write_file(const fs::path& path, const std::string& text) {
  std::ofstream stream(path, std::ios::binary);
  stream << text;
  if (!stream.flush()) throw std::runtime_error("cannot write " + path.string());
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) out.push_back(line);
  return out;
}

ProgramTest::ProgramTest() {
  std::string name = (fs::temp_directory_path() / "eyebrow-test-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) throw std::system_error(errno, std::generic_category(), name);
  folder_ = fs::canonical(name);
  fs::create_directory(folder_ / "caught");
  fs::create_directory(folder_ / "here");
  folder_ /= "here";
}

ProgramTest::~ProgramTest() {
  std::error_code none;
  fs::remove_all(folder_.parent_path(), none);
}

Child ProgramTest::start(const std::vector<std::string>& words, const Manner& manner) const {
  const fs::path caught = folder_.parent_path() / "caught";
  Child child;
  int err = -1;
  if (manner.terminal) {
    child.terminal = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
    if (child.terminal < 0 || grantpt(child.terminal) != 0 || unlockpt(child.terminal) != 0)
      throw std::system_error(errno, std::generic_category(), "terminal");
    err = open(ptsname(child.terminal), O_RDWR | O_NOCTTY | O_CLOEXEC);
  } else {
    err = open_for_writing(caught / "err");
  }
  const bool catches = manner.out.empty() || manner.out == "closed";
  const int out = open_for_writing(catches ? caught / "out" : fs::path(manner.out));
  if (manner.as_nobody) {  // so that it can at least look around and write here
    fs::permissions(folder_.parent_path(), fs::perms::all);
    fs::permissions(folder_, fs::perms::all);
  }
  std::vector<std::string> texts = words;
  texts.insert(texts.begin(), EYEBROW_PROGRAM);
  std::vector<char*> pointers;
  for (std::string& text : texts) pointers.push_back(text.data());
  pointers.push_back(nullptr);

  child.pid = fork();
  if (child.pid < 0) throw std::system_error(errno, std::generic_category(), "fork");
  if (child.pid == 0) become(pointers, folder_, manner, out, err);
  close(out);
  close(err);
  return child;
}

Outcome ProgramTest::finish(const Child& child, const std::string& cue, int signal) const {
  Outcome outcome;
  if (child.terminal >= 0) {
    char block[4096];
    bool sent = signal == 0;
    // Reading fails once the program has closed the other end.
    for (ssize_t got = 0; (got = read(child.terminal, block, sizeof block)) > 0;) {
      outcome.err.append(block, static_cast<std::size_t>(got));
      if (sent || outcome.err.find(cue) == std::string::npos) continue;
      kill(child.pid, signal);
      sent = true;
    }
    close(child.terminal);
    if (!sent) ADD_FAILURE() << "the terminal never showed \"" << cue << "\": " << outcome.err;
  }
  int status = 0;
  while (waitpid(child.pid, &status, 0) < 0)
    if (errno != EINTR) throw std::system_error(errno, std::generic_category(), "waitpid");
  outcome.status = WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + WTERMSIG(status);
  const fs::path caught = folder_.parent_path() / "caught";
  if (child.terminal < 0) outcome.err = read_file(caught / "err");
  if (fs::exists(caught / "out")) outcome.out = read_file(caught / "out");
  return outcome;
}

Outcome ProgramTest::run(const std::vector<std::string>& words, const Manner& manner) const {
  return finish(start(words, manner));
}

std::vector<std::string> ProgramTest::names() const {
  std::vector<std::string> out;
  for (const auto& entry : fs::directory_iterator(folder_)) out.push_back(entry.path().filename().string());
  std::sort(out.begin(), out.end());
  return out;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) {
    ADD_FAILURE() << "nowhere in the file: " << from;
    return text;
  }
  EXPECT_EQ(text.find(from, at + 1), std::string::npos) << "twice in the file: " << from;
  return text.replace(at, from.size(), to);
}

}  // namespace eyebrow::testing
