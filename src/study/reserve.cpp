#include "study/reserve.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "study/asked.hpp"
#include "study/judge.hpp"
#include "study/positions.hpp"
#include "study/running.hpp"
#include "study/running_others.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// Something that has to hold, of a setup whose cam was moved.
struct Demand {
  MapGap gap;  ///< what it is told as
  std::function<bool(const Setup&)> holds;
  bool now = false;  ///< does it where the cam is set?
};

bool rides_on(const Engine& engine, int valve, const std::string& cam) {
  return cam_of(engine, valve).name == cam;
}

class OfCam {
 public:
  OfCam(const Setup& setup, const std::vector<ValvePair>& pairs, const std::vector<Allowance>& allowed,
        const std::string& cam)
      : setup_(setup), cam_(cam) {
    for (int valve = 0; valve < static_cast<int>(setup.valves.size()); ++valve)
      if (rides_on(setup.engine, valve, cam)) add_valve(valve, allowed);
    for (const ValvePair& pair : pairs)
      if (rides_on(setup.engine, pair.first(), cam) != rides_on(setup.engine, pair.second(), cam))
        add_pair(pair, allowed);
  }

  bool moves_valves() const { return !asked_.empty(); }

  /// Tells Demand::now of every demand, which all ends begin with.
  void find_now() {
    for (Demand& demand : asked_) demand.now = holds(demand, 0, 0);
    for (Demand& demand : apart_) {
      // What leaves as much as is asked does not touch.
      const bool left = std::ranges::any_of(asked_, [&](const Demand& asked) {
        return asked.now && asked.gap.required >= 0 && asked.gap.running == demand.gap.running &&
               asked.gap.what == demand.gap.what && asked.gap.valve == demand.gap.valve;
      });
      demand.now = left || holds(demand, 0, 0);
    }
  }
  ReserveEnd asked(int way) const { return end(asked_, way); }
  ReserveEnd contact(int way) const { return end(apart_, way); }

 private:
  const Valve& valve_of(int valve) const { return setup_.engine.valves[static_cast<std::size_t>(valve)]; }

  /// Cheap ones first: they narrow what the others have to look at.
  void add_valve(int valve, const std::vector<Allowance>& allowed) {
    const AskedValve& asked = setup_.valves[static_cast<std::size_t>(valve)].asked;
    const std::string& name = valve_of(valve).name;
    for (const GapKind kind : kGapKinds) {
      const double required = asked_of(asked, kind);
      asked_.push_back({{to_string(kind), name, required, false},
                        [=](const Setup& moved) { return keeps(moved, valve, kind, required); }});
    }
    for (const GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest})
      apart_.push_back(
          {{to_string(kind), name, 0, false}, [=](const Setup& moved) { return keeps(moved, valve, kind, 0); }});
    if (allowed.empty()) return;
    const auto own = setup_.engine.asked.running.find(valve_of(valve).role);
    for (const GapKind kind : kGapKinds) {
      const bool stated = own != setup_.engine.asked.running.end();
      if (!stated && kind == GapKind::radial) continue;
      const double required = stated ? asked_of(own->second, kind) : 0;
      asked_.push_back({{to_string(kind), name, required, true}, [=, &allowed](const Setup& moved) {
                          return running_keeps(moved, allowed, valve, kind, required);
                        }});
    }
    for (const GapKind kind : {GapKind::travel, GapKind::face, GapKind::closest})
      apart_.push_back({{to_string(kind), name, 0, true},
                        [=, &allowed](const Setup& moved) { return running_keeps(moved, allowed, valve, kind, 0); }});
  }

  void add_pair(const ValvePair& pair, const std::vector<Allowance>& allowed) {
    const std::string name = valve_of(pair.first()).name + " / " + valve_of(pair.second()).name;
    const Asked& asked = setup_.engine.asked;
    const auto add = [&](std::vector<Demand>& to, double required) {
      to.push_back({{"valve to valve", name, required, false},
                    [&pair, required](const Setup& moved) { return pair_keeps(moved, pair, required); }});
    };
    const auto add_running = [&](std::vector<Demand>& to, double required) {
      to.push_back({{"valve to valve", name, required, true}, [&pair, &allowed, required](const Setup& moved) {
                      return running_pair(moved, allowed, pair, INFINITY) >= required;
                    }});
    };
    add(asked_, asked.valve_to_valve);
    add(apart_, 0);
    if (allowed.empty()) return;
    add_running(asked_, asked.running_valve_to_valve);
    add_running(apart_, 0);
  }

  bool holds(const Demand& demand, int way, int steps) const {
    const Engine engine = cam_moved(setup_.engine, cam_, way * steps * kReserveStep);
    return demand.holds(Setup(setup_, engine));
  }

  /// In steps: looked at ever further out, then halved. Each demand no further than the one before left it, and where
  /// one did, in no more than kReserveLooks; what does not hold where the cam is set limits nothing more.
  ReserveEnd end(const std::vector<Demand>& demands, int way) const {
    ReserveEnd found;
    int limit = kReserveSteps;  // the furthest that is not known to be short
    for (const Demand& demand : demands) {
      int good = 0, bad = -1;
      if (!demand.now) {
        found.now = true;
        continue;
      }
      const int first = limit < kReserveSteps ? std::max(kReserveFirst, limit / kReserveLooks) : kReserveFirst;
      for (int at = std::min(limit, first); bad < 0 && good < limit; at = std::min(limit, 2 * at))
        (holds(demand, way, at) ? good : bad) = at;
      if (bad < 0) continue;
      while (bad - good > 1) {
        const int middle = good + (bad - good) / 2;
        (holds(demand, way, middle) ? good : bad) = middle;
      }
      // Of two that end at the same step the first is told.
      if (!found.gap.what.empty() && good >= limit) continue;
      limit = good;
      found.gap = demand.gap;
    }
    found.by = limit * kReserveStep;
    return found;
  }

  const Setup& setup_;
  std::string cam_;
  std::vector<Demand> asked_, apart_;
};

}  // namespace

std::vector<Reserve> reserves(const Setup& setup, const std::vector<ValvePair>& pairs, Pacer& pacer) {
  const std::vector<Allowance> allowed = allowances(setup.engine);
  std::vector<OfCam> cams;
  std::vector<Reserve> found;
  for (const Cam& cam : setup.engine.cams) {
    OfCam of(setup, pairs, allowed, cam.name);
    if (!of.moves_valves()) continue;
    cams.push_back(std::move(of));
    found.push_back({cam.name, {}, {}, {}, {}});
  }
  run_tasks(cams.size(), 1, pacer, kReserveUnits / 5, [&](std::size_t cam) { cams[cam].find_now(); });
  run_tasks(4 * cams.size(), 1, pacer, kReserveUnits / 5, [&](std::size_t task) {
    const OfCam& of = cams[task / 4];
    Reserve& reserve = found[task / 4];
    switch (task % 4) {
      case 0:
        reserve.early = of.asked(1);
        break;
      case 1:
        reserve.late = of.asked(-1);
        break;
      case 2:
        reserve.early_contact = of.contact(1);
        break;
      default:
        reserve.late_contact = of.contact(-1);
    }
  });
  return found;
}

}  // namespace eyebrow::study
