#include "eyebrow/changed_file.hpp"

#include <fmt/format.h>

#include <cmath>

#include "eyebrow/reading.hpp"
#include "spec/units.hpp"

namespace eyebrow {
namespace {

using Per = ToldEffect::Per;

/// How far an input is moved to see what it does: some ten times what the searches leave open, and far below what bends
/// a gap.
constexpr double kLengthMove = 0.05, kAngleMove = 0.5 * kDegree, kShareMove = 0.01;

Mapper mapper_of(const MeasuredCylinder& cylinder) {
  try {
    return Mapper(cylinder.engine);
  } catch (const InputError& error) {
    throw InputError(place(error.faults(), cylinder.origins));
  }
}

/// Asked gaps, tolerances, and what steers the check move no part.
bool moves_parts(const std::string& key) {
  for (const char* table : {"asked.", "tolerance.", "check.", "running.", "each_cylinder."})
    if (key.starts_with(table)) return false;
  return true;
}

Per per_of(const Origin& origin) {
  const auto unit = unit_from_word(origin.unit);
  const Measure measure = unit ? measure_of(*unit) : Measure::ratio;
  return measure == Measure::length ? Per::length : measure == Measure::angle ? Per::angle : Per::share;
}

double move_of(const Origin& origin) {
  switch (per_of(origin)) {
    case Per::length:
      return kLengthMove;
    case Per::angle:
      return kAngleMove;
    case Per::share:
      break;
  }
  return kShareMove * std::fabs(origin.value);
}

}  // namespace

std::vector<GapRemedies> remedies_of(const EngineText& source, const MeasuredCylinder& cylinder,
                                     const std::vector<Override>& given, const CheckOptions& options) {
  const EngineWith engine_with = [&](const RemedyInput& input, double value) {
    std::vector<Override> overrides = given;
    overrides.push_back({input.key, fmt::format("{}{}{}", value, input.unit.empty() ? "" : " ", input.unit)});
    return source.engine(overrides, cylinder.name);
  };
  return remedies(mapper_of(cylinder), cylinder.origins, engine_with, options);
}

EffectsTold effects_of(const EngineText& source, const MeasuredCylinder& cylinder, const std::vector<Override>& given,
                       const EffectsAsked& asked, const CheckOptions& options) {
  EffectsTold told;
  std::vector<InputMove> of_readings, of_all;
  if (asked.readings)
    for (const Reading& reading : readings(cylinder.origins)) of_readings.push_back({reading.key, reading.error});
  if (asked.influence)
    for (const auto& [key, origin] : cylinder.origins)
      if (std::isfinite(origin.value) && origin.taken_from.empty() && moves_parts(key) && move_of(origin) > 0)
        of_all.push_back({key, move_of(origin)});
  if (of_readings.empty() && of_all.empty()) return told;

  const EngineMoved engine_moved = [&](const std::string& key, double by) {
    std::vector<Override> overrides = given;
    overrides.push_back(moved(key, cylinder.origins.at(key), by));
    return source.engine(overrides, cylinder.name);
  };
  const Mapper mapper = mapper_of(cylinder);
  told.gaps = map_gaps(cylinder.engine);
  if (!of_readings.empty())
    told.errors = reading_errors(effects(mapper, of_readings, engine_moved, options), told.gaps.size());
  if (of_all.empty()) return told;
  for (Effect& effect : effects(mapper, of_all, engine_moved, options)) {
    const Origin& origin = cylinder.origins.at(effect.key);
    told.influence.push_back({std::move(effect), per_of(origin), origin.value});
  }
  return told;
}

}  // namespace eyebrow
