#include "study/pocket_sizer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "study/asked.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

constexpr double kSizeMm = 0.005, kSizeInch = 0.0001;  // steps that dimensions are told in: 5 um at most
constexpr double kSizeDegrees = 0.01;
constexpr double kFirstLook = 0.8, kNextLook = 0.1;  // mm: first steps of the search by the model
constexpr int kCorrections = 5;       // of the model by exact checks; each leaves a tenth or less of what it was off
constexpr double kCorrected = 0.001;  // mm
constexpr int kMostSteps = 400;       // of a last walk: 2 mm
constexpr double kSizeUnits = 30;     // exact looks a pocket, for progress
constexpr double kBuildAgain = 0.01;  // mm wider where the modeller gives up

Engine without_pockets(Engine engine) {
  engine.piston.pockets.clear();
  for (Valve& valve : engine.valves) valve.pocket = -1;
  return engine;
}

/// The engine, where the wish can be judged in it.
const Engine& judgeable(const Engine& engine, const PocketWish& wish) {
  std::vector<Fault> faults;
  const Piston& piston = engine.piston;
  if (piston.step)
    throw InputError({{"", 0, 0,
                       "the crown is taken from STEP: its pockets have no numbers to size; put [pocket] tables in its "
                       "place to find what the valves need",
                       "piston.step.file"}});
  const auto lack = [&](double asked, bool known, const char* what, const char* key) {
    if (asked > 0 && !known)
      faults.push_back({"", 0, 0, fmt::format("{} is asked for, but the file does not state {}", what, key), key});
  };
  lack(wish.over_groove, piston.top_land_height.has_value(), "metal over the ring groove", "piston.top_land_height");
  lack(wish.over_groove, piston.ring_groove_depth.has_value(), "metal over the ring groove",
       "piston.ring_groove_depth");
  lack(wish.over_underside, piston.underside.has_value(), "metal over the underside", "piston.underside");
  if (wish.goal == PocketWish::Goal::thickest && !piston.underside &&
      !(piston.top_land_height && piston.ring_groove_depth))
    lack(1, false, "the thickest metal", "piston.underside, nor piston.top_land_height and piston.ring_groove_depth");
  if (!faults.empty()) throw InputError(faults);
  return engine;
}

}  // namespace

PocketSizer::PocketSizer(const Engine& engine, const PocketWish& wish)
    : given_(judgeable(engine, wish)),
      wish_(wish),
      unit_(engine.units == LengthUnit::inch ? kInch : 1),
      step_(engine.units == LengthUnit::inch ? kSizeInch : kSizeMm),
      radius_(engine.piston.crown_diameter / 2),
      given_parts_(build_parts(given_, {}, kMendDeflection)),
      before_(given_, given_parts_),
      plain_(without_pockets(given_), before_, kMendDeflection),
      engine_(given_) {
  if (wish_.corners.empty()) wish_.corners = {NAN};
  std::ranges::sort(wish_.diameters);
  for (std::size_t i = 0; i < given_.valves.size(); ++i) {
    SizedPocket one;
    one.valve = static_cast<int>(i);
    one.number = given_.valves[i].pocket;
    if (one.number >= 0) one.before = one.pocket = given_.piston.pockets[static_cast<std::size_t>(one.number)];
    one.needed = false;
    pockets_.push_back(one);
  }
}

void PocketSizer::begin(const CheckOptions& options) {
  options_ = options;
  pacer_ = std::make_unique<Pacer>(options_, kSizeUnits * static_cast<double>(given_.valves.size()));
  before_.poll = plain_.setup.poll = [this] { pacer_->poll(); };
}

void PocketSizer::size(const RoomKept& kept, const CheckOptions& options) {
  begin(options);
  kept_ = kept;
  // A pocket that was needed for less stays needed, so that sizing again and again comes to an end.
  for (SizedPocket& one : pockets_) one.needed = one.needed || !all_hold(rows(plain_, one));
  start();
  base_ = std::make_unique<SizedEngine>(engine_, before_, kMendDeflection);
  for (SizedPocket& one : pockets_) size(one);
  settle();
}

bool PocketSizer::keeps_all() const {
  return std::ranges::all_of(pockets_, [&](const SizedPocket& one) { return all_hold(rows(*base_, one)); });
}

double PocketSizer::on_step(double mm) const {
  return value(std::lround(mm / unit_ / step_));
}
double PocketSizer::value(long steps) const {
  return static_cast<double>(steps) / std::round(1 / step_) * unit_;
}
long PocketSizer::steps(double mm, bool up) const {
  const double at = mm / unit_ / step_;
  return static_cast<long>(up ? std::ceil(at - 1e-6) : std::floor(at + 1e-6));
}

double PocketSizer::floor_of(const Pocket& pocket, const Valve& valve) const {
  const auto tool = pocket_tool(pocket, &valve, radius_);
  if (!tool) return -pocket.depth;
  return dot(tool->floor_centre - Vec3{pocket.x, pocket.y, 0}, tool->up);
}

/// What of the pocket is not searched for.
Pocket PocketSizer::template_of(const SizedPocket& one, double corner) const {
  const Valve& valve = valve_of(one);
  Pocket pocket = one.before.value_or(Pocket{});
  if (keeps_shape(one)) return pocket;
  if (!one.before) pocket.name = valve.name;
  pocket.depth_to = DepthTo::deepest;
  if (!std::isnan(corner)) pocket.corner_radius = corner;
  const Vec3 up = up_axis(given_, valve);
  const double lean = std::atan2(up.y, up.x);
  const double tilt = wish_.tilt ? *wish_.tilt : std::acos(std::min(1.0, up.z));
  const auto degrees = [](double radians) {
    return std::round(radians / kDegree / kSizeDegrees) / std::round(1 / kSizeDegrees) * kDegree;
  };
  pocket.tilt = degrees(tilt);
  pocket.lean = pocket.tilt > 0 ? degrees(lean) : 0;
  return pocket;
}

PocketLimits PocketSizer::limits_of(const SizedPocket& one, const Pocket& pocket, const Setup& setup) const {
  PocketLimits limits;
  limits.asked = setup.valves[static_cast<std::size_t>(one.valve)].asked;
  // What is kept of the running engine shows in what the model is off, as all that is running does.
  const KindValues& kept = kept_.bench[static_cast<std::size_t>(one.valve)];
  limits.asked.travel += kept[0];
  limits.asked.face += kept[1];
  limits.asked.radial += kept[2];
  limits.asked.closest += kept[3];
  limits.over_groove = wish_.over_groove;
  limits.over_underside = wish_.over_underside;
  limits.between = wish_.between;
  for (const double diameter : wish_.diameters) limits.radii.push_back(diameter / 2);
  // A cutter cannot be made a step wider where the rounded place is too near.
  if (!limits.radii.empty()) limits.in_hand = value(1);
  if (keeps_shape(one) || (wish_.hold_place && one.before)) limits.place = PocketShape{pocket.x, pocket.y, 0, 0};
  if (keeps_shape(one)) {
    limits.least_radius = one.before->diameter / 2;
    limits.highest_floor = floor_of(*one.before, valve_of(one));
  }
  for (const Valve& other : engine_.valves)
    if (other.name != valve_of(one).name && other.pocket >= 0)
      if (const auto tool =
              pocket_tool(engine_.piston.pockets[static_cast<std::size_t>(other.pocket)], &other, radius_))
        limits.neighbours.push_back(*tool);
  limits.poll = [this] { pacer_->poll(); };
  if (given_.piston.dish) limits.neighbours.push_back(dish_tool(*given_.piston.dish));
  return limits;
}

/// The numbers of a pocket with a searched shape, rounded to the side that leaves more room.
Pocket PocketSizer::told_numbers(Pocket pocket, const PocketModel& model, const PocketShape& shape, bool place) const {
  if (place) pocket.x = on_step(shape.x), pocket.y = on_step(shape.y);
  pocket.diameter = value(steps(2 * shape.radius, true));
  if (!wish_.diameters.empty()) pocket.diameter = 2 * shape.radius;
  const double sine = std::sin(pocket.tilt), z = shape.floor * std::cos(pocket.tilt);
  double depth = -z;
  if (pocket.depth_to == DepthTo::sharp_edge) depth = shape.radius * sine - z;
  if (pocket.depth_to == DepthTo::deepest) depth = -lowest_inside(model.tool(shape), radius_).value_or(z);
  pocket.depth = value(steps(depth, true));
  return pocket;
}

Engine PocketSizer::with(const SizedPocket& one, const Pocket& pocket) const {
  Engine engine = engine_;
  auto& pockets = engine.piston.pockets;
  int& number = engine.valves[static_cast<std::size_t>(one.valve)].pocket;
  if (number < 0) {
    number = static_cast<int>(pockets.size());
    pockets.push_back(pocket);
  } else {
    pockets[static_cast<std::size_t>(number)] = pocket;
  }
  return engine;
}

std::unique_ptr<SizedEngine> PocketSizer::made(const SizedPocket& one, const Pocket& pocket) {
  pacer_->poll();
  auto sized = std::make_unique<SizedEngine>(with(one, pocket), base_->setup, kMendDeflection);
  pacer_->done(1);
  return sized;
}

std::vector<MetalMissing> PocketSizer::metal_short(const SizedEngine& sized, const SizedPocket& one) const {
  std::vector<MetalMissing> missing = metal_missing(sized, one.pocket.name, wish_);
  std::erase_if(missing, [](const MetalMissing& of) { return !(of.by > kCorrected); });
  return missing;
}

/// Every pocket as the model has it, so that each is then sized beside its neighbours.
void PocketSizer::start() {
  for (SizedPocket& one : pockets_) {
    if (!one.needed || choices_.contains(one.valve)) continue;
    const Pocket pocket = template_of(one, wish_.corners.front());
    const PocketModel model(before_, one.valve, tilted_axis(pocket.tilt, pocket.lean), pocket.corner_radius);
    PocketLimits limits = limits_of(one, pocket, before_);
    limits.goal = PocketWish::Goal::least_volume;  // leaves its neighbours most room
    one.pocket = told_numbers(
        pocket, model, best_shape(given_.piston, model, limits, start_shape(one, model), kFirstLook), !limits.place);
    engine_ = with(one, one.pocket);
    one.number = engine_.valves[static_cast<std::size_t>(one.valve)].pocket;
  }
}

PocketShape PocketSizer::start_shape(const SizedPocket& one, const PocketModel& model) const {
  PocketShape shape = model.start();
  if (keeps_shape(one)) {
    shape = {one.before->x, one.before->y, one.before->diameter / 2, floor_of(*one.before, valve_of(one))};
  } else if (wish_.hold_place && one.before) {
    shape.x = one.before->x;
    shape.y = one.before->y;
  }
  return shape;
}

/// Model, exact check, corrected model, until they agree. A choice of before is where the search goes on.
void PocketSizer::choose(const SizedPocket& one, double corner, PocketWish::Goal goal, Choice& choice) {
  Pocket pocket = template_of(one, corner);
  const PocketModel model(base_->setup, one.valve, tilted_axis(pocket.tilt, pocket.lean), pocket.corner_radius);
  const bool again = std::isfinite(choice.cost);
  const PocketLimits was = choice.limits;
  PocketLimits& limits = choice.limits;
  limits = limits_of(one, pocket, base_->setup);
  limits.goal = goal;
  if (again)
    limits.off = was.off;
  else
    choice.shape = start_shape(one, model);
  for (int round = 0; round < kCorrections; ++round) {
    choice.shape =
        best_shape(given_.piston, model, limits, choice.shape, round == 0 && !again ? kFirstLook : kNextLook);
    pocket = told_numbers(pocket, model, choice.shape, !limits.place);
    choice.pocket = pocket;
    std::unique_ptr<SizedEngine> exact;
    try {
      exact = made(one, pocket);
    } catch (const InputError&) {  // through the crown: worse than any other
      break;
    }
    // The told numbers are those that were checked.
    const PocketShape told_shape{pocket.x, pocket.y, pocket.diameter / 2, floor_of(pocket, valve_of(one))};
    const PocketMargins found = margins_of(rows(*exact, one));
    const ModelMargins by_model = model.margins(told_shape, limits.asked);
    double most = 0;
    const auto correct = [&](double& off, double exactly, double modelled) {
      if (!std::isfinite(exactly) || !std::isfinite(modelled)) return;
      most = std::max(most, std::fabs(exactly - modelled - off));
      off = exactly - modelled;
    };
    correct(limits.off.travel, found.travel, by_model.travel);
    correct(limits.off.face, found.face, by_model.face);
    correct(limits.off.radial, found.radial, by_model.radial);
    // Of wall and floor the one that the model has nearer.
    ModelMargins& off = limits.off;
    if (by_model.closest_wall + off.closest_wall <= by_model.closest_floor + off.closest_floor)
      correct(off.closest_wall, found.closest, by_model.closest_wall);
    else
      correct(off.closest_floor, found.closest, by_model.closest_floor);
    const ModelMetal metal = metal_left(given_.piston, model, told_shape, limits.neighbours);
    const std::vector<MetalMissing> missing = metal_missing(*exact, pocket.name, wish_);
    const auto amend = [&](double& asked, double wished, double modelled, MetalLeft::To to) {
      // Of several neighbours the nearest, which is the model's as well.
      double by = -INFINITY;
      for (const MetalMissing& of : missing)
        if (of.to == to) by = std::max(by, of.by);
      if (!std::isfinite(by) || !std::isfinite(modelled)) return;
      const double now = wished + (modelled - (wished - by));
      most = std::max(most, std::fabs(now - asked));
      asked = now;
    };
    amend(limits.over_groove, wish_.over_groove, metal.groove, MetalLeft::To::ring_groove);
    amend(limits.over_underside, wish_.over_underside, metal.underside, MetalLeft::To::underside);
    amend(limits.between, wish_.between, metal.neighbour, MetalLeft::To::neighbour);
    choice.cost = model.volume(choice.shape);
    if (wish_.goal == PocketWish::Goal::thickest && !keeps_shape(one))
      choice.cost = -thinnest_metal(*exact, pocket.name);
    if (most < kCorrected) break;
  }
}

Pocket PocketSizer::at(Pocket pocket, Numbers numbers) const {
  if (wish_.diameters.empty()) pocket.diameter = value(numbers.first);
  pocket.depth = value(numbers.second);
  return pocket;
}

bool PocketSizer::holds(const SizedPocket& one, Numbers numbers) {
  try {
    return leaves_all(*made(one, at(one.pocket, numbers)), one.valve, kept_);
  } catch (const InputError&) {
    return false;
  } catch (const MachineError&) {
    return false;
  }
}

PocketSizer::Numbers PocketSizer::least_numbers(const SizedPocket& one) const {
  if (!keeps_shape(one)) return {0, 0};
  return {steps(one.before->diameter, true), steps(one.before->depth, true)};
}

/// The least numbers from where the model ends, each less by a step breaking something.
void PocketSizer::walk(SizedPocket& one) {
  const bool any_diameter = wish_.diameters.empty();
  const Numbers least = least_numbers(one);
  Numbers now{any_diameter ? steps(one.pocket.diameter, true) : 0, steps(one.pocket.depth, true)};
  if (any_diameter) now.first = std::max(now.first, least.first);
  now.second = std::max(now.second, least.second);
  int taken = 0;
  // Wider or deeper while something is short: by what is missing, at least a step.
  Numbers last = now, before = now;
  double was_across = -INFINITY;
  for (; taken < 40; ++taken) {
    PocketMargins m;
    try {
      m = margins_of(rows(*made(one, at(one.pocket, now)), one));
    } catch (const MachineError&) {
      now.first += steps(kBuildAgain, true);
      continue;
    } catch (const InputError&) {  // through the crown
      now = last;
      break;
    }
    last = now;
    const double axial = std::min(m.travel, m.face), across = std::min(m.radial, m.closest);
    if (axial >= 0 && across >= 0) break;
    // Beyond its corner radius a deeper pocket is no wider one.
    if (axial >= 0 && !any_diameter && across <= was_across + kCorrected) {
      now = before;
      break;
    }
    was_across = across;
    before = now;
    if (axial < 0) now.second += std::max(1L, steps(-axial, true));
    if (across < 0 && any_diameter) now.first += std::max(1L, steps(-2 * across, true));
    if (across < 0 && !any_diameter) now.second += std::max(1L, steps(-across, true));
    if (-axial > 5 || -across > 5) break;
  }
  for (bool less = true; less && taken < kMostSteps;) {
    less = false;
    for (int which = any_diameter ? 0 : 1; which < 2; ++which) {
      const long floor = which == 0 ? least.first : least.second;
      // Halving downward: by twice as much as long as it holds.
      for (long by = 1; taken < kMostSteps; ++taken) {
        Numbers next = now;
        (which == 0 ? next.first : next.second) -= by;
        if ((which == 0 ? next.first : next.second) < floor || !holds(one, next)) {
          if (by == 1) break;
          by = 1;
          continue;
        }
        now = next;
        less = true;
        by *= 2;
      }
    }
  }
  one.pocket = at(one.pocket, now);
}

void PocketSizer::size(SizedPocket& one) {
  if (!one.needed) return;
  if (keeps_shape(one)) {
    one.pocket = *one.before;
    if (all_hold(rows(*made(one, one.pocket), one))) {
      take(one);
      return;
    }
  }
  std::vector<std::pair<double, PocketWish::Goal>> ways;
  for (const double corner : keeps_shape(one) ? std::vector<double>{NAN} : wish_.corners) {
    ways.emplace_back(corner, PocketWish::Goal::least_volume);
    // The thinnest of several walls has ridges where its search may end early; the pocket of least volume, which is in
    // the middle of things, is then the thicker one.
    if (wish_.goal == PocketWish::Goal::thickest && !keeps_shape(one))
      ways.emplace_back(corner, PocketWish::Goal::thickest);
  }
  std::vector<Choice>& choices = choices_[one.valve];
  choices.resize(ways.size());
  run_tasks(choices.size(), 1, *pacer_, 0,
            [&](std::size_t i) { choose(one, ways[i].first, ways[i].second, choices[i]); });
  const auto best = std::ranges::min_element(choices, {}, &Choice::cost);
  chosen_[one.valve] = static_cast<std::size_t>(best - choices.begin());
  one.pocket = best->pocket;
  walk(one);
  take(one);
}

void PocketSizer::take(SizedPocket& one) {
  Engine sized = with(one, one.pocket);
  std::unique_ptr<SizedEngine> made;
  try {
    made = std::make_unique<SizedEngine>(sized, base_->setup, kMendDeflection);
  } catch (const InputError&) {  // what is wrong with a pocket of ours is no fault of the file
    std::string why = fmt::format("pocket {}: none leaves the asked gaps and ends within the crown", one.pocket.name);
    if (!wish_.diameters.empty())
      why += fmt::format("; the widest cutter given is {:.3f} mm, the valve's head {:.3f} mm", wish_.diameters.back(),
                         valve_of(one).head_diameter);
    throw InputError({Fault{"", 0, 0, why, "pocket." + one.pocket.name}});
  }
  engine_ = std::move(sized);
  one.changed = !one.before || one.pocket.x != one.before->x || one.pocket.y != one.before->y ||
                one.pocket.tilt != one.before->tilt || one.pocket.lean != one.before->lean ||
                one.pocket.diameter != one.before->diameter || one.pocket.depth != one.before->depth ||
                one.pocket.depth_to != one.before->depth_to || one.pocket.corner_radius != one.before->corner_radius;
  base_ = std::move(made);
}

/// Neighbours that were made smaller, or stand elsewhere since, may be in the way of those sized before them; and those
/// sized later may have found no place that leaves the metal between, which their neighbours have.
void PocketSizer::settle() {
  for (SizedPocket& one : pockets_) {
    if (!one.needed || (keeps_shape(one) && !one.changed)) continue;
    // What leaves the thickest metal hangs on where the neighbour is, and that has moved.
    const bool again = wish_.goal == PocketWish::Goal::thickest && pockets_.size() > 1;
    if ((again || !metal_short(*base_, one).empty()) && !keeps_shape(one)) {
      size(one);
    } else if (!all_hold(rows(*base_, one))) {
      walk(one);
      take(one);
    }
  }
}

}  // namespace eyebrow::study
