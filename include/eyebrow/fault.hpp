// What can go wrong, and how it is told.
#pragma once
#include <stdexcept>
#include <string>
#include <vector>

namespace eyebrow {

/// One thing wrong (or doubtful) in what the user gave.
struct Fault {
  std::string file;      ///< as the user named it; "--set" for an override; empty when no place applies
  int line = 0;          ///< 1-based; 0 = unknown
  int column = 0;        ///< 1-based; 0 = unknown
  std::string message;   ///< what was read, what is allowed, and the nearest right word
  std::string key = {};  ///< dotted key of the engine file that it is about; empty = none. See place() in engine.hpp
};

/// "file:line:column: message", leaving out what is unknown.
std::string to_string(const Fault& fault);

/// Root of all that the library throws.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The input is wrong (exit status 3). Holds every fault found, at least one.
class InputError : public Error {
 public:
  explicit InputError(std::vector<Fault> faults);
  const std::vector<Fault>& faults() const { return faults_; }

 private:
  std::vector<Fault> faults_;
};

/// The machine failed us (exit status 4): no disk, no memory, a library that gave up.
class MachineError : public Error {
 public:
  using Error::Error;
};

}  // namespace eyebrow
