// How far each place of the crown is from the nearest valve.
#pragma once
#include <memory>
#include <vector>

#include "eyebrow/crown.hpp"
#include "study/setup.hpp"

namespace eyebrow::scene {

/// The crown as it is drawn in one colour.
Crown plain_crown(const Parts& parts);
/// The same, fine enough to be coloured by its points. The same for the same parts.
Crown colored_crown(const Parts& parts);

/// Distances of the points of `crown`'s upper side, signed; NaN elsewhere. Those beyond kFarthest are told as that.
class CrownDistances {
 public:
  static constexpr float kFarthest = 10;  ///< mm; above the last band's bound

  /// All must outlive it.
  CrownDistances(const study::Setup& setup, const Crown& crown);
  ~CrownDistances();
  /// No valve anywhere near.
  std::vector<float> beyond() const;
  /// Lowers each distance to the one at this crank angle where that is less. A point that cannot have come nearer
  /// since it was looked at last is not looked at.
  void lower(std::vector<float>& distances, double crank);

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace eyebrow::scene
