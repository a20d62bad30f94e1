#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/remedies.hpp"
#include "study/positions.hpp"
#include "study/row_at.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace {

/// Without the last places that a change of units adds.
double tidy(double value) {
  return std::stod(fmt::format("{:.12g}", value));
}

class Inputs {
 public:
  Inputs(const Engine& engine, const Origins& origins) : engine_(engine), origins_(origins) {}

  void pocket_of(int valve) {
    const int number = engine_.valves[static_cast<std::size_t>(valve)].pocket;
    if (number < 0) return;
    const std::string pocket = "pocket." + engine_.piston.pockets[static_cast<std::size_t>(number)].name;
    length(pocket + ".depth", 0, kMend);
    length(pocket + ".diameter", 0, 2 * kMend);
    length(pocket + ".x", kMend, kMend);
    length(pocket + ".y", kMend, kMend);
  }
  void gasket() { length("gasket.thickness", 0, study::kMendGasket); }
  void cam_of(int valve) {
    const Cam& cam = study::cam_of(engine_, valve);
    if (cam.stops) return;
    std::string key = "cam." + cam.name + ".advance";
    if (!origins_.contains(key)) key = "cam.advance";
    const bool known = std::ranges::any_of(found, [&](const RemedyInput& of) { return of.key == key; });
    if (known || !origins_.contains(key)) return;
    found.push_back({key, "deg", tidy(cam.advance / kDegree), study::kMendDegrees, study::kMendCam, study::kMendCam});
  }
  void place_of(int valve) {
    const std::string name = "valve." + engine_.valves[static_cast<std::size_t>(valve)].name;
    // A deeper seat is a number that most files leave out: none is sunk.
    if (origins_.contains(name + ".sunk"))
      length(name + ".sunk", 0, study::kMendValve);
    else
      add_length(name + ".sunk", engine_.units == LengthUnit::inch, 0, 0, study::kMendValve);
    length(name + ".x", study::kMendValve, study::kMendValve);
    length(name + ".y", study::kMendValve, study::kMendValve);
  }

  std::vector<RemedyInput> found;

 private:
  static constexpr double kMend = study::kMendPocket;

  /// Only what the file states. `less`, `more`: mm.
  void length(const std::string& key, double less, double more) {
    const auto origin = origins_.find(key);
    if (origin == origins_.end() || !std::isfinite(origin->second.value)) return;
    add_length(key, origin->second.unit == "in", origin->second.value, less, more);
  }
  void add_length(const std::string& key, bool inch, double now, double less, double more) {
    const double unit = inch ? kInch : 1;
    found.push_back({key, inch ? "in" : "mm", tidy(now / unit), inch ? study::kMendInch : study::kMendMm, less / unit,
                     more / unit});
  }

  const Engine& engine_;
  const Origins& origins_;
};

}  // namespace

std::vector<RemedyInput> remedy_inputs(const Engine& engine, const Origins& origins, std::size_t gap) {
  using Of = study::RowAt::Of;
  const study::RowAt at(engine, gap);
  Inputs inputs(engine, origins);
  const int number = static_cast<int>(at.number);
  switch (at.of) {
    case Of::piston:
      inputs.pocket_of(number);
      inputs.gasket();
      inputs.cam_of(number);
      inputs.place_of(number);
      break;
    case Of::pair: {
      const auto [first, second] = study::pair_at(engine, at.number);
      inputs.cam_of(first);
      inputs.cam_of(second);
      inputs.place_of(first);
      inputs.place_of(second);
      break;
    }
    case Of::bore:
      inputs.place_of(number);
      break;
    case Of::head:
      inputs.gasket();
  }
  return std::move(inputs.found);
}

}  // namespace eyebrow
