// How all plots look: sizes, colours, dashes. Every pair of line styles differs in dash, in hue and in how light it
// is, so that they can be told apart in a grey print and by the colour-blind.
#pragma once
#include <array>
#include <string>

#include "plot_page.hpp"

namespace eyebrow::plot {

inline constexpr double kPageWidth = 1000, kPageHeight = 700, kMargin = 28;
inline constexpr double kTitleSize = 19, kTextSize = 12.5, kSmallSize = 11.5;

inline constexpr Ink kBlack{0.1, 0.1, 0.1}, kGrey{0.42, 0.42, 0.42}, kPale{0.85, 0.85, 0.85}, kFaint{0.93, 0.93, 0.93};
inline constexpr Ink kOverlap{0.96, 0.86, 0.83};       ///< ground below zero
inline constexpr Ink kOverlapLines{0.78, 0.55, 0.50};  ///< hatched over it
inline constexpr Ink kShort{0.35, 0.35, 0.35};         ///< hatched where something asked is short

struct LineStyle {
  Ink ink;
  std::vector<double> dash;
  Shape shape;
};

/// Four, from the darkest to the lightest. In the order of kGapKinds they are the gaps'.
inline const std::array<LineStyle, 4> kLineStyles = {{
    {{0.09, 0.16, 0.42}, {}, Shape::circle},                // navy, drawn through
    {{0.82, 0.45, 0.06}, {12, 4}, Shape::square},           // ochre, long dashes
    {{0.05, 0.50, 0.47}, {2.5, 3}, Shape::triangle},        // sea green, dots
    {{0.62, 0.10, 0.36}, {10, 3, 2.5, 3}, Shape::diamond},  // wine red, dash and dot
}};

/// How light an ink is, 0 = black ... 1 = white: relative luminance as WCAG 2.1 defines it.
double luminance(Ink ink);

}  // namespace eyebrow::plot
