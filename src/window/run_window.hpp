// The window as a program.
#pragma once
#include <string>

namespace eyebrow::window {

/// Shows the engine file until the window is closed; empty: the file that a new engine begins with. Returns the exit
/// status: 0, or 4 where there is no display, which is told on the standard error.
int run_window(const std::string& engine);

}  // namespace eyebrow::window
