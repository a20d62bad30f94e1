#pragma once
#include <string>

namespace eyebrow {

/// Writes a file whole or not at all: beside the target first, then renamed onto it. Throws MachineError.
void write_whole(const std::string& path, const std::string& text);

}  // namespace eyebrow
