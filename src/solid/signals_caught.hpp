// A crash inside the modeller, on a file that is broken in a way it does not look for, as an exception.
#pragma once
#include <array>
#include <csignal>

namespace eyebrow {

/// While it lives, a fault of memory or arithmetic in a thread that stands within OCC_CATCH_SIGNALS is a
/// Standard_Failure there; all other signals are as they were. One at a time in the program.
class SignalsCaught {
 public:
  SignalsCaught();
  ~SignalsCaught();
  SignalsCaught(const SignalsCaught&) = delete;
  SignalsCaught& operator=(const SignalsCaught&) = delete;

 private:
  static constexpr std::array<int, 4> kFaults{SIGSEGV, SIGBUS, SIGFPE, SIGILL};
  std::array<struct sigaction, kFaults.size()> before_{};
};

}  // namespace eyebrow
