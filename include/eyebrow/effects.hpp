// What a small move of single inputs does to every least gap: influence of the inputs, and what reading errors make.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "eyebrow/map.hpp"

namespace eyebrow {

/// An input of the engine file and how far it is moved, each way.
struct InputMove {
  std::string key;
  double by = 0;  ///< in the program's inner unit (mm, radians, ...); > 0
};

/// What that changes of each gap, in the order of map_gaps, mm. NaN: there is no such engine, or no such gap.
struct Effect {
  std::string key;
  double by = 0;
  std::vector<double> more, less;  ///< of the input moved up, and down
};

/// The engine with one input moved by so much (inner unit). Throws InputError where there is none.
using EngineMoved = std::function<Engine(const std::string& key, double by)>;

/// One effect a move. Gaps are what a check judges. Throws Interrupted.
std::vector<Effect> effects(const Mapper& mapper, const std::vector<InputMove>& moves, const EngineMoved& moved,
                            const CheckOptions& options = {});

/// The change of a gap for one unit of the input: between both sides, or of the one side that there is; NaN where there
/// is none.
double slope(const Effect& effect, std::size_t gap);

/// What the reading errors make of one gap.
struct ReadingError {
  double plus_minus = 0;  ///< root of the sum of squares of what each reading alone changes, mm; the readings are taken
                          ///< to err independently
  std::string most;       ///< the key whose reading changes it most; empty: none does
  double most_by = 0;     ///< by so much, mm
};

/// One a gap, of moves by the errors of the readings.
std::vector<ReadingError> reading_errors(const std::vector<Effect>& effects, std::size_t gaps);

}  // namespace eyebrow
