// What a plot of gaps against crank angle shows of a result: which angles, how far up and down, which marks.
#pragma once
#include <string>
#include <vector>

#include "plot_axis.hpp"
#include "words.hpp"

namespace eyebrow::plot {

/// The tightest point of one kind of gap, as the report judges it. Lengths in mm, angles in degrees.
struct Tightest {
  bool found = false;
  double crank = NAN, middle = NAN;           ///< on the curve of the lobe's middle
  double judged = NAN;                        ///< the least that is judged: what the report calls found
  double open_least = NAN, open_most = NAN;   ///< what the lobe's card leaves open; NaN = nothing
  double asked = NAN;                         ///< NaN = not asked
  double running = NAN, running_asked = NAN;  ///< of the running engine; NaN = not stated, not asked
  std::string mark;                           ///< "holds", "SHORT", "CONTACT" or nothing
  std::string reason;                         ///< why there is none
};

/// One valve's panel.
struct CurveData {
  std::string name;  ///< "intake", "intake_front", "front (intake)"
  const Series* series = nullptr;
  std::vector<double> degrees;  ///< of the series
  std::vector<double> gaps[4];  ///< in the order of kGapKinds; NaN = none
  Tightest tightest[4];
};

/// Throws Error where no valve is called `valve`; empty = all.
std::vector<CurveData> curve_data(const CheckResult& result, const std::string& valve);

/// The gaps that are shown, mm: from below zero, if only by a little, to well above what is asked and found.
Range gap_range(const std::vector<CurveData>& panels);
/// The crank angles that are shown, degrees: those around overlap TDC at which some gap of some panel is within the
/// range, and the tightest points there; whole fives.
Range crank_range(const std::vector<CurveData>& panels, const Range& gaps);

/// The verdict with its tightest row, and the conditions it stands under.
std::vector<std::string> curves_subtitle(const CheckResult& result, const Lengths& lengths);
/// What the marks are that do not lie on the lines, which do not lie in the picture, and the caution.
std::vector<std::string> curves_notes(const CheckResult& result, const std::vector<CurveData>& panels,
                                      const Range& cranks, const Lengths& lengths);

}  // namespace eyebrow::plot
