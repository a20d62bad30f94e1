// What stands to the right of a panel of curves: the scale of lift and depth, and the list of its lines.
#include <algorithm>
#include <cmath>

#include "plot_curve_panel.hpp"
#include "plot_frame.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kColumn = 742;  // where the list begins

}  // namespace

/// What is what, and the tightest point of each in numbers.
void DrawnPanel::list() {
  const double width = kPageWidth - kMargin - kColumn;
  const double sample = 40, text_left = kColumn + sample + 8, text_width_left = width - sample - 8;
  double y = panel_.frame.top + 10;
  for (std::size_t k = 0; k < 4; ++k) {
    const Tightest& of = data_.tightest[k];
    const LineStyle& style = kLineStyles[k];
    page_.line({{kColumn, y - 4}, {kColumn + sample, y - 4}}, {style.ink, 2.2, style.dash});
    page_.mark(style.shape, {kColumn + sample / 2, y - 4}, kMarkSize, style.ink);
    const std::string name = to_string(kGapKinds[k]);
    const Box title = page_.text(name, {text_left, y}, {kTextSize, true});
    if (!of.mark.empty()) page_.text(of.mark, {title.right + 10, y}, {kTextSize, of.mark != "holds", kBlack});
    const Lettering small{kSmallSize, false, kBlack};
    const std::string found = of.found ? point_text(of) : "none: " + of.reason;
    page_.text(fitted(found, kSmallSize, text_width_left), {text_left, y + 14}, small);
    const auto asked_text = [&](double asked) {
      return std::isnan(asked) ? std::string("none asked")
                               : fmt::format("asked {} {}", lengths_.required(asked), lengths_.unit());
    };
    page_.text(asked_text(of.asked), {text_left, y + 27}, small);
    y += kListRow;
    if (std::isnan(of.running)) continue;
    page_.text(fitted("running " + lengths_.gap(of.running) + ", " + asked_text(of.running_asked), kSmallSize,
                      text_width_left),
               {text_left, y - kListRow + 40}, small);
    y += kListRunning;
  }
  const Stroke lift{{0.62, 0.62, 0.62}, 1.6}, depth{{0.62, 0.62, 0.62}, 1.6, {4, 3}};
  const Lettering grey{kSmallSize, false, kGrey};
  page_.line({{kColumn, y - 4}, {kColumn + sample, y - 4}}, lift);
  page_.text("valve lift", {text_left, y}, grey);
  y += 15;
  page_.line({{kColumn, y - 4}, {kColumn + sample, y - 4}}, depth);
  page_.text("piston depth below deck", {text_left, y}, grey);
}

/// The right side: a number of lift at every tick of the gaps, as both have their zero at the same height.
void DrawnPanel::light_axis(double gap_step, double light_step) {
  const Box& frame = panel_.frame;
  const Lettering numbers{kSmallSize, false, kGrey, Anchor::left};
  double widest = 0;
  for (const double tick : ticks({panel_.gap.from, panel_.gap.to}, gap_step)) {
    const double y = panel_.gap.place(tick);
    page_.line({{frame.right, y}, {frame.right + 5, y}}, {kGrey, 1});
    const std::string number = tick_text(tick / gap_step * light_step, light_step);
    widest = std::fmax(widest, page_.text(number, {frame.right + 8, y + 0.36 * kSmallSize}, numbers).width());
  }
  page_.text(fmt::format("lift, depth ({})", lengths_.unit()),
             {frame.right + std::fmax(46, 8 + widest + 4 + kSmallSize), (frame.top + frame.bottom) / 2},
             {kSmallSize, false, kGrey, Anchor::middle, false, false});
}

}  // namespace eyebrow::plot
