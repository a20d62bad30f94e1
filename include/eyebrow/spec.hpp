// The engine file: from TOML text to checked plain numbers.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow {

/// One `--set key=value`.
struct Override {
  std::string key;    ///< dotted; items of a list are counted from 1 ("lobe.intake.durations.2.duration")
  std::string value;  ///< a number with or without a unit, or a word
};

/// Splits "key=value". Throws InputError when there is no '=' or no key.
Override parse_override(const std::string& text);

struct EngineFile {
  Engine engine;
  Origins origins;
  std::vector<Fault> warnings;  ///< doubtful, not refused
};

/// Reads, checks and completes an engine file. Throws InputError with every fault found at once.
EngineFile read_engine(const std::string& path, const std::vector<Override>& overrides = {});

/// The same from text; `name` stands for the file in messages; tables are looked for beside it.
EngineFile parse_engine(const std::string& text, const std::string& name, const std::vector<Override>& overrides = {});

/// The commented starter file that `eyebrow new` writes. It runs as it is.
std::string starter_file();

}  // namespace eyebrow
