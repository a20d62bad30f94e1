#include "eyebrow/motion.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <future>
#include <iterator>

#include "eyebrow/fault.hpp"
#include "eyebrow/timing.hpp"
#include "motion/rocker.hpp"
#include "motion/tolerances.hpp"
#include "motion/words.hpp"

namespace eyebrow {
namespace {

/// Into -2 pi ... 2 pi by whole cycles of two turns.
double wrapped(double crank) {
  return std::remainder(crank, 4 * kPi);
}

/// Index of the item with the name, -1 if none.
template <typename Item>
int index_of(const std::vector<Item>& items, const std::string& name) {
  const auto found = std::find_if(items.begin(), items.end(), [&name](const Item& item) { return item.name == name; });
  return found == items.end() ? -1 : static_cast<int>(found - items.begin());
}

/// Do two lobes have the same lift curve?
bool same_curve(const Lobe& a, const Lobe& b) {
  // The lift at TDC is a point of the curve, placed by centre and role.
  const bool same_tdc = a.tdc_lift == b.tdc_lift &&
                        (!a.tdc_lift || (a.tdc_advance == b.tdc_advance && a.centre == b.centre && a.role == b.role));
  const bool same_law = a.law == b.law && a.law_duration == b.law_duration && a.ramp_lift == b.ramp_lift &&
                        a.ramp_duration == b.ramp_duration;
  return same_tdc && same_law && a.ramp == b.ramp && a.lift == b.lift && a.durations == b.durations &&
         a.table == b.table;
}

/// A curve, and its band, through a rocker whose ratio changes with lift.
std::shared_ptr<const LobeCurves> at_valve(const LobeCurves& lobe, const std::vector<RatioAt>& table) {
  auto curves = std::make_shared<LobeCurves>(LobeCurves{motion::at_valve(lobe.middle, table), {}});
  if (lobe.band)
    curves->band = LiftBand{motion::at_valve(lobe.band->least, table), motion::at_valve(lobe.band->greatest, table)};
  return curves;
}

LobeCurves at_end(const LobeCurves& curves, CardEnd end) {
  if (!curves.band) return curves;
  return {end == CardEnd::least ? curves.band->least : curves.band->greatest, {}};
}

}  // namespace

std::shared_ptr<const Motion::Lobes> Motion::lobes_of(const Engine& engine, const Lobes* known) {
  auto lobes = std::make_shared<Lobes>();
  lobes->from = engine.lobes;
  std::vector<Fault> faults;
  // A card takes some 20 ms.
  std::vector<std::future<LobeCurves>> made(engine.lobes.size());
  for (std::size_t i = 0; i < engine.lobes.size(); ++i)
    if (!known || i >= known->from.size() || !same_curve(engine.lobes[i], known->from[i]))
      made[i] = std::async(std::launch::async, lobe_curves, std::cref(engine.lobes[i]));
  for (std::size_t i = 0; i < engine.lobes.size(); ++i) {
    if (!made[i].valid()) {
      lobes->curves.push_back(known->curves[i]);
      continue;
    }
    try {
      lobes->curves.push_back(made[i].get());
    } catch (const InputError& error) {
      faults.insert(faults.end(), error.faults().begin(), error.faults().end());
    }
  }
  if (!faults.empty()) throw InputError(std::move(faults));
  return lobes;
}

Motion::Motion(const Engine& engine) : Motion(engine, lobes_of(engine, nullptr)) {}

Motion Motion::changed(const Engine& engine) const {
  if (std::ranges::equal(engine.lobes, lobes_->from, same_curve)) return Motion(engine, lobes_);
  return Motion(engine, lobes_of(engine, lobes_.get()));
}

Motion::Motion(const Engine& engine, std::shared_ptr<const Lobes> lobes)
    : slider_(engine.cylinder.stroke, engine.cylinder.rod_length, engine.cylinder.pin_offset),
      deck_clearance_(engine.cylinder.deck_clearance),
      gasket_(engine.gasket.thickness),
      lobes_(std::move(lobes)) {
  std::vector<Fault> faults;
  trains_.reserve(engine.valves.size());
  for (const Valve& valve : engine.valves) {
    const int lobe_index = index_of(engine.lobes, valve.lobe);
    if (lobe_index < 0) {
      faults.push_back(motion::fault(fmt::format("valve.{}: there is no lobe \"{}\"", valve.name, valve.lobe)));
      continue;
    }
    const Lobe& lobe = engine.lobes[static_cast<std::size_t>(lobe_index)];
    const int cam_index = index_of(engine.cams, lobe.cam);
    if (cam_index < 0) {
      faults.push_back(motion::fault(fmt::format("lobe.{}: there is no cam \"{}\"", lobe.name, lobe.cam)));
      continue;
    }
    const Cam& cam = engine.cams[static_cast<std::size_t>(cam_index)];
    // A table that places itself has its centre in its own angle, crank angle with the cam unmoved.
    const bool placed = lobe.table && !lobe.table->about_centre;
    const LiftCurve& curve = lobes_->curves[static_cast<std::size_t>(lobe_index)].middle;
    const double curve_centre = placed ? flank_centre(curve, motion::kFlankBelowPeak) : 0;
    const double unmoved = placed ? curve_centre : lobe.role == Role::intake ? lobe.centre : -lobe.centre;
    const bool at_lobe = lobe.measured == LiftAt::lobe, table = at_lobe && !valve.rocker_table.empty();
    trains_.push_back({.curve = lobe_index,
                       .centre = wrapped(unmoved - cam.advance + drive_retard(engine, cam)),
                       .curve_centre = curve_centre,
                       .ratio = at_lobe && !table ? valve.rocker_ratio : 1,
                       .lash = engine.running_lash ? valve.lash : 0});
    if (table) trains_.back().own = at_valve(lobes_->curves[static_cast<std::size_t>(lobe_index)], valve.rocker_table);
  }
  if (!faults.empty()) throw InputError(std::move(faults));
}

double Motion::piston_depth(double crank) const {
  return deck_clearance_ + slider_.drop(crank);
}

double Motion::height(double crank) const {
  return -(gasket_ + piston_depth(crank));
}

double Motion::lift(int valve, double crank) const {
  const Train& train = trains_.at(static_cast<std::size_t>(valve));
  const LiftCurve& curve = curve_of(train);
  const double from_centre = wrapped(crank - train.centre);
  return std::max(0.0, train.ratio * curve.lift(from_centre + train.curve_centre) - train.lash);
}

double Motion::greatest_lift(int valve) const {
  const Train& train = trains_.at(static_cast<std::size_t>(valve));
  return std::max(0.0, train.ratio * curve_of(train).peak() - train.lash);
}

const LiftCurve& Motion::greatest_of(const Train& train) const {
  const LobeCurves& curves = curves_of(train);
  return train.free.card && curves.band ? curves.band->greatest : curves.middle;
}

const LiftCurve& Motion::least_of(const Train& train) const {
  const LobeCurves& curves = curves_of(train);
  return train.free.card && curves.band ? curves.band->least : curves.middle;
}

Motion Motion::with(const Freedom& freedom) const {
  Motion other = *this;
  for (std::size_t i = 0; i < other.trains_.size(); ++i) other.trains_[i].free = freedom.valves.at(i);
  return other;
}

Motion Motion::at_card_end(CardEnd end) const {
  Motion other = *this;
  auto lobes = std::make_shared<Lobes>(*lobes_);
  for (LobeCurves& curves : lobes->curves) curves = at_end(curves, end);
  for (Train& train : other.trains_)
    if (train.own) train.own = std::make_shared<LobeCurves>(at_end(*train.own, end));
  other.lobes_ = std::move(lobes);
  return other;
}

bool Motion::has_card_band(int valve) const {
  return curves_of(trains_.at(static_cast<std::size_t>(valve))).band.has_value();
}

LiftRange Motion::lifts(int valve, double crank) const {
  const Train& train = trains_.at(static_cast<std::size_t>(valve));
  const double at = wrapped(crank - train.centre) + train.curve_centre;
  const double first = at - train.free.late, last = at + train.free.early;
  // A curve has one maximum: over a stretch of it the least lift is at an end, the greatest there or at the peak.
  const LiftCurve &upper = greatest_of(train), &lower = least_of(train);
  const bool peak = first <= upper.peak_angle() && upper.peak_angle() <= last;
  const double high = peak ? upper.peak() : std::max(upper.lift(first), upper.lift(last));
  const double low = std::min(lower.lift(first), lower.lift(last));
  return {std::max(0.0, train.ratio * low - train.lash),
          std::max(0.0, train.ratio * high - train.lash) + train.free.lift};
}

double Motion::height_speed_bound() const {
  return slider_.speed_bound();
}

double Motion::lift_speed_bound(int valve) const {
  const Train& train = trains_.at(static_cast<std::size_t>(valve));
  return train.ratio * curve_of(train).velocity_bound();
}

double Motion::height_bend_bound() const {
  return slider_.bend_bound();
}

bool Motion::passes(const Train& train, double angle, double from, double to) const {
  const double first = from - train.free.late, last = to + train.free.early;
  const double half = 0.5 * (last - first);
  const double middle = 0.5 * (first + last) - train.centre + train.curve_centre;
  return std::fabs(wrapped(angle - middle)) <= half + motion::kBoundSlack;
}

double Motion::lift_bend_bound(int valve, double from, double to) const {
  const Train& train = trains_.at(static_cast<std::size_t>(valve));
  const LiftCurve& curve = greatest_of(train);  // no other lifts where it does not
  const bool touches = lifts(valve, from).greatest > train.free.lift || lifts(valve, to).greatest > train.free.lift ||
                       passes(train, curve.begin(), from, to) || passes(train, curve.end(), from, to);
  if (!touches) return 0;
  return train.ratio * std::max({curve.acceleration_bound(), curve_of(train).acceleration_bound(),
                                 least_of(train).acceleration_bound()});
}

double Motion::lift_step_bound(int valve, double from, double to) const {
  const Train& train = trains_.at(static_cast<std::size_t>(valve));
  const LiftCurve &curve = curve_of(train), &lower = least_of(train);
  if (train.lash > 0) {
    // The lash is taken up or given back where the lift without it passes the lash.
    const double half = 0.5 * (to - from);
    const double middle = wrapped(0.5 * (from + to) - train.centre) + train.curve_centre;
    const double speed = train.ratio * std::max(curve.velocity_bound(), lower.velocity_bound());
    const auto may_pass = [&](const LiftCurve& of, double at) {
      return std::fabs(train.ratio * of.lift(at) - train.lash) <= half * speed;
    };
    const bool passed = may_pass(curve, middle) || may_pass(lower, middle - train.free.late) ||
                        may_pass(lower, middle + train.free.early);
    return passed ? 2 * speed : 0;
  }
  double step = 0;
  if (passes(train, curve.begin(), from, to)) step += train.ratio * std::fabs(curve.knots().front().velocity);
  if (passes(train, curve.end(), from, to)) step += train.ratio * std::fabs(curve.knots().back().velocity);
  return step;
}

double Motion::lobe_centre(int valve) const {
  return trains_.at(static_cast<std::size_t>(valve)).centre;
}

}  // namespace eyebrow
