// `--at tightest:NAME`: the least gaps of a check by their names.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"
#include "options.hpp"

namespace eyebrow::cli {

/// A gap's least, by its name.
struct NamedLeast {
  std::string name;
  int valve;
  GapKind kind;
  const Minimum* least;
};

/// Those between valves and piston that there are; they point into `check`.
std::vector<NamedLeast> leasts_of(const CheckResult& check);

/// The one with the least margin; null where there is none.
const NamedLeast* tightest_of(const CheckResult& check, const std::vector<NamedLeast>& leasts);

/// Refuses gaps that the engine cannot have. Whether it has them, the check tells. Throws UsageError.
void require_gaps(const std::vector<PlaceInCycle>& places, const Engine& engine);

/// Throws UsageError where nothing was measured of that name.
const NamedLeast& named(const std::vector<NamedLeast>& leasts, const std::string& name);

/// The engine with its cam where the least is found: of a cam with stops that may be elsewhere than in the file.
std::shared_ptr<const Engine> engine_at(const std::shared_ptr<const Engine>& engine, const NamedLeast* of);

}  // namespace eyebrow::cli
