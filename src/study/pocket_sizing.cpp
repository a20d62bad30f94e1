#include "eyebrow/pocket_sizing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

#include "study/asked.hpp"
#include "study/judge.hpp"
#include "study/pocket_search.hpp"
#include "study/possible.hpp"
#include "study/row_at.hpp"
#include "study/running.hpp"
#include "study/tasks.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace study {
namespace {

constexpr double kSizeMm = 0.005, kSizeInch = 0.0001;  // steps that dimensions are told in: 5 um at most
constexpr double kSizeDegrees = 0.01;
constexpr double kFirstLook = 0.8, kNextLook = 0.1;  // mm: first steps of the search by the model
constexpr int kCorrections = 5;       // of the model by exact checks; each leaves a tenth or less of what it was off
constexpr double kCorrected = 0.001;  // mm
constexpr int kMostSteps = 400;       // of a last walk: 2 mm
constexpr double kSizeUnits = 30;     // exact looks a pocket, for progress
constexpr double kCostMm = 0.1, kCostInch = 0.005 * kInch;
constexpr double kBuildAgain = 0.01;  // mm wider where the modeller gives up

/// The sized pockets of one engine, as they stand.
struct Exact {
  Engine engine;
  Parts parts;
  Setup setup;
  Exact(Engine of, const Setup& like, double deflection)
      : engine(std::move(of)),
        parts(rebuild_parts(engine, {}, like.engine, like.parts, deflection)),
        setup(like, engine, parts) {}
  Exact(const Exact&) = delete;
};

double floor_of(const Pocket& pocket, const Valve& valve, double crown_radius) {
  const auto tool = pocket_tool(pocket, &valve, crown_radius);
  if (!tool) return -pocket.depth;
  return dot(tool->floor_centre - Vec3{pocket.x, pocket.y, 0}, tool->up);
}

class Sizer {
 public:
  Sizer(const Engine& engine, const PocketWish& wish, const CheckOptions& options)
      : given_(engine),
        wish_(wish),
        unit_(engine.units == LengthUnit::inch ? kInch : 1),
        step_(engine.units == LengthUnit::inch ? kSizeInch : kSizeMm),
        pacer_(options, kSizeUnits * static_cast<double>(engine.valves.size())),
        radius_(engine.piston.crown_diameter / 2) {
    if (wish_.corners.empty()) wish_.corners = {NAN};
    std::ranges::sort(wish_.diameters);
  }

  PocketResult run() {
    refuse();
    PocketResult result;
    result.engine_name = given_.name;
    result.units = given_.units;
    result.wish = wish_;
    result.step = step_ * unit_;
    const Parts before_parts = build_parts(given_, {}, kMendDeflection);
    const Setup before(given_, before_parts);
    engine_ = given_;
    Engine blank = given_;
    blank.piston.pockets.clear();
    for (Valve& valve : blank.valves) valve.pocket = -1;
    const Exact plain(blank, before, kMendDeflection);

    for (std::size_t i = 0; i < given_.valves.size(); ++i) {
      SizedPocket one;
      one.valve = static_cast<int>(i);
      one.number = given_.valves[i].pocket;
      if (one.number >= 0) one.before = one.pocket = given_.piston.pockets[static_cast<std::size_t>(one.number)];
      one.needed = !all_hold(rows(plain, one.valve));
      result.pockets.push_back(one);
    }
    start(before, result.pockets);
    base_ = std::make_unique<Exact>(engine_, before, kMendDeflection);
    for (SizedPocket& one : result.pockets) size(one);
    settle(result.pockets);
    report(result, before, void_of(plain.parts.crown));
    return result;
  }

 private:
  struct Margins {
    double travel = INFINITY, face = INFINITY, radial = INFINITY, closest = INFINITY;
  };
  using Numbers = std::pair<long, long>;  // diameter and depth, in steps

  void refuse() const {
    std::vector<Fault> faults;
    const Piston& piston = given_.piston;
    if (piston.step)
      throw InputError(
          {{"", 0, 0,
            "the crown is taken from STEP: its pockets have no numbers to size; put [pocket] tables in its "
            "place to find what the valves need",
            "piston.step.file"}});
    const auto lack = [&](double asked, bool known, const char* what, const char* key) {
      if (asked > 0 && !known)
        faults.push_back({"", 0, 0, fmt::format("{} is asked for, but the file does not state {}", what, key), key});
    };
    lack(wish_.over_groove, piston.top_land_height.has_value(), "metal over the ring groove", "piston.top_land_height");
    lack(wish_.over_groove, piston.ring_groove_depth.has_value(), "metal over the ring groove",
         "piston.ring_groove_depth");
    lack(wish_.over_underside, piston.underside.has_value(), "metal over the underside", "piston.underside");
    if (wish_.goal == PocketWish::Goal::thickest && !piston.underside &&
        !(piston.top_land_height && piston.ring_groove_depth))
      lack(1, false, "the thickest metal", "piston.underside, nor piston.top_land_height and piston.ring_groove_depth");
    if (!faults.empty()) throw InputError(faults);
  }

  double on_step(double mm) const { return value(std::lround(mm / unit_ / step_)); }
  double value(long steps) const { return static_cast<double>(steps) / std::round(1 / step_) * unit_; }
  long steps(double mm, bool up) const {
    const double at = mm / unit_ / step_;
    return static_cast<long>(up ? std::ceil(at - 1e-6) : std::floor(at + 1e-6));
  }

  const Valve& valve_of(const SizedPocket& one) const { return given_.valves[static_cast<std::size_t>(one.valve)]; }
  bool keeps_shape(const SizedPocket& one) const { return wish_.existing && one.before; }

  /// What of the pocket is not searched for.
  Pocket template_of(const SizedPocket& one, double corner) const {
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

  PocketLimits limits_of(const SizedPocket& one, const Pocket& pocket, const Setup& setup) const {
    PocketLimits limits;
    limits.asked = setup.valves[static_cast<std::size_t>(one.valve)].asked;
    limits.goal = keeps_shape(one) ? PocketWish::Goal::least_volume : wish_.goal;
    limits.over_groove = wish_.over_groove;
    limits.over_underside = wish_.over_underside;
    limits.between = wish_.between;
    for (const double diameter : wish_.diameters) limits.radii.push_back(diameter / 2);
    // A cutter cannot be made a step wider where the rounded place is too near.
    if (!limits.radii.empty()) limits.in_hand = value(1);
    if (keeps_shape(one) || (wish_.hold_place && one.before)) limits.place = PocketShape{pocket.x, pocket.y, 0, 0};
    if (keeps_shape(one)) {
      limits.least_radius = one.before->diameter / 2;
      limits.highest_floor = floor_of(*one.before, valve_of(one), radius_);
    }
    for (const Valve& other : engine_.valves)
      if (other.name != valve_of(one).name && other.pocket >= 0)
        if (const auto tool =
                pocket_tool(engine_.piston.pockets[static_cast<std::size_t>(other.pocket)], &other, radius_))
          limits.neighbours.push_back(*tool);
    return limits;
  }

  /// The numbers of a pocket with a searched shape, rounded to the side that leaves more room.
  Pocket told(Pocket pocket, const PocketModel& model, const PocketShape& shape, bool place) const {
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

  Engine with(const SizedPocket& one, const Pocket& pocket) const {
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

  /// Every pocket as the model has it, so that each is then sized beside its neighbours.
  void start(const Setup& before, std::vector<SizedPocket>& pockets) {
    for (SizedPocket& one : pockets) {
      if (!one.needed) continue;
      const Pocket pocket = template_of(one, wish_.corners.front());
      const PocketModel model(before, one.valve, tilted_axis(pocket.tilt, pocket.lean), pocket.corner_radius);
      const PocketLimits limits = limits_of(one, pocket, before);
      one.pocket =
          told(pocket, model, best_shape(given_.piston, model, limits, start_shape(one, model)), !limits.place);
      engine_ = with(one, one.pocket);
      one.number = engine_.valves[static_cast<std::size_t>(one.valve)].pocket;
    }
  }
  PocketShape start_shape(const SizedPocket& one, const PocketModel& model) const {
    PocketShape shape = model.start();
    if (keeps_shape(one)) {
      shape = {one.before->x, one.before->y, one.before->diameter / 2, floor_of(*one.before, valve_of(one), radius_)};
    } else if (wish_.hold_place && one.before) {
      shape.x = one.before->x;
      shape.y = one.before->y;
    }
    return shape;
  }

  std::unique_ptr<Exact> made(const SizedPocket& one, const Pocket& pocket, double deflection = kMendDeflection) {
    pacer_.poll();
    auto exact = std::make_unique<Exact>(with(one, pocket), base_->setup, deflection);
    pacer_.done(1);
    return exact;
  }

  std::vector<AskedRow> rows(const Exact& exact, int valve) const {
    LeastGaps found = no_gaps(exact.engine);
    const auto allowed = allowances(exact.engine);
    const auto i = static_cast<std::size_t>(valve);
    for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
      found.piston[i][k] = judged_least(exact.setup, valve, kGapKinds[k]);
      if (!found.piston_running.empty())
        found.piston_running[i][k] = running_value(exact.setup, allowed, valve, kGapKinds[k], found.piston[i][k]);
    }
    std::vector<AskedRow> own;
    for (const AskedRow& row : judge(exact.engine, found).rows)
      if (row.valve == exact.engine.valves[i].name && row.what != "valve to bore") own.push_back(row);
    return own;
  }

  static Margins margins_of(const std::vector<AskedRow>& rows) {
    Margins least;
    for (const AskedRow& row : rows) {
      if (std::isnan(row.margin) || (row.holds && row.margin < 0)) continue;
      double& of = row.what == "travel"   ? least.travel
                   : row.what == "face"   ? least.face
                   : row.what == "radial" ? least.radial
                                          : least.closest;
      of = std::min(of, row.margin);
    }
    return least;
  }

  /// By how much the metal that is asked for is missing, and which; 0 = it is there.
  std::map<std::string, double> metal_missing(const Exact& exact, const SizedPocket& one) const {
    std::map<std::string, double> missing;
    if (!(wish_.over_groove > 0 || wish_.over_underside > 0 || wish_.between > 0)) return missing;
    for (const MetalLeft& left : crown_left(exact.engine, exact.parts.crown)) {
      const std::string own = exact.engine.piston.pockets[static_cast<std::size_t>(number_of(exact.engine, one))].name;
      if (left.pocket != own && left.other != own + " pocket") continue;
      const double asked = left.to == MetalLeft::To::ring_groove && left.pocket == own ? wish_.over_groove
                           : left.to == MetalLeft::To::underside && left.pocket == own ? wish_.over_underside
                           : left.to == MetalLeft::To::neighbour                       ? wish_.between
                                                                                       : 0;
      if (asked > 0) {
        double& most = missing["metal to the " + (left.pocket == own ? name_beyond(left) : left.pocket + " pocket")];
        most = asked - left.value;
      }
    }
    return missing;
  }
  static int number_of(const Engine& engine, const SizedPocket& one) {
    return engine.valves[static_cast<std::size_t>(one.valve)].pocket;
  }

  static std::string gives_way(const std::vector<AskedRow>& rows) {
    const AskedRow* least = nullptr;
    for (const AskedRow& row : rows)
      if (!row.holds && (least == nullptr || row.margin < least->margin)) least = &row;
    return least == nullptr ? "" : gap_name({least->what, least->valve, least->required, least->running});
  }

  /// The least metal round one pocket, but for the crown's edge; of what is known.
  static double thinnest(const Exact& exact, const std::string& pocket) {
    double least = INFINITY;
    for (const MetalLeft& left : crown_left(exact.engine, exact.parts.crown))
      if ((left.pocket == pocket || left.other == pocket + " pocket") && left.to != MetalLeft::To::edge &&
          left.state != MetalLeft::State::not_known)
        least = std::min(least, left.value);
    return least;
  }

  /// Model, exact check, corrected model, until they agree.
  struct Choice {
    Pocket pocket;
    PocketShape shape;
    PocketLimits limits;
    double cost = INFINITY;
  };
  Choice choose(const SizedPocket& one, double corner, PocketWish::Goal goal) {
    Choice choice;
    Pocket pocket = template_of(one, corner);
    const PocketModel model(base_->setup, one.valve, tilted_axis(pocket.tilt, pocket.lean), pocket.corner_radius);
    choice.limits = limits_of(one, pocket, base_->setup);
    PocketLimits& limits = choice.limits;
    choice.shape = start_shape(one, model);
    limits.goal = goal;
    for (int round = 0; round < kCorrections; ++round) {
      choice.shape = best_shape(given_.piston, model, limits, choice.shape, round == 0 ? kFirstLook : kNextLook);
      pocket = told(pocket, model, choice.shape, !limits.place);
      const auto exact = made(one, pocket);
      // The told numbers are those that were checked.
      const PocketShape told_shape{pocket.x, pocket.y, pocket.diameter / 2, floor_of(pocket, valve_of(one), radius_)};
      const Margins found = margins_of(rows(*exact, one.valve));
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
      for (const auto& [what, missing] : metal_missing(*exact, one)) {
        const auto amend = [&](double& asked, double wished, double modelled) {
          const double now = wished + (modelled - (wished - missing));
          most = std::max(most, std::fabs(now - asked));
          asked = now;
        };
        if (what == "metal to the ring groove")
          amend(limits.over_groove, wish_.over_groove, metal.groove);
        else if (what == "metal to the underside")
          amend(limits.over_underside, wish_.over_underside, metal.underside);
      }
      choice.pocket = pocket;
      choice.cost = model.volume(choice.shape);
      if (wish_.goal == PocketWish::Goal::thickest && !keeps_shape(one)) choice.cost = -thinnest(*exact, pocket.name);
      if (most < kCorrected) break;
    }
    return choice;
  }

  /// all_hold(rows()), for less.
  bool leaves_all(const Exact& exact, int valve) const {
    if (!allowances(exact.engine).empty()) return all_hold(rows(exact, valve));
    const AskedValve& asked = exact.setup.valves[static_cast<std::size_t>(valve)].asked;
    const auto keeps_it = [&](GapKind kind) { return keeps(exact.setup, valve, kind, asked_of(asked, kind)); };
    // Where there is no such gap, travel holds face, and closest holds radial.
    const auto none = [&](GapKind kind) { return std::isnan(judged_least(exact.setup, valve, kind)); };
    return keeps_it(GapKind::travel) && keeps_it(GapKind::closest) &&
           (keeps_it(GapKind::face) || none(GapKind::face)) && (keeps_it(GapKind::radial) || none(GapKind::radial));
  }

  bool holds(const SizedPocket& one, Pocket pocket, Numbers at) {
    pocket.diameter = wish_.diameters.empty() ? value(at.first) : pocket.diameter;
    pocket.depth = value(at.second);
    try {
      return leaves_all(*made(one, pocket), one.valve);
    } catch (const InputError&) {
      return false;
    } catch (const MachineError&) {
      return false;
    }
  }

  Pocket at(Pocket pocket, Numbers numbers) const {
    if (wish_.diameters.empty()) pocket.diameter = value(numbers.first);
    pocket.depth = value(numbers.second);
    return pocket;
  }

  /// The least numbers from where the model ends, each less by a step breaking something. What binds goes into `one`.
  void walk(SizedPocket& one) {
    const bool any_diameter = wish_.diameters.empty();
    Numbers now{any_diameter ? steps(one.pocket.diameter, true) : 0, steps(one.pocket.depth, true)};
    Numbers least{0, 0};
    if (keeps_shape(one)) {
      // What is there need not be on a step.
      least = {steps(one.before->diameter, true), steps(one.before->depth, true)};
      if (now.first <= least.first && any_diameter) now.first = least.first;
      if (now.second <= least.second) now.second = least.second;
    }
    int taken = 0;
    // Wider or deeper while something is short: by what is missing, at least a step.
    for (; taken < 40; ++taken) {
      Margins m;
      try {
        m = margins_of(rows(*made(one, at(one.pocket, now)), one.valve));
      } catch (const MachineError&) {
        now.first += steps(kBuildAgain, true);
        continue;
      }
      const double axial = std::min(m.travel, m.face), across = std::min(m.radial, m.closest);
      if (axial >= 0 && across >= 0) break;
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
          if ((which == 0 ? next.first : next.second) < floor || !holds(one, one.pocket, next)) {
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
    bind(one, now, least);
  }

  void bind(SizedPocket& one, Numbers now, Numbers least) {
    const auto breaks = [&](Numbers next) -> std::string {
      try {
        return gives_way(rows(*made(one, at(one.pocket, next)), one.valve));
      } catch (const InputError& error) {
        return error.faults().front().message;
      } catch (const MachineError&) {
        return "no such solid";
      }
    };
    one.depth.by = keeps_shape(one) && now.second == least.second ? "as it is" : breaks({now.first, now.second - 1});
    if (!wish_.diameters.empty())
      one.diameter.by = "the cutters given";
    else
      one.diameter.by = keeps_shape(one) && now.first == least.first ? "as it is" : breaks({now.first - 1, now.second});
  }

  static bool all_hold(const std::vector<AskedRow>& rows) {
    return std::ranges::all_of(rows, [](const AskedRow& row) { return row.holds; });
  }

  void size(SizedPocket& one) {
    if (!one.needed) {
      one.depth.by = one.diameter.by = "no pocket is needed";
      return;
    }
    if (keeps_shape(one)) {
      one.pocket = *one.before;
      const auto exact = made(one, one.pocket);
      if (all_hold(rows(*exact, one.valve))) {
        one.depth.by = one.diameter.by = "as it is";
        take(one);
        return;
      }
    }
    // The search for the thickest metal may stop early; the pocket of least volume is then as good an answer.
    std::vector<std::pair<double, PocketWish::Goal>> ways;
    for (const double corner : keeps_shape(one) ? std::vector<double>{NAN} : wish_.corners) {
      ways.emplace_back(corner, PocketWish::Goal::least_volume);
      if (wish_.goal == PocketWish::Goal::thickest && !keeps_shape(one))
        ways.emplace_back(corner, PocketWish::Goal::thickest);
    }
    std::vector<Choice> choices(ways.size());
    run_tasks(choices.size(), 1, pacer_, 0,
              [&](std::size_t i) { choices[i] = choose(one, ways[i].first, ways[i].second); });
    const auto best = std::ranges::min_element(choices, {}, &Choice::cost);
    one.pocket = best->pocket;
    limits_[one.valve] = best->limits;
    shapes_[one.valve] = best->shape;
    walk(one);
    take(one);
  }

  void take(SizedPocket& one) {
    engine_ = with(one, one.pocket);
    one.changed = !one.before || one.pocket.x != one.before->x || one.pocket.y != one.before->y ||
                  one.pocket.tilt != one.before->tilt || one.pocket.lean != one.before->lean ||
                  one.pocket.diameter != one.before->diameter || one.pocket.depth != one.before->depth ||
                  one.pocket.depth_to != one.before->depth_to || one.pocket.corner_radius != one.before->corner_radius;
    auto next = std::make_unique<Exact>(engine_, base_->setup, kMendDeflection);
    base_ = std::move(next);
  }

  /// Neighbours that were made smaller may stand in the way of those sized before them.
  void settle(std::vector<SizedPocket>& pockets) {
    for (std::size_t i = 0; i + 1 < pockets.size(); ++i) {
      SizedPocket& one = pockets[i];
      if (!one.needed || (keeps_shape(one) && !one.changed)) continue;
      if (all_hold(rows(*base_, one.valve))) continue;
      walk(one);
      take(one);
    }
  }

  void report(PocketResult& result, const Setup& before, double plain) {
    result.engine = engine_;
    const Exact last(engine_, before, kDeflection);
    const auto pairs = valve_pairs(last.setup);
    const Judged judged = judge(last.engine, least_gaps(last.setup, pairs));
    result.verdict = judged.verdict;
    for (const AskedRow& row : judged.rows)
      if (!row.running || row.required > 0 || !row.holds) result.asked.push_back(row);
    result.left_before = crown_left(given_, before.parts.crown);
    result.left = crown_left(last.engine, last.parts.crown);
    result.volume_before = void_of(before.parts.crown) - plain;
    result.volume = void_of(last.parts.crown) - plain;
    result.compression_before = compression(given_, before.parts.crown);
    result.compression = compression(last.engine, last.parts.crown);
    for (SizedPocket& one : result.pockets) {
      const Valve& valve = valve_of(one);
      if (!one.needed && !one.before) continue;
      const PocketModel model(last.setup, one.valve, tilted_axis(one.pocket.tilt, one.pocket.lean),
                              one.pocket.corner_radius);
      one.volume =
          model.volume({one.pocket.x, one.pocket.y, one.pocket.diameter / 2, floor_of(one.pocket, valve, radius_)});
      for (const AskedRow& row : judged.rows)
        if (row.valve == valve.name && row.what != "valve to bore" && !row.holds)
          one.misses.push_back(gap_name({row.what, row.valve, row.required, row.running}));
      for (const auto& [what, missing] : metal_missing(last, one))
        if (missing > kCorrected) one.misses.push_back(what);
      costs(result, one, model);
    }
  }
  /// What is taken from the crown under its flat, less what stands over it; the solids' bottoms differ.
  double void_of(const Crown& crown) const {
    for (const Face& face : crown.faces)
      if (face.group == Group::underside) return -face.frame.origin.z * kPi * radius_ * radius_ - crown.volume;
    return NAN;
  }

  void costs(PocketResult& result, const SizedPocket& one, const PocketModel& model) const {
    const auto limits = limits_.find(one.valve);
    if (limits == limits_.end()) return;
    const double less = given_.units == LengthUnit::inch ? kCostInch : kCostMm;
    const Valve& valve = valve_of(one);
    const PocketShape& shape = shapes_.at(one.valve);
    const double now = model.volume(best_shape(given_.piston, model, limits->second, shape, kNextLook));
    for (const bool axial : {true, false}) {
      PocketLimits changed = limits->second;
      AskedValve& asked = changed.asked;
      if (axial)
        asked.travel -= less, asked.face -= less;
      else
        asked.radial -= less, asked.closest -= less;
      AskedCost cost;
      cost.gap = {axial ? "travel and face" : "radial and closest", valve.name,
                  axial ? limits->second.asked.travel : limits->second.asked.radial, false};
      cost.less = less;
      cost.volume = now - model.volume(best_shape(given_.piston, model, changed, shape, kNextLook));
      if (result.compression) {
        Compression with_less = *result.compression;
        with_less.crown -= cost.volume;
        cost.ratio = with_less.ratio() - result.compression->ratio();
      }
      result.costs.push_back(cost);
    }
  }

  const Engine& given_;
  PocketWish wish_;
  double unit_, step_;
  Pacer pacer_;
  double radius_;
  Engine engine_;                ///< as far as it is sized
  std::unique_ptr<Exact> base_;  ///< of it
  std::map<int, PocketLimits> limits_;
  std::map<int, PocketShape> shapes_;
};

}  // namespace
}  // namespace study

bool PocketResult::fits() const {
  return std::ranges::all_of(pockets, [](const SizedPocket& one) { return one.misses.empty(); });
}

PocketResult size_pockets(const Engine& engine, const PocketWish& wish, const CheckOptions& options) {
  return study::Sizer(engine, wish, options).run();
}

}  // namespace eyebrow
