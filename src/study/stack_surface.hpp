// One least gap over the places within the tolerances, from a few engines that were computed exactly.
#pragma once
#include <cmath>
#include <vector>

#include "study/stack_branches.hpp"

namespace eyebrow::study {

/// f0 + what each driver alone does + what two together do beyond that. Each driver's own part is a parabola on either
/// side of the stated number, as gaps often bend sharply there (a rim that touches on its one side or its other); of a
/// pair it is bilinear in each quarter. What three do together is left out, and shows in the residual. Where that is
/// too much, branches take its place.
class StackSurface {
 public:
  StackSurface() = default;
  StackSurface(double nominal, std::size_t drivers) : nominal_(nominal), sides_(drivers) {}

  /// From the gap with this driver alone halfway (`half`) and all the way (`end`) to `reach` on that side.
  void set_side(std::size_t driver, bool up, double reach, double half, double end);
  /// From the gap with both at places other than 0.
  void set_pair(std::size_t one, double at_one, std::size_t other, double at_other, double gap);

  /// Told from these from now on, but for what a driver does alone.
  void set_branches(StackBranches branches) { branches_ = std::move(branches); }

  double at(const double* point) const;
  double at(const StackPoint& point) const { return at(point.data()); }
  /// Change by this driver alone.
  double alone(std::size_t driver, double place) const;
  /// Does the driver do anything to speak of?
  bool matters(std::size_t driver) const { return sides_[driver].matters; }

 private:
  struct Side {
    double slope[2] = {0, 0}, bend[2] = {0, 0};  ///< down, up
    bool matters = false;
  };
  struct Pair {
    std::size_t one, other;
    double by[4];  ///< both down, one up, other up, both up
  };
  double nominal_ = NAN;
  std::vector<Side> sides_;
  std::vector<Pair> pairs_;
  StackBranches branches_;
};

}  // namespace eyebrow::study
