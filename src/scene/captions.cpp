#include "scene/captions.hpp"

#include <fmt/format.h>

#include "report/lines.hpp"
#include "report/verdict_text.hpp"
#include "report/words.hpp"

namespace eyebrow::scene {
namespace {

/// The engine as it stands in the picture: a cam with stops at one place, not anywhere between them.
Conditions conditions_shown(const Engine& engine, const CheckResult* check) {
  Conditions out;
  if (check != nullptr) out = check->conditions;
  out.running_lash = engine.running_lash;
  out.gasket = engine.gasket.thickness;
  out.deck_clearance = engine.cylinder.deck_clearance;
  out.stops.clear();
  for (const Cam& cam : engine.cams) out.advance[cam.name] = cam.advance;
  return out;
}

}  // namespace

Captions captions(const study::Setup& setup, const CheckResult* check, double crank, const Format& format) {
  const Lengths lengths(format);
  const Engine& engine = setup.engine;
  Captions out;
  out.title = printable(engine.name, 70);
  out.subtitle = crank_text(crank) + "   lift";
  for (std::size_t i = 0; i < engine.valves.size(); ++i)
    out.subtitle += fmt::format("{} {} {}", i == 0 ? "" : ",", printable(engine.valves[i].name),
                                lengths.plain(setup.motion.lift(static_cast<int>(i), crank)));
  out.subtitle += fmt::format(" {}", lengths.unit());
  const double depth = setup.motion.piston_depth(crank);
  out.subtitle += fmt::format("   crown flat {} {} {} the deck", lengths.plain(std::fabs(depth)), lengths.unit(),
                              depth < 0 ? "above" : "below");
  out.foot.push_back("Conditions: " + state_text(conditions_shown(engine, check), lengths) + ".");
  out.foot.push_back(kCaution);
  return out;
}

}  // namespace eyebrow::scene
