// Flanks of lobes as lobes are made, to see which lifts a cam card leaves open.
#pragma once
#include <array>
#include <vector>

namespace eyebrow::motion {

/// One flank from the nose (u = 0, lift 1) outward to the base circle (u = 1, lift 0), where it ends without velocity
/// or acceleration. Its acceleration is linear between equally spaced nodes: negative over the nose, then positive to
/// where a ramp of constant velocity begins, and positive once more where that ramp ends. So the lift falls all the
/// way.
class KnownFlank {
 public:
  static constexpr int kNodes = 97;
  using Nodes = std::array<double, kNodes>;

  /// From an acceleration whose negative and positive parts are still to be scaled so that the flank closes, and the
  /// acceleration at the end of its ramp as it is.
  /// Not `good()` where no positive factors close it.
  KnownFlank(const Nodes& shape, const Nodes& ramp_end);
  bool good() const { return good_; }

  /// 1 within the nose, 0 beyond the base circle.
  double lift(double u) const;
  /// Where the lift is `height`, 0 < height < 1.
  double place(double height) const;
  double greatest_acceleration() const;  ///< above zero
  double least_acceleration() const;     ///< below zero

 private:
  Nodes acceleration_{}, velocity_{}, lift_{};
  bool good_ = false;
};

/// A few hundred flanks, always the same ones, made at the first call: the acceleration laws of the cam handbooks
/// (harmonic, cycloidal, 3-4-5, 4-5-6-7, modified sine, modified trapezoid: their names fix them; VDI 2143),
/// polynomials with even powers from 4 to 40, and pulses put together from a nose, a fall and a plateau of random
/// lengths; each with ramps as the trade grinds them. The greatest accelerations among them, over lift / (half duration
/// above an eighth of the lift)^2, are kSharpestNose and kSharpestFlank; flanks that go beyond are left out. The
/// handbook laws of rise and return, whose peak factors are published (4 to 7.52 over the whole rise), lie within.
const std::vector<KnownFlank>& known_flanks();

}  // namespace eyebrow::motion
