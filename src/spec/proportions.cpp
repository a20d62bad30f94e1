#include "spec/proportions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "spec/rim_height.hpp"

namespace eyebrow {
namespace {

constexpr double kNoEnd = std::numeric_limits<double>::infinity();

/// Above these a gasket is more likely uncompressed or two, a deck clearance a slip of sign or unit. Large engines have
/// more of both (common practice).
constexpr double kThickGasket = 3.0, kThickGasketOfBore = 1.0 / 40;
constexpr double kFarDeck = 2.5, kFarDeckOfBore = 1.0 / 50;

struct MeasuredLength {
  std::string name;  ///< "the stroke"
  double value = 0;
};

struct Range {
  double low = 0, high = kNoEnd;
};

/// All ranges are common practice; the refused ones lie far outside of it.
struct Proportion {
  Range usual;    ///< outside: a warning
  Range allowed;  ///< outside: a fault
  const char* says;
};

constexpr Proportion kRod{{1.3, 3}, {0, 8}, "rods run from 1.3 to 3 strokes"};
constexpr Proportion kStroke{{0.4, 2}, {0.2, 4}, "strokes run from 0.5 to 1.5 bores"};
constexpr Proportion kCrown{{0.97, kNoEnd}, {0.8, kNoEnd}, "crowns are about 0.99 of the bore"};
constexpr Proportion kGasketBore{{0, 1.15}, {0, 1.6}, "gaskets' bores are a little more than the cylinder's"};
constexpr Proportion kLiftShare{{0.1, 0.5}, {0, 1}, "lifts at the valve run from 0.2 to 0.4 of the head's diameter"};
constexpr Proportion kMargin{{0.01, 0.1}, {0, 0.25}, "margins are 0.02 to 0.06 of the head's diameter"};
constexpr Proportion kStem{{0.1, 0.4}, {0, kNoEnd}, "stems are about a fifth of the head's diameter"};
constexpr Proportion kLash{{0, 0.08}, {0, 0.2}, "lash is 0 to 0.05 of the valve's greatest lift"};

/// Whether the proportion is a usual one.
bool judge(Context& context, const std::string& key, double value, const MeasuredLength& beside,
           const Proportion& one) {
  const double share = value / beside.value;
  if (!std::isfinite(share)) return true;
  const auto outside = [share](const Range& range) { return share < range.low || share > range.high; };
  if (!outside(one.usual) && !outside(one.allowed)) return true;
  const std::string read = fmt::format("{} {} is {:.3g} times {}, {}", key, context.length_text(value), share,
                                       beside.name, context.length_text(beside.value));
  const std::string usual = fmt::format("{} (common practice): check both numbers and their units", one.says);
  if (!outside(one.allowed)) {
    context.warn(context.place_of(key), fmt::format("{}; {}", read, usual));
    return false;
  }
  const std::string allowed = one.allowed.high == kNoEnd ? fmt::format("at least {:g} times", one.allowed.low)
                              : one.allowed.low == 0
                                  ? fmt::format("at most {:g} times", one.allowed.high)
                                  : fmt::format("{:g} to {:g} times", one.allowed.low, one.allowed.high);
  context.fault(context.place_of(key), fmt::format("{}; allowed is {}; {}", read, allowed, usual));
  return false;
}

void check_block(Context& context, const Engine& engine) {
  const Cylinder& cylinder = engine.cylinder;
  judge(context, "cylinder.rod_length", cylinder.rod_length, {"the stroke", cylinder.stroke}, kRod);
  judge(context, "cylinder.stroke", cylinder.stroke, {"the bore", cylinder.bore}, kStroke);
  if (engine.piston.crown_diameter != 0)  // a crown from STEP need not state it
    judge(context, "piston.crown_diameter", engine.piston.crown_diameter, {"the bore", cylinder.bore}, kCrown);
  judge(context, "gasket.bore", engine.gasket.bore, {"the bore", cylinder.bore}, kGasketBore);
  const auto text = [&](double mm) { return context.length_text(mm); };
  const Unit unit = unit_of(context.units.value_or(LengthUnit::mm));
  const auto rough = [unit](double mm) { return fmt::format("{:.1g} {}", mm / factor(unit), to_string(unit)); };
  if (engine.gasket.thickness > std::fmax(kThickGasket, kThickGasketOfBore * cylinder.bore))
    context.warn(context.place_of("gasket.thickness"),
                 fmt::format("gasket.thickness is {}; usual is {} to {} compressed (common practice): check that it is "
                             "one gasket, compressed, and its unit",
                             text(engine.gasket.thickness), rough(0.5), rough(2)));
  if (std::fabs(cylinder.deck_clearance) > std::fmax(kFarDeck, kFarDeckOfBore * cylinder.bore)) {
    const bool given = context.given("cylinder.deck_clearance");
    context.warn(
        context.place_of(given ? "cylinder.deck_clearance" : "cylinder.block_deck_height"),
        fmt::format("deck clearance is {}{}; usual is {} to {} (common practice): check its sign and unit, and "
                    "that it was read to the crown flat, not to a dome or a dish",
                    text(cylinder.deck_clearance), given ? "" : " from block_deck_height and compression_height",
                    rough(-1), rough(2)));
  }
}

/// A rim that never comes out of the head, by the reading that the file states.
void check_flush_lift(Context& context, const Valve& valve, double greatest) {
  const std::string path = "valve." + valve.name;
  const double flush = flush_lift_from_height(valve.rim_height, valve.tilt, valve.head_diameter / 2);
  if (!(flush > greatest)) return;
  const bool stated = context.given(path + ".flush_lift");
  const std::string read = stated ? fmt::format("{}.flush_lift is {}", path, context.length_text(flush))
                                  : fmt::format("{}.rim_height {} makes the flush lift {}", path,
                                                context.length_text(valve.rim_height), context.length_text(flush));
  context.warn(context.place_of(path + (stated ? ".flush_lift" : ".rim_height")),
               fmt::format("{}, more than the valve's greatest lift, {}: its rim would never come out of the head; "
                           "usual is less than half of the lift (common practice): check the reading and its unit",
                           read, context.length_text(greatest)));
}

/// Whether the lobe's lift, at this valve, is a usual one.
bool check_lift(Context& context, const Valve& valve, const Lobe& lobe, double ratio) {
  const std::string path = "lobe." + lobe.name;
  const std::string at = fmt::format("the head's diameter of valve \"{}\"{}", valve.name,
                                     ratio == 1 ? "" : fmt::format(" over its rocker_ratio {:.4g}", ratio));
  return judge(context, path + (context.given(path + ".lift") ? ".lift" : ".table"), lobe.lift,
               {at, valve.head_diameter / ratio}, kLiftShare);
}

/// A pocket is bored along its valve's path, so its axis is the valve's, or nearly: some are bored upright (common
/// practice). Further apart than this and away from upright, a lean is the wrong way round or a tilt another's.
constexpr double kAxesApart = 15 * kDegree;

void check_axes(Context& context, const Engine& engine, const Valve& valve) {
  if (valve.pocket < 0) return;
  const Pocket& pocket = engine.piston.pockets[static_cast<std::size_t>(valve.pocket)];
  const double apart =
      std::acos(std::clamp(dot(tilted_axis(pocket.tilt, pocket.lean), tilted_axis(valve.tilt, valve.lean)), -1.0, 1.0));
  if (!(apart > kAxesApart) || pocket.tilt < kAxesApart / 2) return;
  const std::string path = "pocket." + pocket.name;
  context.warn(context.place_of(path + (context.given(path + ".lean") ? ".lean" : ".tilt")),
               fmt::format("the axis of {} stands {:.0f} degrees off that of valve \"{}\"; a pocket is bored along its "
                           "valve's path, or upright (common practice): check tilt and lean of both",
                           path, apart / kDegree, valve.name));
}

void check_valves(Context& context, const Engine& engine) {
  std::set<std::string> odd_lobes;  // one lobe may move two valves; the first tells
  for (const Valve& valve : engine.valves) {
    const std::string path = "valve." + valve.name;
    const MeasuredLength head{"the head's diameter", valve.head_diameter};
    if (!valve.step) judge(context, path + ".margin", valve.margin, head, kMargin);
    judge(context, path + ".stem_diameter", valve.stem_diameter, head, kStem);
    check_axes(context, engine, valve);
    for (const Lobe& lobe : engine.lobes) {
      if (lobe.name != valve.lobe || odd_lobes.count(lobe.name) != 0) continue;
      const double ratio = lobe.measured == LiftAt::lobe ? valve.rocker_ratio : 1;
      if (!check_lift(context, valve, lobe, ratio)) {
        odd_lobes.insert(lobe.name);
        continue;  // what is measured by the lift would seem odd with it
      }
      judge(context, path + ".lash", valve.lash, {"the valve's greatest lift", lobe.lift * ratio}, kLash);
      check_flush_lift(context, valve, lobe.lift * ratio);
    }
  }
}

}  // namespace

void check_proportions(Context& context, const Engine& engine) {
  check_block(context, engine);
  check_valves(context, engine);
}

}  // namespace eyebrow
