// Numbers and places as words: what text, CSV and JSON share.
#pragma once
#include <string>

#include "eyebrow/report.hpp"

namespace eyebrow {

/// Writes the lengths of one report, in its unit and with its decimals. Arguments in mm; a length that is not a
/// finite number becomes the empty string.
class Lengths {
 public:
  explicit Lengths(const Format& format);

  /// A gap, a margin, or a lift that is allowed: rounded down, so that no more is claimed than there is. What is
  /// below zero never prints as zero.
  std::string gap(double mm) const;
  /// A gap that is asked for, or the upper end of an interval: rounded up.
  std::string required(double mm) const;
  /// What claims nothing (a lift, a depth): rounded to nearest.
  std::string plain(double mm) const;
  /// Where something is: to nearest, one decimal fewer.
  std::string place(double mm) const;
  /// In the report's unit, not rounded: for a plot's scale.
  double shown(double mm) const { return mm * per_mm_; }
  /// A volume of mm3 with its unit, to three figures: "12.3 mm3", "0.000751 in3".
  std::string volume(double mm3) const;
  /// By how much a volume may be off: to one figure, rounded up.
  std::string volume_error(double mm3) const;
  /// "mm" or "in".
  const char* unit() const { return unit_; }
  /// "mm" or "inches".
  const char* unit_in_full() const { return per_mm_ == 1 ? "mm" : "inches"; }

 private:
  double per_mm_;
  int digits_;
  const char* unit_;
};

/// "4:30 o'clock", to the nearest quarter of an hour. `hours` in 0 ... 12, finite.
std::string clock_text(double hours);

/// An angle in radians as degrees, rounded to nearest, without trailing zeros: "1", "0.5".
std::string degrees_text(double radians);

/// A cam's position: "unmoved", "advanced 4 deg" or "retarded 2.5 deg"; radians of crank.
std::string advance_text(double advance);

/// "found: none" in a word that a program can rely on.
const char* to_word(GapStatus status);

}  // namespace eyebrow
