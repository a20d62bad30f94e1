#include "solid/signals_caught.hpp"

#include <OSD.hxx>
#include <vector>

namespace eyebrow {

SignalsCaught::SignalsCaught() {
  // The modeller takes hold of every signal that it knows, an interrupt among them: all but the faults go back at once.
  std::vector<struct sigaction> all(NSIG);
  for (int signal = 1; signal < NSIG; ++signal) sigaction(signal, nullptr, &all[static_cast<std::size_t>(signal)]);
  OSD::SetSignal(OSD_SignalMode_Set, false);
  for (std::size_t i = 0; i < kFaults.size(); ++i) before_[i] = all[static_cast<std::size_t>(kFaults[i])];
  for (int signal = 1; signal < NSIG; ++signal) {
    bool fault = false;
    for (const int each : kFaults) fault |= each == signal;
    if (!fault) sigaction(signal, &all[static_cast<std::size_t>(signal)], nullptr);
  }
}

SignalsCaught::~SignalsCaught() {
  for (std::size_t i = 0; i < kFaults.size(); ++i) sigaction(kFaults[i], &before_[i], nullptr);
}

}  // namespace eyebrow
