#include "study/field_least.hpp"

#include <algorithm>
#include <cmath>

#include "study/free_least.hpp"
#include "study/piston_gap.hpp"
#include "study/positions.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

double angle_of(int k) {
  return (k - kFieldAngles / 2) * kFieldGrid;
}

std::uint8_t bit(std::size_t kind) {
  return static_cast<std::uint8_t>(1u << kind);
}

SlideBox hull(const SlideBox& a, const SlideBox& b) {
  return {std::min(a.along_low, b.along_low), std::max(a.along_high, b.along_high), std::min(a.aside_low, b.aside_low),
          std::max(a.aside_high, b.aside_high)};
}

/// The courses on which the valve keeps furthest from the piston, by how near the two come along the bore.
std::vector<std::size_t> roomiest(const Setup& setup, int valve, std::span<const Course> courses) {
  const double cosine = setup.valves[static_cast<std::size_t>(valve)].place.up.z;
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t i = 0; i < courses.size(); ++i) {
    double approach = -INFINITY;
    for (double crank = -kTryFrom; crank <= kTryFrom; crank += kFieldGrid) {
      const Pose at = courses[i].pose(valve, crank);
      approach = std::max(approach, at.height + cosine * at.lift);
    }
    order.push_back({approach, i});
  }
  std::ranges::sort(order);
  std::vector<std::size_t> first;
  for (std::size_t i = 0; i < std::min(kRoomiest, order.size()); ++i) first.push_back(order[i].second);
  return first;
}

/// Of each kind, about the greatest least that any course has; where there is none, what fields are made for.
std::array<double, std::size(kGapKinds)> wanted(const Setup& setup, int valve, std::span<const Course> courses) {
  const ValveSetup& of = setup.valves[static_cast<std::size_t>(valve)];
  std::array<double, std::size(kGapKinds)> most;
  most.fill(-INFINITY);
  for (const std::size_t i : roomiest(setup, valve, courses)) {
    std::array<double, std::size(kGapKinds)> least;
    least.fill(INFINITY);
    for (double crank = -kTryFrom; crank <= kTryFrom; crank += kTryStep) {
      const PoseGaps gaps =
          of.to_piston.gaps(courses[i].pose(valve, crank), {true, true, true, true, false, of.asked.reach});
      for (std::size_t k = 0; k < least.size(); ++k)
        if (gaps[kGapKinds[k]].measured()) least[k] = std::min(least[k], gaps[kGapKinds[k]].value);
    }
    for (std::size_t k = 0; k < least.size(); ++k)
      if (std::isfinite(least[k])) most[k] = std::max(most[k], least[k]);
  }
  for (double& value : most) value = std::isfinite(value) ? std::max(value, 0.0) + kMoreRoom : FieldAccuracy{}.upto;
  return most;
}

double highest(const std::array<double, std::size(kGapKinds)>& values) {
  return *std::ranges::max_element(values);
}

/// Stretches with jumps are looked at by themselves.
Low plain(Low low) {
  low.from = low.to = NAN;
  return low;
}

FieldAccuracy fine_upto(double upto) {
  FieldAccuracy accuracy;
  accuracy.upto = upto;
  return accuracy;
}

}  // namespace

void Screened::offer(const Low& low) {
  const auto before = [&](const Low& other) {
    if (std::fabs(low.value - other.value) > kTie) return low.value < other.value;
    return std::fabs(low.crank) < std::fabs(other.crank);
  };
  int at = count;
  while (at > 0 && before(lows[static_cast<std::size_t>(at) - 1])) --at;
  const int size = static_cast<int>(lows.size());
  if (at == size) return;
  count = std::min(count + 1, size);
  for (int i = count - 1; i > at; --i) lows[static_cast<std::size_t>(i)] = lows[static_cast<std::size_t>(i) - 1];
  lows[static_cast<std::size_t>(at)] = low;
}

std::vector<FieldLeast::Near> FieldLeast::stretches(const Setup& setup, int valve, std::span<const Course> courses,
                                                    double margin, double upto) {
  const PistonGap closest(setup, valve, GapKind::closest);
  const ValvePlace& place = setup.valves[static_cast<std::size_t>(valve)].place;
  const double cosine = place.up.z, sine = slide_of(place, {1, 0}).aside;
  std::vector<Near> near;
  for (int k = 0; k < kFieldAngles; ++k) {
    const double from = angle_of(k), to = angle_of(k + 1);
    SlideBox box = courses.front().box(valve, from, to);
    for (const Course& course : courses.subspan(1)) box = hull(box, course.box(valve, from, to));
    box.along_low -= 2 * margin;
    box.along_high += 2 * margin;
    box.aside_low -= sine * margin;
    box.aside_high += sine * margin;
    // height + cos(tilt) lift
    if (closest.from_heights(cosine * box.along_high + sine * box.aside_high) <= upto) near.push_back({from, to, box});
  }
  return near;
}

FieldLeast::FieldLeast(const Setup& setup, int valve, std::span<const Course> courses, double margin)
    : setup_(setup),
      valve_(valve),
      upto_(wanted(setup, valve, courses)),
      near_(stretches(setup, valve, courses, margin, highest(upto_))),
      travel_(setup.valves[static_cast<std::size_t>(valve)].to_piston, region()) {
  const ValveSetup& of = setup.valves[static_cast<std::size_t>(valve)];
  for (std::size_t k = 0; k < upto_.size(); ++k) {
    if (kGapKinds[k] != GapKind::travel)
      fields_.emplace_back(of.to_piston, kGapKinds[k], of.asked.reach, region(), fine_upto(upto_[k]));
    mark(k);
  }
  list_angles();
}

std::vector<SlideBox> FieldLeast::region() const {
  std::vector<SlideBox> boxes;
  for (const Near& stretch : near_) boxes.push_back(stretch.box);
  return boxes;
}

void FieldLeast::mark(std::size_t kind) {
  // Every course passes every stretch: none has its least above what it has at most in some stretch.
  for (const Near& stretch : near_) {
    const double high = within(kind, stretch.box).high;
    if (std::isfinite(high)) upto_[kind] = std::min(upto_[kind], high + kFieldAgrees);
  }
  for (Near& stretch : near_) {
    const FieldRange range = within(kind, stretch.box);
    if (!(range.low <= upto_[kind])) continue;
    stretch.kinds |= bit(kind);
    if (range.high == INFINITY) stretch.jumps |= bit(kind);
  }
}

void FieldLeast::list_angles() {
  for (const Near& stretch : near_) {
    if (stretch.kinds == 0) continue;
    const bool follows = !angles_.empty() && angles_.back().crank == stretch.from;
    if (follows)
      angles_.back().kinds |= stretch.kinds;
    else
      angles_.push_back({stretch.from, stretch.kinds, false});
    angles_.push_back({stretch.to, stretch.kinds, true});
  }
}

std::size_t FieldLeast::cells() const {
  std::size_t count = travel_.stretches();
  for (const GapField& field : fields_) count += field.cells();
  return count;
}

FieldGap FieldLeast::look_up(std::size_t kind, const Pose& pose) const {
  return kGapKinds[kind] == GapKind::travel ? travel_.travel(pose) : fields_[kind - 1].at(pose);
}
FieldRange FieldLeast::within(std::size_t kind, const SlideBox& box) const {
  return kGapKinds[kind] == GapKind::travel ? travel_.within(box) : fields_[kind - 1].within(box);
}

Low FieldLeast::lowest(const Course& course, std::size_t kind, double crank) const {
  const double choice = kGapKinds[kind] == GapKind::travel ? 0 : course.choice(valve_, crank);
  const int parts = choice > 0 ? static_cast<int>(std::ceil(choice / kLiftPart)) : 0;
  Low low;
  low.crank = crank;
  for (int i = 0; i <= parts; ++i) {
    const double under = parts > 0 ? choice * i / parts : 0;
    const FieldGap found = look_up(kind, course.pose(valve_, crank, under));
    if (std::isnan(found.value)) return {NAN, crank};
    if (!(found.value < low.value)) continue;
    low.value = found.value;
    low.under = under;
    low.from = low.to = found.status == FieldStatus::jump ? crank : NAN;
  }
  return low;
}

Low FieldLeast::settled_lift(const Course& course, std::size_t kind, Low low) const {
  const double choice = kGapKinds[kind] == GapKind::travel ? 0 : course.choice(valve_, low.crank);
  if (!(choice > 0)) return low;
  const auto try_under = [&](double under) {
    if (under < 0 || under > choice) return false;
    const double value = look_up(kind, course.pose(valve_, low.crank, under)).value;
    if (!(value < low.value)) return false;
    low.value = value;
    low.under = under;
    return true;
  };
  for (double step = 0.5 * choice / std::ceil(choice / kLiftPart); step > kLiftSettled; step /= 2)
    if (!try_under(low.under - step)) try_under(low.under + step);
  return low;
}

Low FieldLeast::narrowed(const Course& course, std::size_t kind, std::array<double, 3> crank,
                         std::array<double, 3> value) const {
  Low low = plain(lowest(course, kind, crank[1]));
  for (int i = 0; i < kMostParabolas; ++i) {
    const double left = crank[1] - crank[0], right = crank[2] - crank[1];
    const double fall = (value[0] - value[1]) / left, rise = (value[2] - value[1]) / right;
    if (!(fall + rise > 0) || !std::isfinite(fall + rise)) break;
    const double next = crank[1] + 0.5 * (fall * right - rise * left) / (fall + rise);
    if (!(next > crank[0] && next < crank[2]) || std::fabs(next - crank[1]) < kParabolaAngle) break;
    const Low found = lowest(course, kind, next);
    const bool lower = found.value < value[1];
    const std::size_t moved = (next > crank[1]) == lower ? 0 : 2;
    if (lower) {
      low = found;
      crank[moved] = crank[1];
      value[moved] = value[1];
      crank[1] = next;
      value[1] = found.value;
    } else {
      crank[moved] = next;
      value[moved] = found.value;
    }
  }
  return settled_lift(course, kind, low);
}

FieldLeast::Spot FieldLeast::spot(const Course& course, std::size_t kind, double crank) const {
  const Pose pose = course.pose(valve_, crank);
  return {crank, slide_of(setup_.valves[static_cast<std::size_t>(valve_)].place, pose),
          lowest(course, kind, crank).value};
}

void FieldLeast::look_closely(const Course& course, std::size_t kind, const Spot& from, const Spot& to, double sag,
                              Screened& found, Low& run) const {
  const SlideBox box{std::min(from.at.along, to.at.along) - sag, std::max(from.at.along, to.at.along) + sag,
                     std::min(from.at.aside, to.at.aside) - sag, std::max(from.at.aside, to.at.aside) + sag};
  const FieldRange range = within(kind, box);
  if (range.low >= found.value() + kJumpCell) return;
  const Spot middle = spot(course, kind, 0.5 * (from.crank + to.crank));
  if (range.high < INFINITY) {
    if (middle.value <= from.value && middle.value <= to.value)
      found.offer(narrowed(course, kind, {from.crank, middle.crank, to.crank}, {from.value, middle.value, to.value}));
    return;
  }
  if (to.crank - from.crank <= kJumpPart) {
    if (run.jump() && run.to != from.crank) {
      found.offer(run);
      run = {};
    }
    if (!run.jump()) run.from = from.crank;
    run.to = to.crank;
    // Of what is found, else of what may be.
    double value = range.low, crank = middle.crank;
    for (const Spot& at : {from, middle, to})
      if (at.value < INFINITY && (value == range.low || at.value < value)) value = at.value, crank = at.crank;
    if (value < run.value) run.value = value, run.crank = crank;
    return;
  }
  // What the lift's steps add goes with the width, the rest with its square.
  look_closely(course, kind, from, middle, sag / 2, found, run);
  look_closely(course, kind, middle, to, sag / 2, found, run);
}

std::array<Screened, std::size(kGapKinds)> FieldLeast::screened(const Course& course) const {
  constexpr std::size_t kKinds = std::size(kGapKinds);
  std::array<Screened, kKinds> found;
  std::array<std::array<double, kFieldAngles + 2>, kKinds> value;
  for (std::size_t i = 0; i < angles_.size(); ++i) {
    const Angle& at = angles_[i];
    for (std::size_t k = 0; k < kKinds; ++k) {
      value[k][i] = INFINITY;
      if (!(at.kinds & bit(k))) continue;
      value[k][i] = lowest(course, k, at.crank).value;
      if (std::isnan(value[k][i])) found[k].known = false;
    }
  }
  for (std::size_t k = 0; k < kKinds; ++k) {
    const auto& v = value[k];
    for (std::size_t i = 0; i < angles_.size(); ++i) {
      const double before = angles_[i].follows ? v[i - 1] : INFINITY;
      const double after = i + 1 < angles_.size() && angles_[i + 1].follows ? v[i + 1] : INFINITY;
      if (!(v[i] < before && v[i] <= after)) continue;
      if (std::isinf(before) || std::isinf(after))
        found[k].offer(settled_lift(course, k, plain(lowest(course, k, angles_[i].crank))));
      // A parabola's lowest point lies no further than that under the middle one.
      else if (v[i] - std::max(before - v[i], after - v[i]) / 8 <= found[k].value())
        found[k].offer(
            narrowed(course, k, {angles_[i - 1].crank, angles_[i].crank, angles_[i + 1].crank}, {before, v[i], after}));
    }
  }
  for (const Near& stretch : near_)
    for (std::size_t k = 0; k < kKinds; ++k)
      if (stretch.jumps & bit(k)) {
        if (course.choice(valve_, 0.5 * (stretch.from + stretch.to)) > 0 && kGapKinds[k] != GapKind::travel) {
          // Of many lifts the jump is a line: where the least may lie on it the kernel searches.
          if (may_jump_below(course, k, stretch.from, stretch.to, found[k].value())) found[k].known = false;
          continue;
        }
        Low run;
        look_closely(course, k, spot(course, k, stretch.from), spot(course, k, stretch.to),
                     course.sag(valve_, stretch.from, stretch.to), found[k], run);
        if (run.jump()) found[k].offer(run);
      }
  for (std::size_t k = 0; k < kKinds; ++k)
    if (found[k].count > 0 && found[k].value() > upto_[k]) found[k].known = false;
  return found;
}

bool FieldLeast::may_jump_below(const Course& course, std::size_t kind, double from, double to, double value) const {
  const FieldRange range = within(kind, course.box(valve_, from, to));
  if (range.low >= value || range.high < INFINITY) return false;
  if (to - from <= kJumpPart) return true;
  const double middle = 0.5 * (from + to);
  return may_jump_below(course, kind, from, middle, value) || may_jump_below(course, kind, middle, to, value);
}

double FieldLeast::ask(const Course& course, GapKind kind, double crank, double under) const {
  const ValveSetup& of = setup_.valves[static_cast<std::size_t>(valve_)];
  return of.to_piston.gaps(course.pose(valve_, crank, under), request_for(kind, of.asked.reach, false))[kind].value;
}

Low FieldLeast::settled(const Course& course, GapKind kind, const Low& low) const {
  Low best;
  const auto try_at = [&](double crank) {
    const double value = ask(course, kind, crank, low.under);
    if (!(value < best.value - kTie)) return false;
    best = {value, crank};
    return true;
  };
  // The part beside the cells on either side is in.
  const double from = low.from - kJumpPart, to = low.to + kJumpPart;
  double step = 0.5 * (to - from);
  for (const double at : {from, from + step, to}) try_at(at);
  for (double at = from + 0.5 * kSettleAngle; best.value == INFINITY && at < to; at += kSettleAngle) try_at(at);
  for (step *= 0.5; step > kSettleAngle; step *= 0.5)
    if (!try_at(best.crank - step)) try_at(best.crank + step);
  return best;
}

Least FieldLeast::least(const Course& course, const Engine& changed, const Screened& screened, GapKind kind) const {
  bool agreed = screened.known;
  Low best;
  for (int i = 0; agreed && i < screened.count; ++i) {
    const Low& low = screened.lows[static_cast<std::size_t>(i)];
    if (low.value >= best.value) break;
    const Low found = low.jump() ? settled(course, kind, low) : Low{ask(course, kind, low.crank, low.under), low.crank};
    agreed = low.jump() ? found.value > low.value - kFieldAgrees : std::fabs(found.value - low.value) <= kFieldAgrees;
    if (found.value < best.value) best = found;
  }
  // The last place told may not be the last there is.
  if (screened.count == static_cast<int>(screened.lows.size()) && best.value > screened.lows.back().value)
    agreed = false;
  if (screened.count > 0 && !std::isfinite(best.value)) agreed = false;
  if (!agreed) {
    Setup other(setup_, changed);
    if (!course.many_lifts()) return least_over_cycle(PistonGap(other, valve_, kind).over_cycle());
    other.motion = other.motion.with(judged_lifts(changed));
    const FreeLeast free = free_least(other, valve_, kind);
    return {free.found, free.crank, free.value};
  }
  Least least;
  if (screened.count == 0) return least;
  least.found = true;
  least.crank = best.crank;
  least.value = best.value;
  return least;
}

}  // namespace eyebrow::study
