// [tolerance] of the engine file: how far the part that will be made, or the next of its kind, may be from the number
// that the file states. What a reading may be off is another thing: Origin::error.
#pragma once
#include <string>

namespace eyebrow {

/// Of one number of the file. Lengths in mm, angles in radians, others in the inner unit of the number. In the file a
/// bare one is in the file's default unit (degrees for an angle), whatever unit its number was given in.
///
/// A number that another table takes over by `like` moves with this one, unless it has a tolerance of its own: then the
/// two move apart, so a stack writes every number that has a tolerance, moved or not.
struct Tolerance {
  enum class Shape {
    uniform,     ///< anywhere within the number -+ plus_minus, every place as likely
    triangular,  ///< within the number -+ plus_minus, likeliest in the middle, falling straight to 0 at both ends
    normal,      ///< with this standard deviation; cut off at -+ plus_minus where that is above 0
  };

  std::string key;  ///< dotted, of a number that the file states
  Shape shape = Shape::uniform;
  /// Half-width. Of a normal one: the file states it, and `deviation` is a third of it (common practice: a drawing's
  /// tolerance taken as three standard deviations); 0 = the file states the deviation, and it has no end.
  double plus_minus = 0;
  double deviation = 0;  ///< of a normal one, before it is cut off (which leaves 0.987 of it); else 0
  /// Those that share a name move together: each stands at the same quantile of its own shape, so that of one shape
  /// each has gone the same share of its plus_minus (or deviation), all in the positive direction or all in the
  /// negative. Empty: on its own.
  std::string shared = {};

  /// How far the worst case goes, either way: to the end; of a normal one without an end 3 deviations, beyond which
  /// lies one part in 370.
  double worst() const { return plus_minus > 0 ? plus_minus : 3 * deviation; }
};

const char* to_string(Tolerance::Shape shape);

}  // namespace eyebrow
