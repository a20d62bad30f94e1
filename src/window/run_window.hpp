// The window as a program.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "eyebrow/spec.hpp"

namespace eyebrow::window {

/// Shows the engine file until the window is closed, or `stop`, asked now and then, says so; empty: the file that a new
/// engine begins with. Overrides are put into the text as if they had been typed there. Throws InputError where the
/// file cannot be read or a key cannot be written, MachineError where there is no display.
void run_window(const std::string& engine, const std::vector<Override>& overrides, const std::function<bool()>& stop);

}  // namespace eyebrow::window
