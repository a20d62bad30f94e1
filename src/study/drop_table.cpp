#include "study/drop_table.hpp"

#include <algorithm>
#include <cmath>

#include "study/distinct.hpp"
#include "study/piston_gap.hpp"
#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

bool holds_where_measured(double found, double asked) {
  return std::isnan(found) || found >= asked;
}

class LiftLimit {
 public:
  LiftLimit(const Setup& setup, int valve) : of_(setup.valves[valve]) {
    for (const Vec3& point : setup.parts.crown.points) crown_top_ = std::max(crown_top_, point.z);
    near_ = std::max({of_.asked.face, of_.asked.radial, of_.asked.closest});
    const Profile& profile = of_.to_piston.profile();
    const double up = of_.place.up.z;
    // A sphere about the rim plane's centre would do as well; this is the rim's and the face's lowest point.
    below_centre_ = profile.rim_radius * std::sqrt(std::max(0.0, 1 - up * up)) - std::min(0.0, profile.lowest) * up;
  }

  /// Can the piston be within the asked gaps at any lift up to the peak?
  bool matters(double height) const {
    const double lowest_valve = of_.place.closed.z - (of_.peak_lift + of_.asked.reach) * of_.place.up.z - below_centre_;
    return lowest_valve - (height + crown_top_) <= std::max(near_, of_.asked.travel);
  }

  double find(double height, double drop_travel) const {
    // Travel is contact lift less lift, so it alone allows exactly this much. No meeting: as far as the cam goes.
    const double by_travel = std::isnan(drop_travel) ? of_.peak_lift : drop_travel - of_.asked.travel;
    if (by_travel < 0) return 0;
    const double most = limit_by_radial(height, by_travel);
    return most < 0 ? 0 : limit_by_closest_and_face(height, most);
  }

 private:
  /// The radial gap is the least over the path ahead: seen from the seat with a longer reach, it covers every lift on
  /// the way and falls as the reach grows. Negative: not even the seat.
  double limit_by_radial(double height, double most) const {
    const auto holds = [&](double lift) {
      const GapRequest request = request_for(GapKind::radial, lift + of_.asked.reach, false);
      return holds_where_measured(of_.to_piston.gaps({height, 0}, request).radial.value, of_.asked.radial);
    };
    if (holds(most)) return most;
    if (!holds(0)) return -1;
    return bisect(0, most, holds);
  }

  /// Up from the seat. Closest falls no faster than the lift grows, and no face gap is shorter than closest, so what
  /// closest has in hand can be stepped over.
  double limit_by_closest_and_face(double height, double most) const {
    double closest = NAN;
    const auto holds = [&](double lift) {
      const Pose pose{height, lift};
      closest = of_.to_piston.gaps(pose, request_for(GapKind::closest, 0, false)).closest.value;
      if (closest < of_.asked.closest) return false;
      if (closest >= of_.asked.face) return true;
      const double face = of_.to_piston.gaps(pose, request_for(GapKind::face, 0, false)).face.value;
      return holds_where_measured(face, of_.asked.face);
    };
    if (!holds(0)) return 0;
    for (double good = 0; good < most;) {
      const double in_hand = closest - std::max(of_.asked.closest, of_.asked.face);
      const double next = std::min(most, good + std::fmax(kLiftStep, in_hand));
      if (!holds(next)) return bisect(good, next, holds);
      good = next;
    }
    return most;
  }

  template <class Holds>
  static double bisect(double good, double bad, const Holds& holds) {
    while (bad - good > kLiftTolerance) {
      const double middle = 0.5 * (good + bad);
      (holds(middle) ? good : bad) = middle;
    }
    return good;
  }

  const ValveSetup& of_;
  double crown_top_ = -INFINITY, near_ = 0, below_centre_ = 0;
};

}  // namespace

void fill_drop_table(const Setup& setup, std::vector<ValveResult>& valves, Pacer& pacer) {
  for (std::size_t valve = 0; valve < valves.size(); ++valve) {
    const LiftLimit limit(setup, static_cast<int>(valve));
    Series& series = valves[valve].series;
    const std::size_t count = series.crank.size();
    std::vector<Pose> seats;
    for (double crank : series.crank) seats.push_back({setup.motion.height(crank), 0});
    const Distinct distinct = distinct_poses(seats);
    std::vector<double> travel(distinct.samples.size(), NAN), greatest(travel);
    run_tasks(travel.size(), kChunk, pacer,
              kDropUnits * static_cast<double>(count) / static_cast<double>(travel.size()), [&](std::size_t i) {
                const Pose& seat = seats[distinct.samples[i]];
                travel[i] =
                    setup.valves[valve].to_piston.gaps(seat, request_for(GapKind::travel, 0, false)).travel.value;
                if (limit.matters(seat.height)) greatest[i] = limit.find(seat.height, travel[i]);
              });
    for (std::size_t i = 0; i < count; ++i) {
      series.drop_travel.push_back(travel[distinct.query[i]]);
      series.greatest_lift.push_back(greatest[distinct.query[i]]);
    }
  }
}

}  // namespace eyebrow::study
