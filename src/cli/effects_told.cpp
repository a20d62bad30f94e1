#include "effects_told.hpp"

#include "eyebrow/changed_file.hpp"
#include "interrupt.hpp"
#include "progress.hpp"

namespace eyebrow::cli {

EffectsTold effects_told(const EngineText& source, const MeasuredCylinder& cylinder, const CheckArguments& arguments) {
  if (arguments.json.empty() && (arguments.quiet || arguments.csv == "-")) return {};
  Progress progress("moving inputs", arguments.quiet);
  CheckOptions options;
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  return effects_of(source, cylinder, arguments.overrides, {true, arguments.explain}, options);
}

}  // namespace eyebrow::cli
