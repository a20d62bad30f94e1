// `view`, in the program that draws.
#include "commands.hpp"
#include "interrupt.hpp"
#include "window/run_window.hpp"

namespace eyebrow::cli {

int run(const ViewArguments& arguments) {
  window::run_window(arguments.engine, arguments.overrides, [] { return signal_seen() != 0; });
  stop_if_asked();
  return kHolds;
}

}  // namespace eyebrow::cli
