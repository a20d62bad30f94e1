#include "study/any_lifts.hpp"

#include <algorithm>
#include <queue>

#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

struct LiftsCell {
  double first_from, first_to, second_from, second_to;
  double bound;
};

class LiftsSearch {
 public:
  LiftsSearch(const ValvePair& pair, Vec3 first_up, Vec3 second_up)
      : pair_(pair), first_up_(first_up), second_up_(second_up) {}

  AnyLiftsLeast run(double first_greatest, double second_greatest) {
    push({0, first_greatest, 0, second_greatest, 0});
    double proven = INFINITY;
    for (int halved = 0; !queue_.empty(); ++halved) {
      const LiftsCell top = queue_.top();
      proven = top.bound;
      if (best_.value < 0 || top.bound >= best_.value - kPoseBall - kCoarseTolerance || halved >= kMostHalvings) break;
      queue_.pop();
      halve(top);
      proven = best_.value - kPoseBall;
    }
    best_.proven = std::min(proven, best_.value - kPoseBall);
    return best_;
  }

 private:
  double ask(double first, double second) {
    const double value = pair_.gap(first, second, false).value;
    if (std::isnan(best_.value) || value < best_.value) best_ = {value, NAN, first, second};
    return value;
  }

  /// The first valve's places as the second sees them: a parallelogram, none of it further from the nearest corner than
  /// half its longer diagonal.
  void push(LiftsCell cell) {
    double least = INFINITY;
    for (const double first : {cell.first_from, cell.first_to})
      for (const double second : {cell.second_from, cell.second_to}) least = std::min(least, ask(first, second));
    const Vec3 along = (cell.first_to - cell.first_from) * first_up_;
    const Vec3 beside = (cell.second_to - cell.second_from) * second_up_;
    const double across = std::max(norm(along + beside), norm(along - beside));
    double below = across / 2;
    const double apart = least - across / 2;
    if (apart > 0) below = std::min(below, across * across / (8 * apart));
    cell.bound = least - below - kPoseBall;
    queue_.push(cell);
  }

  void halve(const LiftsCell& cell) {
    const double first = 0.5 * (cell.first_from + cell.first_to), second = 0.5 * (cell.second_from + cell.second_to);
    if (cell.first_to - cell.first_from > cell.second_to - cell.second_from) {
      push({cell.first_from, first, cell.second_from, cell.second_to, 0});
      push({first, cell.first_to, cell.second_from, cell.second_to, 0});
    } else {
      push({cell.first_from, cell.first_to, cell.second_from, second, 0});
      push({cell.first_from, cell.first_to, second, cell.second_to, 0});
    }
  }

  struct After {
    bool operator()(const LiftsCell& a, const LiftsCell& b) const {
      if (a.bound != b.bound) return a.bound > b.bound;
      return a.first_from != b.first_from ? a.first_from > b.first_from : a.second_from > b.second_from;
    }
  };

  const ValvePair& pair_;
  Vec3 first_up_, second_up_;
  std::priority_queue<LiftsCell, std::vector<LiftsCell>, After> queue_;
  AnyLiftsLeast best_;
};

}  // namespace

AnyLiftsLeast least_at_any_lifts(const ValvePair& pair, Vec3 first_up, Vec3 second_up, double first_greatest,
                                 double second_greatest) {
  return LiftsSearch(pair, first_up, second_up).run(first_greatest, second_greatest);
}

}  // namespace eyebrow::study
