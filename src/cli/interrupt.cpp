#include "interrupt.hpp"

#include <csignal>

#include "eyebrow/check.hpp"

namespace eyebrow::cli {
namespace {

volatile std::sig_atomic_t seen = 0;

void remember(int signal) {
  seen = signal;
}

}  // namespace

void watch_signals() {
  for (const int signal : {SIGINT, SIGTERM}) {
    struct sigaction now {};
    sigaction(signal, nullptr, &now);
    if (now.sa_handler == SIG_IGN) continue;
    now.sa_handler = remember;
    now.sa_flags = SA_RESTART | static_cast<int>(SA_RESETHAND);
    sigaction(signal, &now, nullptr);
  }
  std::signal(SIGPIPE, SIG_IGN);
}

int signal_seen() {
  return seen;
}

void stop_if_asked() {
  if (seen != 0) throw Interrupted("stopped");
}

}  // namespace eyebrow::cli
