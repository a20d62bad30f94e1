// Least gaps over a range of one input or two: what moves them, and how far an input may go.
#pragma once
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"

namespace eyebrow {
namespace study {
struct Setup;
}

/// One input that is varied: a key of the engine file, in the unit that its values were typed in.
struct Varied {
  std::string key;             ///< dotted, "gasket.thickness"
  std::string unit;            ///< "mm", "in", "deg"; empty: a number without a unit
  std::vector<double> values;  ///< in rising order, at least one
  double now = NAN;            ///< of the engine file, --set included; NaN = it states none
};

/// The engine with the inputs at one place of the map.
struct MapCell {
  std::vector<double> found;  ///< one a gap of MapResult::gaps, mm; NaN = there is none. Empty where `trouble` says why
  std::vector<double> margin;  ///< beside `found`, as AskedRow::margin
  std::vector<bool> holds;     ///< beside `found`, as AskedRow::holds
  Verdict verdict = Verdict::holds;
  std::string trouble;  ///< why there is no such engine: a number out of range, a crown that cannot be made
  bool possible() const { return trouble.empty(); }
  bool allowed() const { return possible() && verdict == Verdict::holds; }
};

/// A stretch of one input over which everything that is asked holds, to a step of `AllowedRange::step`.
struct AllowedRange {
  /// What ends it.
  struct End {
    double at = NAN;       ///< the last value that is allowed
    bool open = false;     ///< the map ends here: it may go further
    int gap = -1;          ///< a step outside: the gap with the least margin that does not hold; -1: there is no engine
    std::string trouble;   ///< or why there is none
    double contact = NAN;  ///< further out, the first value at which parts touch; NaN = not before the map ends
  };
  End low, high;
  double step = 0;  ///< ends are told to this: both are allowed, a step outside is not
};

struct MapResult {
  std::string engine;
  LengthUnit units = LengthUnit::mm;
  std::vector<Varied> inputs;  ///< one or two
  std::vector<MapGap> gaps;
  std::vector<MapCell> cells;         ///< of the first input's value i and the second's k: cells[i + k * (number of i)]
  std::vector<AllowedRange> allowed;  ///< of one input, where asked for; in rising order
  std::vector<std::string> changed;   ///< as Conditions::changed
  const MapCell& at(std::size_t i, std::size_t k = 0) const { return cells[i + k * inputs.front().values.size()]; }
};

/// The engine with the inputs at these values, one an input, in their own units. Throws InputError where there is none.
/// Asked from several threads at once.
using EngineAt = std::function<Engine(const std::vector<double>& values)>;

/// Makes maps of one engine: its solids, and all that is made ready of them, serve every map.
class Mapper {
 public:
  /// The engine as it is; it says which gaps there are. Throws as build_parts.
  explicit Mapper(const Engine& base);
  const Engine& base() const;
  /// What the module's other studies begin with.
  const study::Setup& setup() const;
  /// Each cell has what a check of its engine judges, to 3 um. Fields answer where many cells share their solids, the
  /// proven searches elsewhere. Throws Interrupted.
  MapResult map(std::vector<Varied> inputs, const EngineAt& engine_at, const CheckOptions& options = {}) const;
  /// Of a map over one input: the stretches in which all cells are allowed, their ends looked for between the cells
  /// with the searches of a check. What is not allowed between two cells that both are is not seen. Throws Interrupted.
  std::vector<AllowedRange> allowed(const MapResult& map, const EngineAt& engine_at,
                                    const CheckOptions& options = {}) const;

 private:
  struct Made;
  std::shared_ptr<const Made> made_;
};

/// Which gaps a map of such an engine has, in the order of its rows.
std::vector<MapGap> map_gaps(const Engine& engine);

/// The gap with the least margin among those of a cell that do not hold, else among all; -1: none has a margin.
int tightest_gap(const MapCell& cell);

}  // namespace eyebrow
