// One valve's panel of the plot of gaps against crank angle.
#pragma once
#include <fmt/format.h>

#include <optional>
#include <string>
#include <vector>

#include "plot_curve_data.hpp"
#include "plot_curves.hpp"
#include "plot_labels.hpp"

namespace eyebrow::plot {

inline constexpr double kCurvesRight = 668;  ///< of the frames
inline constexpr double kMarkSize = 10;
/// Rows of the list beside a panel, and what a row of the running engine adds.
inline constexpr double kListRow = 43, kListRunning = 13;

class DrawnPanel {
 public:
  DrawnPanel(Page& page, const Lengths& lengths, CurvePanel panel, const CurveData& data)
      : page_(page), lengths_(lengths), panel_(std::move(panel)), data_(data), labels_(panel_.frame.grown(-3)) {}
  /// `last`: with the crank axis's title. The steps are those between ticks, in the report's unit.
  void draw(bool last, double gap_step, double light_step);

 private:
  void ground();
  void light_lines();
  void asked_lines();
  void gap_lines();
  void find_marks();
  void place_label(std::size_t i);
  void marks();
  void open_by_card(std::size_t kind, double x);
  void list();
  void light_axis(double gap_step, double light_step);

  double gap_place(double mm) const { return panel_.gap.place(lengths_.shown(mm)); }
  std::vector<std::vector<Place>> pieces(const std::vector<double>& mm, const Axis& axis) const;
  void polyline(const std::vector<double>& mm, const Axis& axis, const Stroke& stroke, double price);
  std::string point_text(const Tightest& of) const {
    return fmt::format("{} {} at {}", lengths_.gap(of.judged), lengths_.unit(), crank_text(of.crank * kDegree));
  }

  Page& page_;
  const Lengths& lengths_;
  CurvePanel panel_;
  const CurveData& data_;
  Labels labels_;
  struct Mark {
    std::size_t kind;
    Place at, judged;
    std::string text, label_text = {};
    std::optional<Box> label = {};
  };
  std::vector<Mark> marks_;
};

}  // namespace eyebrow::plot
