// Effects of inputs on least gaps as text.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/effects.hpp"
#include "eyebrow/report.hpp"

namespace eyebrow {

/// An effect with what its input is measured in: a length is told for 0.01 mm or 0.001 in of it, an angle for a degree,
/// anything else for one per cent of its value.
struct ToldEffect {
  Effect effect;
  enum class Per { length, angle, share } per = Per::share;
  double value = 0;  ///< of the input, inner unit; for a share
};

/// What single numbers of the file do to the gaps of an engine.
struct EffectsTold {
  std::vector<MapGap> gaps;
  std::vector<ReadingError> errors;   ///< one a gap; empty where no reading states an error
  std::vector<ToldEffect> influence;  ///< empty where nobody asked for it
};

/// Both of them as text, each with an empty line before it. Empty where there is nothing to tell.
std::string effects_text(const EffectsTold& told, const Format& format);

/// What inputs do to the gaps of one valve, or to one gap between parts, as printed.
struct InfluenceGroup {
  struct Row {
    std::string key, per;              ///< "cam.advance", "1 deg"
    std::vector<std::string> numbers;  ///< one a column
  };
  std::string title;                 ///< "Valve intake", "intake/exhaust"
  std::vector<std::string> columns;  ///< "travel", ...
  std::vector<Row> rows;             ///< the strongest first
};

/// Those that have rows.
std::vector<InfluenceGroup> influence_groups(const std::vector<ToldEffect>& effects, const std::vector<MapGap>& gaps,
                                             const Format& format);

/// What the numbers of the groups mean, in a sentence or two.
std::string influence_meaning(const Format& format);

/// For each valve and for what is between the parts, a row an input, the strongest first; those that move nothing worth
/// printing are left out.
std::string influence_text(const std::vector<ToldEffect>& effects, const std::vector<MapGap>& gaps,
                           const Format& format);

/// A line a gap that the readings leave uncertain by something worth printing.
std::string readings_text(const std::vector<ReadingError>& errors, const std::vector<MapGap>& gaps,
                          const Format& format);

}  // namespace eyebrow
