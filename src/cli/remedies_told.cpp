#include "remedies_told.hpp"

#include "eyebrow/changed_file.hpp"
#include "interrupt.hpp"
#include "progress.hpp"

namespace eyebrow::cli {

std::vector<GapRemedies> find_remedies(const EngineText& source, const MeasuredCylinder& cylinder,
                                       const std::vector<Override>& given, const std::string& what, bool quiet) {
  Progress progress(what, quiet);
  CheckOptions options;
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  return remedies_of(source, cylinder, given, options);
}

}  // namespace eyebrow::cli
