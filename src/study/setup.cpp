#include "study/setup.hpp"

#include <fmt/format.h>

#include <cmath>
#include <future>

#include "study/refine.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// The lift curve has one maximum, but an uneven lobe's need not lie at its centre.
void find_peak(const Motion& motion, int number, ValveSetup& valve) {
  for (double crank : cycle_grid(kPeakGrid)) {
    const double lift = motion.lift(number, crank);
    if (lift <= valve.peak_lift) continue;
    valve.peak_lift = lift;
    valve.peak_crank = crank;
  }
}

}  // namespace

/// The three take about as long as each other and share nothing.
struct Setup::Made {
  Made(const Engine& engine, const Parts& parts)
      : crown(std::async(std::launch::async, [&] { return make_target(parts.crown); })),
        bore(std::async(std::launch::async, [&] { return make_target(parts.bore); })),
        motion(engine) {}
  std::future<std::shared_ptr<const Target>> crown, bore;
  Motion motion;
};

Setup::Setup(const Engine& of, const Parts& with) : Setup(of, with, Made(of, with)) {}

Setup::Setup(const Engine& of, const Parts& with, Made made)
    : engine(of), parts(with), motion(std::move(made.motion)), crown(made.crown.get()), bore(made.bore.get()) {
  add_valves(nullptr);
}

Setup::Setup(const Setup& like, const Engine& of)
    : engine(of),
      parts(like.parts),
      motion(like.motion.changed(of)),
      crown(like.crown),
      bore(like.bore),
      poll(like.poll) {
  add_valves(&like);
}

Setup::Setup(const Setup& like, const Engine& of, const Parts& with)
    : engine(of),
      parts(with),
      motion(like.motion.changed(of)),
      crown(same_crown(of, like.engine) ? like.crown : make_target(with.crown)),
      bore(same_bore(of, like.engine) ? like.bore : make_target(with.bore)),
      poll(like.poll) {
  add_valves(crown == like.crown && same_valves(of, like.engine) ? &like : nullptr);
}

void Setup::add_valves(const Setup* like) {
  std::vector<Fault> faults;
  for (const Valve& valve : engine.valves)
    if (!engine.asked.valve.contains(valve.role))
      faults.push_back(
          {"", 0, 0, fmt::format("valve \"{}\": no asked gaps are stated for its role", valve.name), "asked"});
  if (parts.profiles.size() != engine.valves.size())
    faults.push_back({"", 0, 0, "the parts were not built from this engine: their valves differ in number"});
  if (!faults.empty()) throw InputError(faults);

  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    const Valve& valve = engine.valves[i];
    const ValvePlace place{closed_place(engine, valve), up_axis(engine, valve)};
    valves.push_back({place, engine.asked.valve.at(valve.role),
                      like && norm(like->valves[i].place.up - place.up) == 0
                          ? like->valves[i].to_piston.moved(place.closed)
                          : ValveToPiston(crown, parts.profiles[i], place, own_pocket(engine, i))});
    find_peak(motion, static_cast<int>(i), valves.back());
  }
}

Vec3 Setup::relative_place(int valve, double crank) const {
  const Pose at = pose(valve, crank);
  return -at.lift * valves[valve].place.up - Vec3{0, 0, at.height};
}

Vec3 Setup::rim_centre(int valve, double lift) const {
  const ValvePlace& place = valves[valve].place;
  return place.closed + Vec3{0, 0, engine.gasket.thickness} - lift * place.up;
}

double lobe_end(const Setup& setup, int valve, int way) {
  const auto open = [&](double crank) { return setup.motion.lift(valve, crank) > 0; };
  double inside = setup.valves[static_cast<std::size_t>(valve)].peak_crank, step = way * kCoarseStep;
  if (!open(inside)) return inside;
  while (open(inside + step)) inside += step;
  for (double outside = inside + step; std::fabs(outside - inside) > 1e-9 * kDegree;) {
    const double middle = 0.5 * (inside + outside);
    (open(middle) ? inside : outside) = middle;
  }
  return inside;
}

std::string length_text(double length, LengthUnit unit) {
  return unit == LengthUnit::inch ? fmt::format("{:.4f} in", length / kInch) : fmt::format("{:.3f} mm", length);
}

}  // namespace eyebrow::study
