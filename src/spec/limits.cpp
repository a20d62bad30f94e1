#include "spec/limits.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace eyebrow {
namespace {

constexpr auto L = Measure::length;
constexpr auto A = Measure::angle;
constexpr auto R = Measure::ratio;
constexpr auto M = Measure::mass;
constexpr auto W = Measure::warmth;
constexpr auto X = Measure::expansion;

// Bores from model engines (15 mm) to medium-speed four-strokes (640 mm) set the scale; the rest follows from it.
// Where it can be, a range is cut so that a number in inches read as mm, or the reverse, falls outside.
constexpr std::string_view kBore = "bores run from model engines to medium-speed diesels";
constexpr std::string_view kInBore = "a place within the greatest bore";
constexpr std::string_view kAzimuth = "a direction: 0 = +x, 90 = +y (front)";
constexpr std::string_view kTilt = "valves lean 0 to 45 degrees; beyond 60 none is known";
constexpr std::string_view kRadius = "0 = sharp";
constexpr std::string_view kTakenOff = "what was taken off, not negative";
constexpr std::string_view kAsked = "gaps asked for are a few tenths to a few mm; 0 = must not touch";
constexpr std::string_view kLift = "lifts run to about a third of the valve's diameter";
constexpr std::string_view kCheckingLift =
    "a checking lift, below the greatest; an advertised duration has one too, 0.1 to 0.2 mm (0.004 to 0.008 in, 0.006 "
    "by SAE)";  // memory
constexpr std::string_view kBearing = "diametral; usual is about a thousandth of the journal's diameter; 0 = none";
constexpr std::string_view kWarmer = "warmer than on the bench when running";
constexpr std::string_view kExpansion = "usual are 8e-6 to 24e-6 /K";
constexpr std::string_view kSlack = "crank degrees; usual are 0 to 4";

constexpr Limit kLimits[] = {
    {"cylinder.bore", L, 12, 700, kBore},
    {"cylinder.stroke", L, 8, 900, "strokes run from 0.5 to 1.5 bores"},
    {"cylinder.rod_length", L, 15, 2500, "rods run from 1.3 to 3 strokes"},
    {"cylinder.pin_offset", L, -50, 50, "offsets are a few hundredths of the bore, positive toward the thrust side"},
    {"cylinder.deck_clearance", L, -10, 25, "crown flat below the deck at TDC, negative = proud"},
    {"cylinder.block_deck_height", L, 30, 4000, "crankshaft axis to the block's deck face"},
    {"cylinder.compression_height", L, 6, 900, "pin axis to crown flat"},
    {"cylinder.notch.*.x", L, -400, 400, kInBore},
    {"cylinder.notch.*.y", L, -400, 400, kInBore},
    {"cylinder.notch.*.diameter", L, 2, 400, "a notch clears a valve head"},
    {"cylinder.notch.*.depth", L, 0.1, 200, "below the block's deck face"},
    {"gasket.thickness", L, 0.1, 10, "compressed, from shims to stacked sheet"},
    {"gasket.bore", L, 12, 750, kBore},
    {"head.milled", L, 0, 10, kTakenOff},
    {"head.chamber_volume", Measure::volume, 50, 2e7,
     "with a burette: the head as it is today, valves and plug in place"},
    {"head.angle_milled.deep", L, 0, 10, kTakenOff},
    {"head.angle_milled.shallow", L, 0, 10, kTakenOff},
    {"head.angle_milled.width", L, 20, 1000, "across the head, between the lines where deep and shallow came off"},
    {"head.angle_milled.bore_from_deep", L, 0, 1000, "across the head, from the line of deep to the bore axis"},
    {"head.angle_milled.toward", A, -360, 360, kAzimuth},

    {"piston.crown_diameter", L, 11, 700, kBore},
    {"piston.top_chamfer", L, 0, 10, kRadius},
    {"piston.top_land_height", L, 0.5, 100, "crown flat to the top ring groove"},
    {"piston.ring_groove_depth", L, 0.4, 40, "radial"},
    {"piston.underside", L, 1, 300, "crown flat down to the crown's underside"},
    {"piston.step.turn", A, -360, 360, "about the bore axis, from +x toward +y"},
    {"piston.step.flat", L, -2000, 2000, "along `up`, from the file's origin to the crown flat"},
    {"piston.step.mend", L, 1e-4, 0.01, "between two faces; gaps of the crown are less sure by as much"},
    {"piston.step.faces.*.point.*", L, -500, 500, "from where the bore axis meets the crown flat"},
    {"piston.dish.diameter", L, 3, 690, "within the crown"},
    {"piston.dish.depth", L, 0.1, 150, "below the crown flat"},
    {"piston.dish.corner_radius", L, 0, 100, kRadius},
    {"piston.dish.x", L, -350, 350, kInBore},
    {"piston.dish.y", L, -350, 350, kInBore},
    {"piston.dome.height", L, 0.1, 150, "above the crown flat"},
    {"piston.dome.base_diameter", L, 3, 690, "within the crown"},
    {"piston.dome.top_diameter", L, 0, 690, "0 = a point"},
    {"piston.roof.plateau", L, 0.1, 150, "above the crown flat"},
    {"piston.roof.planes.*.slope", A, 1, 80, "from the crown flat"},
    {"piston.roof.planes.*.toward", A, -360, 360, kAzimuth},
    {"piston.roof.planes.*.meets", L, 1, 350, "bore axis to the line where the plane meets the crown flat"},

    {"pocket.*.x", L, -350, 350, kInBore},
    {"pocket.*.y", L, -350, 350, kInBore},
    {"pocket.*.tilt", A, 0, 60, kTilt},
    {"pocket.*.lean", A, -360, 360, kAzimuth},
    {"pocket.*.tilt_xz", A, -60, 60, kTilt},
    {"pocket.*.tilt_yz", A, -60, 60, kTilt},
    {"pocket.*.diameter", L, 4, 400, "a pocket is a little wider than its valve"},
    {"pocket.*.arc_chord", L, 3, 400, "a straight line across the arc that exists"},
    {"pocket.*.arc_height", L, 0.3, 400, "from the middle of the chord to the arc"},
    {"pocket.*.depth", L, 0.2, 150, "below the crown flat"},
    {"pocket.*.corner_radius", L, 0, 100, kRadius},
    {"pocket.*.mouth_break", L, 0, 10, kRadius},

    {"cam.*.advance", A, -90, 90, "crank degrees, positive = earlier; phasers reach about 70"},
    {"cam.*.separation", A, 60, 180, "cam degrees; usual are 98 to 120"},
    {"cam.*.stops.*", A, -90, 90, "an advance in crank degrees, positive = earlier; phasers reach about 70"},
    {"cam.*.teeth", R, 8, 300, "of the cam's own pulley, sprocket or gear; usual are 18 to 60", false, true},
    {"drive.pulley_diameter", L, 20, 600, "pitch diameter of the wheel on the cam"},
    {"drive.pitch", L, 2, 50, "of belt or chain, tooth to tooth"},
    {"drive.run_angle", A, 0, 80, "the taut run from the bore axis, to either side"},
    {"drive.deck_cut", L, 0, 10, kTakenOff},
    {"drive.gasket_when_timed", L, 0.1, 10, "compressed, from shims to stacked sheet"},
    {"lobe.*.centre", A, 0, 240, "crank degrees, intake ATDC, exhaust BTDC; usual are 95 to 125"},
    {"lobe.*.lift", L, 0.5, 150, kLift},
    {"lobe.*.durations.*.at", L, 0.01, 150, kCheckingLift},
    {"lobe.*.durations.*.duration", A, 10, 540, "crank degrees"},
    {"lobe.*.events.*.at", L, 0.01, 150, kCheckingLift},
    {"lobe.*.events.*.opens", A, -100, 200, "crank degrees, intake BTDC, exhaust BBDC; usual are -20 to 110"},
    {"lobe.*.events.*.closes", A, -100, 200, "crank degrees, intake ABDC, exhaust ATDC; usual are -20 to 110"},
    {"lobe.*.lift_at_tdc", L, 0.01, 150, "lift at overlap TDC; usual are 0.5 to 6 mm at the valve"},
    {"lobe.*.tdc_advance", A, -90, 90, "crank degrees, positive = earlier; phasers reach about 70"},
    {"lobe.*.reading_error", L, 0.0005, 0.05, "either way, from a fine probe to a coarse indicator"},
    {"lobe.*.law_duration", A, 60, 540, "crank degrees between the ramps, from closed to closed without"},
    {"lobe.*.ramp_lift", L, 0.01, 3, "a few tenths of a mm, little more than the lash"},
    {"lobe.*.ramp_duration", A, 2, 120, "crank degrees, each side; usual are 15 to 60"},

    {"valve.*.head_diameter", L, 5, 350, "model engines to medium-speed diesels"},
    {"valve.*.margin", L, 0.2, 30, "below about 0.5 mm a head burns, above it is another edge that was read"},
    {"valve.*.seat_angle", A, 15, 60, "from the plane square to the stem; usual are 30 and 45"},
    {"valve.*.seat_width", L, 0.2, 40, "along the seat"},
    {"valve.*.face_depth", L, 0.02, 100, "dish depth or dome height from the rim plane"},
    {"valve.*.rim_radius", L, 0, 10, kRadius},
    {"valve.*.underhead_angle", A, 0, 70, "from the plane square to the stem"},
    {"valve.*.stem_diameter", L, 1, 60, "about a fifth of the head"},
    {"valve.*.x", L, -350, 350, kInBore},
    {"valve.*.y", L, -350, 350, kInBore},
    {"valve.*.tilt", A, 0, 60, kTilt},
    {"valve.*.lean", A, -360, 360, kAzimuth},
    {"valve.*.tilt_xz", A, -60, 60, kTilt},
    {"valve.*.tilt_yz", A, -60, 60, kTilt},
    {"valve.*.rim_height", L, -50, 250, "closed rim plane above the head's deck face, negative = below it"},
    {"valve.*.flush_lift", L, -50, 150, "lift at which the rim's lowest point comes level with the head's deck face"},
    {"valve.*.sunk", L, 0, 10, "seat cut deeper since, not negative"},
    {"valve.*.rocker_ratio", R, 0.5, 3, "valve lift over lobe lift; 1 = direct"},
    {"valve.*.rocker_table.*.lift", L, 0, 150, "at the lobe"},
    {"valve.*.rocker_table.*.ratio", R, 0.5, 3, "valve lift over lobe lift, the whole way from closed"},
    {"valve.*.lash", L, 0, 5, "free play at the valve"},

    {"asked.valve_to_valve", L, 0.2, 15, kAsked, true},
    {"asked.valve_to_bore", L, 0.2, 15, kAsked, true},
    {"asked.piston_to_head", L, 0.2, 15, kAsked, true},
    {"asked.*.travel", L, 0.2, 15, kAsked, true},
    {"asked.*.face", L, 0.2, 15, kAsked, true},
    {"asked.*.radial", L, 0.2, 15, kAsked, true},
    {"asked.*.closest", L, 0.2, 15, kAsked, true},
    {"asked.*.reach", L, 0.2, 50, "how much further along its path a rim counts"},

    {"running.rod_stretch.stretch", L, 0.005, 1, "rods stretch a few hundredths to a few tenths of a mm"},
    {"running.rod_stretch.rpm", R, 100, 30000, "revolutions a minute, the most the engine ever sees, overrun included"},
    {"running.rod_stretch.piston_mass", M, 0.003, 600, "piston with pin, rings and locks, without the rod"},
    {"running.rod_stretch.small_end_mass", M, 0.001, 300, "the rod's small end on a scale, the rod level"},
    {"running.rod_stretch.rod_mass", M, 0.003, 1500, "the whole rod with its cap and bolts"},
    {"running.rod_stretch.section", Measure::area, 3, 20000, "the rod's beam, square to its length, where it is least"},
    {"running.rod_stretch.modulus", Measure::modulus, 40e3, 400e3, "usual are 70 GPa (aluminium) to 210 GPa (steel)"},
    {"running.bearings.main", L, 0.006, 0.7, kBearing, true},
    {"running.bearings.big_end", L, 0.006, 0.7, kBearing, true},
    {"running.bearings.pin", L, 0.002, 0.5, "diametral, in the rod and in the piston, added; 0 = pressed in both",
     true},
    {"running.growth.growth", L, 0.005, 2, "what rod and piston grow more than the block", true},
    {"running.growth.rod_warmer", W, 0, 300, kWarmer},
    {"running.growth.piston_warmer", W, 0, 400, kWarmer},
    {"running.growth.crank_warmer", W, 0, 300, kWarmer},
    {"running.growth.block_warmer", W, 0, 300, kWarmer},
    {"running.growth.rod_expansion", X, 4e-6, 30e-6, kExpansion},
    {"running.growth.piston_expansion", X, 4e-6, 30e-6, kExpansion},
    {"running.growth.block_expansion", X, 4e-6, 30e-6, kExpansion},
    {"running.rock.angle", A, 0.005, 2, "pistons rock a few hundredths to a few tenths of a degree"},
    {"running.rock.shift", L, 0.005, 0.7, "half the skirt's clearance", true},
    {"running.rock.skirt_clearance", L, 0.01, 1.2, "bore less skirt, on the diameter"},
    {"running.rock.skirt_length", L, 4, 900, "the skirt's height where it bears"},
    {"running.guides.*.sideways", L, 0.005, 3, "what the rim may stand off square to its axis"},
    {"running.guides.*.dip", L, 0.002, 2, "what one side of the rim sinks as the stem leans", true},
    {"running.guides.*.play", L, 0.01, 0.7, "guide's bore less stem, on the diameter"},
    {"running.guides.*.guide_length", L, 6, 500, "what of the guide bears on the stem"},
    {"running.guides.*.overhang", L, 3, 500, "guide's lower end to the rim plane, valve closed"},
    {"running.loft.*.late", A, 0, 40, "crank degrees by which the valve comes back late"},
    {"running.loft.*.lift", L, 0.01, 5, "at the valve, over the lift of the lobe", true},
    {"running.chain.*.late", A, 0, 20, kSlack},
    {"running.chain.*.early", A, 0, 20, kSlack},
    {"running.pump_up.preload", L, 0.1, 5, "how far the lifter's plunger is pressed in, at the lifter"},
    {"running.pump_up.lift", L, 0.1, 8, "at the valve: preload times rocker ratio"},
    {"running.gasket.least", L, 0.1, 10, "compressed, from shims to stacked sheet"},
};

bool allows(const Limit& limit, double value) {
  return (value >= limit.low && value <= limit.high) || (limit.or_zero && value == 0);
}

/// Of the inner unit per unit of the table.
double scale(const Limit& limit) {
  return limit.measure == Measure::angle ? kDegree : 1;
}

/// The one that is mixed up with `unit`; none where there is no such.
Unit other_unit(Unit unit) {
  switch (unit) {
    case Unit::mm:
      return Unit::inch;
    case Unit::inch:
      return Unit::mm;
    case Unit::radian:
      return Unit::degree;
    case Unit::kilogram:
      return Unit::gram;
    case Unit::gram:
      return Unit::kilogram;
    case Unit::pound:
      return Unit::ounce;
    case Unit::ounce:
      return Unit::pound;
    case Unit::mm2:
      return Unit::inch2;
    case Unit::inch2:
      return Unit::mm2;
    case Unit::gigapascal:
      return Unit::megapascal;
    case Unit::megapascal:
      return Unit::gigapascal;
    default:
      break;
  }
  return Unit::none;
}

}  // namespace

const Limit& limit_of(std::string_view pattern) {
  for (const Limit& limit : kLimits)
    if (limit.key == pattern) return limit;
  throw std::logic_error("no limit is stated for " + std::string(pattern));
}

std::span<const Limit> all_limits() {
  return kLimits;
}

std::string allowed_text(const Limit& limit, Unit unit) {
  // Limits in inches come out odd (27.5591): four digits say enough. Plain ones stand as they are (30000).
  if (unit == Unit::none)
    return fmt::format("{}{:.6g} to {:.6g} ({})", limit.or_zero ? "0, or " : "", limit.low, limit.high, limit.why);
  const double size = scale(limit) / factor(unit);
  return fmt::format("{}{:.4g} to {:.4g} {} ({})", limit.or_zero ? "0, or " : "", limit.low * size, limit.high * size,
                     to_string(unit), limit.why);
}

bool fits_in_other_unit(const Limit& limit, double value, Unit unit) {
  const Unit other = other_unit(unit);
  return other != Unit::none && allows(limit, value / factor(unit) * factor(other) / scale(limit));
}

std::string limit_trouble(const Limit& limit, double value, Unit unit) {
  // Rounding in the change of units must not refuse a number that stands on the limit.
  const double in_table = value / scale(limit);
  const double slack = 1e-12 * std::fabs(in_table);
  if (allows(limit, in_table) || allows(limit, in_table - slack) || allows(limit, in_table + slack)) return {};
  std::string text = fmt::format("is {}; allowed is {}", quantity_text(value, unit), allowed_text(limit, unit));
  if (fits_in_other_unit(limit, value, unit))
    text += fmt::format(": did you mean {:.6g} {}?", value / factor(unit), to_string(other_unit(unit)));
  return text;
}

std::string reach_trouble(const Limit& limit, double value, double reach, Unit unit, const std::string& what) {
  for (const double sign : {-1.0, 1.0}) {
    const double end = value + sign * reach;
    if (limit_trouble(limit, end, unit).empty()) continue;
    const bool past_zero = limit.low >= 0 && sign < 0 && reach > value;
    return fmt::format("{} its {} is {}; allowed is {}{}", sign < 0 ? "less" : "plus", what, quantity_text(end, unit),
                       allowed_text(limit, unit),
                       past_zero ? fmt::format(": the {} is larger than the number itself", what) : "");
  }
  return {};
}

}  // namespace eyebrow
