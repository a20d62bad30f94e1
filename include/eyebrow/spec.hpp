// The engine file: from TOML text to checked plain numbers.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/tolerance.hpp"

namespace eyebrow {

/// One `--set key=value`.
struct Override {
  std::string key;    ///< dotted; items of a list are counted from 1 ("lobe.intake.durations.2.duration")
  std::string value;  ///< a number with or without a unit and a reading error ("0.560 in +- 0.005"), or a word
};

/// Splits "key=value". Throws InputError when there is no '=' or no key.
Override parse_override(const std::string& text);

/// The engine as one of its cylinders has it: the file's numbers, and in place of some of them those that
/// [each_cylinder] lists for this one.
struct MeasuredCylinder {
  std::string name;
  Engine engine;
  Origins origins = {};  ///< of its numbers: their values and reading errors too
};

struct EngineFile {
  Engine engine;  ///< by the file's own numbers
  Origins origins;
  std::vector<Fault> warnings;              ///< doubtful, not refused
  std::vector<MeasuredCylinder> cylinders;  ///< in the order of their names in the file; empty without [each_cylinder]
  std::vector<Tolerance> tolerances = {};   ///< in the order of the file; of `engine`, not of the cylinders

  /// What a check looks at: the cylinders, else the file's own engine, without a name.
  std::vector<MeasuredCylinder> checked() const;
};

/// An engine file's text, taken apart once to be read as often as wanted with other numbers. Tables are looked for
/// beside `name`, which stands for the file in messages. Immutable: any number of threads may read at once.
class EngineText {
 public:
  /// Throws InputError when it is no TOML.
  EngineText(const std::string& text, const std::string& name);
  /// Throws InputError when it cannot be read, too.
  static EngineText of_file(const std::string& path);
  /// As read_engine.
  EngineFile read(const std::vector<Override>& overrides = {}) const;
  /// The engine alone, by the file's own numbers and the overrides, for less: no cylinders, origins or
  /// warnings. `cylinder`: of [each_cylinder], whose numbers count; empty = none. Throws as `read`, but for faults of
  /// other cylinders.
  Engine engine(const std::vector<Override>& overrides, const std::string& cylinder = "") const;

 private:
  struct Tree;
  std::shared_ptr<const Tree> tree_;
};

/// Reads, checks and completes an engine file. An override holds for every cylinder: where [each_cylinder] lists the
/// same number, the list is not used, and a warning tells so. A fault or warning that one cylinder's numbers alone make
/// names the cylinder. Throws InputError with every fault found at once.
EngineFile read_engine(const std::string& path, const std::vector<Override>& overrides = {});

/// The same from text; `name` stands for the file in messages; tables are looked for beside it.
EngineFile parse_engine(const std::string& text, const std::string& name, const std::vector<Override>& overrides = {});

/// The commented starter file that `eyebrow new` writes. It runs as it is.
std::string starter_file();

}  // namespace eyebrow
