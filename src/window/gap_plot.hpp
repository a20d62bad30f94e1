// Gaps against crank angle, a panel a valve, with the cursor that turns the crank.
#pragma once
#include <QWidget>
#include <optional>
#include <vector>

#include "eyebrow/report.hpp"
#include "report/plot_axis.hpp"
#include "report/plot_curve_data.hpp"
#include "window/shown_result.hpp"

namespace eyebrow::window {

class GapPlot : public QWidget {
  Q_OBJECT

 public:
  explicit GapPlot(QWidget* parent = nullptr);
  /// The angles and gaps in sight stay while an edit is followed, and are chosen anew by a check, unless the user has
  /// chosen them.
  void show_result(const ShownResult& shown, const Format& format);
  void show_cursor(double crank);
  /// The valve whose panel is shown where there are too many for all; -1: all of them.
  void show_valve(int valve);
  void show_whole_cycle(bool whole);
  bool whole_cycle() const { return whole_; }
  void zoom(double factor);

  /// Places in the widget, for those who click by program.
  std::size_t panels() const { return panels_.size(); }
  QPointF place_of(std::size_t panel, double crank, double gap_mm) const;
  double least_shown(std::size_t panel, GapKind kind) const;  ///< of the curve, mm; NaN = none
  plot::Range cranks() const { return cranks_; }              ///< degrees
  QSize sizeHint() const override { return {700, 240}; }
  QSize minimumSizeHint() const override { return {260, 150}; }

 Q_SIGNALS:
  void dragged(double crank);
  /// Near a marked least: valve (into CheckResult::valves) and its crank angle.
  void least_chosen(int valve, double crank);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseDoubleClickEvent(QMouseEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;

 private:
  struct Panel {
    std::size_t valve;  ///< into data_
    QRectF frame;
    plot::Axis crank, gap;
  };
  void choose_ranges();
  void lay_out();
  void drag(const QPointF& to);
  void draw_panel(QPainter& painter, const Panel& panel) const;
  void draw_heading(QPainter& painter, const Panel& panel) const;
  void draw_scales(QPainter& painter, const Panel& panel) const;
  void draw_curves(QPainter& painter, const Panel& panel) const;
  void draw_marks(QPainter& painter, const Panel& panel) const;
  void draw_cursor(QPainter& painter, const Panel& panel) const;
  void draw_legend(QPainter& painter) const;

  ShownResult shown_;
  Format format_;
  std::vector<plot::CurveData> data_;
  plot::Range cranks_{-60, 60}, gaps_{0, 3};
  bool whole_ = false, own_range_ = false;
  int valve_ = -1;
  double cursor_ = 0;  ///< radians
  std::vector<PoseGaps> at_cursor_;
  std::vector<Panel> panels_;
};

}  // namespace eyebrow::window
