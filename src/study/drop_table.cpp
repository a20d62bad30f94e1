#include "study/drop_table.hpp"

#include <algorithm>
#include <cmath>

#include "study/distinct.hpp"
#include "study/sweep.hpp"
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
    const double most = std::isnan(drop_travel) ? of_.peak_lift : drop_travel - of_.asked.travel;
    if (most < 0) return 0;
    double good = 0;
    PoseGaps gaps = query(height, 0);
    if (!holds(gaps)) return 0;
    while (good < most) {
      // A face or radial gap is a line between the two solids (radial's from a rim up to `reach` further on), so none
      // is shorter than closest, and closest falls no faster than the lift grows.
      const double clear = gaps.closest.value - near_ - of_.asked.reach;
      const double next = std::min(most, good + std::max(kLiftStep, std::isnan(clear) ? 0 : clear));
      gaps = query(height, next);
      if (!holds(gaps)) return bisect(height, good, next);
      good = next;
    }
    return most;
  }

 private:
  PoseGaps query(double height, double lift) const {
    return of_.to_piston.gaps({height, lift}, {false, true, true, true, false, of_.asked.reach});
  }
  bool holds(const PoseGaps& gaps) const {
    return holds_where_measured(gaps.face.value, of_.asked.face) &&
           holds_where_measured(gaps.radial.value, of_.asked.radial) &&
           holds_where_measured(gaps.closest.value, of_.asked.closest);
  }
  double bisect(double height, double good, double bad) const {
    while (bad - good > kLiftTolerance) {
      const double middle = 0.5 * (good + bad);
      (holds(query(height, middle)) ? good : bad) = middle;
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
