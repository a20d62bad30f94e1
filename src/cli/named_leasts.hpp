// `--at tightest:NAME`: the least gaps of a check by their names.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"
#include "options.hpp"

namespace eyebrow::cli {

/// A gap's least, by the name that the check gives it.
struct NamedLeast {
  std::string name;
  const AskedRow* row = nullptr;
  int valve = -1, other = -1;               ///< none: piston to head; a valve; two of a pair
  double crank = 0;                         ///< radians; of piston to head 0
  std::optional<double> advance, advance2;  ///< as Minimum
};

/// Those of the cold engine that there are, in the order of the check's rows, into which they point.
std::vector<NamedLeast> leasts_of(const CheckResult& check);

/// The one that is shown first; null where there is none.
const NamedLeast* tightest_of(const CheckResult& check, const std::vector<NamedLeast>& leasts);

/// Refuses gaps that the engine cannot have. Whether it has them, the check tells. Throws UsageError.
void require_gaps(const std::vector<PlaceInCycle>& places, const Engine& engine);

/// Throws UsageError where nothing was measured of that name.
const NamedLeast& named(const std::vector<NamedLeast>& leasts, const std::string& name);

/// The engine with its cams where the least is found: of a cam with stops that may be elsewhere than in the file.
std::shared_ptr<const Engine> engine_at(const std::shared_ptr<const Engine>& engine, const NamedLeast* of);

}  // namespace eyebrow::cli
