#include "window/gap_plot.hpp"

#include <QMouseEvent>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "report/plot_look.hpp"
#include "report/words.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr double kLeft = 46, kRight = 16, kTop = 18, kLine = 14, kBottom = 30, kLegend = 20;
constexpr double kNarrowest = 220;  ///< of a panel
constexpr double kWords = 340;      ///< of its frame: the numbers have their names
constexpr double kOneLine = 580;    ///< a panel of this width has its numbers beside its name, another below it
constexpr double kWholeCycle = 360;
constexpr double kNearMark = 12;  // pixels
constexpr double kJudged = 6;     ///< half the bar at a gap that is judged

QColor color(const plot::Ink& ink) {
  return QColor::fromRgbF(ink.red, ink.green, ink.blue);
}

QPen pen(const plot::LineStyle& style, double width) {
  QPen out(color(style.ink), width);
  out.setCapStyle(Qt::FlatCap);
  if (!style.dash.empty()) {
    QVector<qreal> dash;
    for (const double each : style.dash) dash << each / width;  // Qt counts in pen widths
    out.setDashPattern(dash);
  }
  return out;
}

void mark(QPainter& painter, plot::Shape shape, QPointF at, double size, const QColor& ink) {
  QPainterPath path;
  switch (shape) {
    case plot::Shape::circle:
      path.addEllipse(at, size, size);
      break;
    case plot::Shape::square:
      path.addRect(at.x() - size, at.y() - size, 2 * size, 2 * size);
      break;
    case plot::Shape::triangle:
      path.addPolygon(QPolygonF{
          {{at.x(), at.y() - 1.2 * size}, {at.x() + 1.2 * size, at.y() + size}, {at.x() - 1.2 * size, at.y() + size}}});
      path.closeSubpath();
      break;
    default:
      path.addPolygon(QPolygonF{{{at.x(), at.y() - 1.3 * size},
                                 {at.x() + 1.3 * size, at.y()},
                                 {at.x(), at.y() + 1.3 * size},
                                 {at.x() - 1.3 * size, at.y()}}});
      path.closeSubpath();
      break;
  }
  painter.setPen(QPen(Qt::white, 1.5));
  painter.setBrush(ink);
  painter.drawPath(path);
  painter.setBrush(Qt::NoBrush);
}

}  // namespace

GapPlot::GapPlot(QWidget* parent) : QWidget(parent) {
  setFocusPolicy(Qt::StrongFocus);
  setCursor(Qt::CrossCursor);
  setAccessibleName(tr("Gaps against crank angle"));
}

void GapPlot::show_result(const ShownResult& shown_result, const Format& format) {
  shown_ = shown_result;
  format_ = format;
  data_ = shown_.result ? plot::curve_data(*shown_.result, "") : std::vector<plot::CurveData>();
  choose_ranges();
  lay_out();
  show_cursor(cursor_);
}

void GapPlot::choose_ranges() {
  if (shown_.certainty == Certainty::checked) {
    gaps_ = plot::gap_range(data_);
    if (!own_range_ && !whole_) cranks_ = plot::crank_range(data_, gaps_);
  }
  // An edit may have brought the parts into each other: nothing below zero may stay out of sight.
  for (const plot::CurveData& curves : data_)
    for (const auto& gap : curves.gaps)
      for (const double value : gap)
        if (value < gaps_.from) gaps_.from = 1.12 * value;
  if (whole_) cranks_ = {-kWholeCycle, kWholeCycle};
}

void GapPlot::lay_out() {
  panels_.clear();
  const bool one = valve_ >= 0 && static_cast<std::size_t>(valve_) < data_.size();
  const std::size_t first = one ? static_cast<std::size_t>(valve_) : 0, count = one ? 1 : data_.size();
  if (count == 0) return;
  const auto fit = static_cast<std::size_t>(std::max(1.0, width() / kNarrowest));
  const std::size_t beside = std::min(count, fit), rows = (count + beside - 1) / beside;
  const double wide = static_cast<double>(width()) / static_cast<double>(beside);
  const double high = (height() - kLegend) / static_cast<double>(rows);
  const double per_mm = Lengths(format_).shown(1);
  for (std::size_t i = 0; i < count; ++i) {
    const double left = wide * static_cast<double>(i % beside), top = kLegend + high * static_cast<double>(i / beside);
    Panel panel;
    panel.valve = first + i;
    const double above = wide < kOneLine ? kTop + kLine : kTop;
    panel.frame = QRectF(left + kLeft, top + above, std::max(10.0, wide - kLeft - kRight),
                         std::max(10.0, high - above - kBottom));
    panel.crank = {cranks_.from, cranks_.to, panel.frame.left(), panel.frame.right()};
    panel.gap = {gaps_.from * per_mm, gaps_.to * per_mm, panel.frame.bottom(), panel.frame.top()};
    panels_.push_back(panel);
  }
}

void GapPlot::show_cursor(double crank) {
  cursor_ = crank;
  at_cursor_.clear();
  if (shown_.ready)
    for (std::size_t i = 0; i < data_.size(); ++i) at_cursor_.push_back(shown_.ready->gaps(static_cast<int>(i), crank));
  // The cursor is never out of sight.
  const double degrees = crank / kDegree;
  if (degrees < cranks_.from || degrees > cranks_.to) {
    const double width = cranks_.to - cranks_.from;
    const double from = std::clamp(degrees - width / 2, -kWholeCycle, kWholeCycle - width);
    cranks_ = {from, from + width};
    lay_out();
  }
  update();
}

void GapPlot::show_valve(int valve) {
  valve_ = valve;
  lay_out();
  update();
}

void GapPlot::show_whole_cycle(bool whole) {
  whole_ = whole;
  own_range_ = false;
  if (!whole && !data_.empty()) cranks_ = plot::crank_range(data_, gaps_);
  choose_ranges();
  lay_out();
  show_cursor(cursor_);
}

void GapPlot::zoom(double factor) {
  const double middle = cursor_ / kDegree,
               width = std::clamp((cranks_.to - cranks_.from) * factor, 6.0, 2 * kWholeCycle);
  const double share = (middle - cranks_.from) / (cranks_.to - cranks_.from);
  const double from = std::clamp(middle - share * width, -kWholeCycle, kWholeCycle - width);
  cranks_ = {from, from + width};
  own_range_ = true;
  whole_ = false;
  lay_out();
  update();
}

QPointF GapPlot::place_of(std::size_t panel, double crank, double gap_mm) const {
  const Panel& at = panels_.at(panel);
  return {at.crank.place(crank / kDegree), at.gap.place(Lengths(format_).shown(gap_mm))};
}

double GapPlot::least_shown(std::size_t panel, GapKind kind) const {
  double least = NAN;
  for (const double value : data_.at(panels_.at(panel).valve).gaps[static_cast<std::size_t>(kind)])
    least = std::fmin(least, value);
  return least;
}

void GapPlot::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), Qt::white);
  if (data_.empty()) {
    painter.setPen(color(plot::kGrey));
    painter.drawText(rect(), Qt::AlignCenter, tr("Gaps against crank angle stand here when there is an engine."));
    return;
  }
  draw_legend(painter);
  for (const Panel& panel : panels_) draw_panel(painter, panel);
}

void GapPlot::draw_legend(QPainter& painter) const {
  double x = kLeft;
  for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
    const plot::LineStyle& style = plot::kLineStyles[k];
    painter.setPen(pen(style, 2));
    painter.drawLine(QPointF(x, 11), QPointF(x + 32, 11));
    mark(painter, style.shape, {x + 16, 11}, 3.2, color(style.ink));
    painter.setPen(color(plot::kBlack));
    const QString name = to_string(kGapKinds[k]);
    painter.drawText(QPointF(x + 38, 15), name);
    x += 38 + painter.fontMetrics().horizontalAdvance(name) + 18;
  }
  painter.setPen(color(plot::kGrey));
  QString note = tr("thin line: asked; bar: what is judged");
  if (shown_.stale)
    note = tr("OF THE LAST GOOD NUMBERS");
  else if (shown_.certainty == Certainty::sampled)
    note = tr("sampled; being checked");
  painter.drawText(QPointF(x, 15), note);
}

void GapPlot::draw_panel(QPainter& painter, const Panel& panel) const {
  if (const double zero = panel.gap.place(0); zero < panel.frame.bottom()) {
    const QRectF below(panel.frame.left(), std::max(zero, panel.frame.top()), panel.frame.width(),
                       panel.frame.bottom() - std::max(zero, panel.frame.top()));
    painter.fillRect(below, color(plot::kOverlap));
    painter.fillRect(below, QBrush(color(plot::kOverlapLines), Qt::BDiagPattern));
  }
  draw_scales(painter, panel);
  painter.save();
  painter.setClipRect(panel.frame.adjusted(-1, -1, 1, 1));
  if (shown_.stale) painter.setOpacity(0.35);
  draw_curves(painter, panel);
  draw_marks(painter, panel);
  painter.setOpacity(1);
  draw_cursor(painter, panel);
  painter.restore();
  painter.setPen(QPen(color(plot::kBlack), 1));
  painter.drawRect(panel.frame);

  draw_heading(painter, panel);
}

void GapPlot::draw_heading(QPainter& painter, const Panel& panel) const {
  const bool narrow = panel.frame.width() + kLeft + kRight < kOneLine;
  const Lengths lengths(format_);
  const double below = panel.frame.top() - 5;
  double x = panel.frame.left();
  painter.save();
  QFont bold = painter.font();
  bold.setBold(true);
  painter.setFont(bold);
  painter.setPen(color(plot::kBlack));
  const QString name = painter.fontMetrics().elidedText(shown(data_[panel.valve].name), Qt::ElideRight,
                                                        static_cast<int>(panel.frame.width() - 68));
  painter.drawText(QPointF(x, narrow ? below - kLine : below), name);
  double behind = x + painter.fontMetrics().horizontalAdvance(name) + 10;
  painter.restore();
  // The gaps where the crank stands: in words where there is room, else in the order and inks of the legend.
  if (panel.valve >= at_cursor_.size()) return;
  const auto write = [&](const QString& text, double& at, double y, const QColor& ink) {
    painter.setPen(ink);
    painter.drawText(QPointF(at, y), text);
    at += painter.fontMetrics().horizontalAdvance(text) + 9;
  };
  write(shown(crank_text(cursor_)), behind, narrow ? below - kLine : below, color(plot::kBlack));
  double& at = narrow ? x : behind;
  const bool in_words = !narrow || panel.frame.width() > kWords;
  for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
    const Gap& gap = at_cursor_[panel.valve][kGapKinds[k]];
    const QString number = gap.measured() ? shown(lengths.gap(gap.value)) : tr("none");
    write(!in_words ? number : QString("%1 %2").arg(to_string(kGapKinds[k]), number), at, below,
          color(plot::kLineStyles[k].ink));
  }
}

void GapPlot::draw_scales(QPainter& painter, const Panel& panel) const {
  const QFontMetricsF letters(painter.font());
  const double crank_step =
      plot::tick_step(panel.crank.to - panel.crank.from, std::max(2, int(panel.frame.width() / 45)));
  for (const double degrees : plot::ticks({panel.crank.from, panel.crank.to}, crank_step)) {
    const double x = panel.crank.place(degrees);
    painter.setPen(QPen(color(plot::kFaint), 1));
    painter.drawLine(QPointF(x, panel.frame.top()), QPointF(x, panel.frame.bottom()));
    painter.setPen(color(plot::kGrey));
    const QString text = degrees == 0 ? tr("TDC") : shown(plot::tick_text(std::fabs(degrees), crank_step));
    painter.drawText(QPointF(x - letters.horizontalAdvance(text) / 2, panel.frame.bottom() + 13), text);
  }
  painter.drawText(QPointF(panel.frame.left(), panel.frame.bottom() + 26), tr("BTDC"));
  const QString after = tr("crank degrees, ATDC");
  painter.drawText(QPointF(panel.frame.right() - letters.horizontalAdvance(after), panel.frame.bottom() + 26), after);
  const double gap_step = plot::tick_step(panel.gap.to - panel.gap.from, std::max(2, int(panel.frame.height() / 32)));
  for (const double value : plot::ticks({panel.gap.from, panel.gap.to}, gap_step)) {
    const double y = panel.gap.place(value);
    painter.setPen(QPen(color(value == 0 ? plot::kBlack : plot::kFaint), 1));
    painter.drawLine(QPointF(panel.frame.left(), y), QPointF(panel.frame.right(), y));
    painter.setPen(color(plot::kGrey));
    const QString text = shown(plot::tick_text(value, gap_step));
    painter.drawText(QPointF(panel.frame.left() - letters.horizontalAdvance(text) - 5, y + letters.ascent() / 2 - 1),
                     text);
  }
  const QString unit = Lengths(format_).unit();
  painter.drawText(QPointF(panel.frame.left() - letters.horizontalAdvance(unit) - 5, panel.frame.top() - 5), unit);
}

void GapPlot::draw_curves(QPainter& painter, const Panel& panel) const {
  const plot::CurveData& curves = data_[panel.valve];
  const double per_mm = Lengths(format_).shown(1);
  for (std::size_t k = std::size(kGapKinds); k-- > 0;) {  // travel on top
    const plot::LineStyle& style = plot::kLineStyles[k];
    if (!std::isnan(curves.tightest[k].asked)) {
      QPen thin = pen(style, 1);
      painter.setPen(thin);
      const double y = panel.gap.place(curves.tightest[k].asked * per_mm);
      painter.drawLine(QPointF(panel.frame.left(), y), QPointF(panel.frame.right(), y));
    }
    painter.setPen(pen(style, 2));
    QPolygonF line;
    const auto flush = [&] {
      if (line.size() > 1) painter.drawPolyline(line);
      line.clear();
    };
    for (std::size_t i = 0; i < curves.degrees.size(); ++i) {
      const double x = curves.degrees[i], y = curves.gaps[k][i];
      if (std::isnan(x) || std::isnan(y) || x < panel.crank.from - 10 || x > panel.crank.to + 10) {
        flush();
        continue;
      }
      // Far above the panel a coordinate may be huge; it is out of sight all the same.
      line << QPointF(panel.crank.place(x), std::max(panel.gap.place(y * per_mm), -1e4));
    }
    flush();
  }
}

void GapPlot::draw_marks(QPainter& painter, const Panel& panel) const {
  const double per_mm = Lengths(format_).shown(1);
  for (std::size_t k = std::size(kGapKinds); k-- > 0;) {  // travel on top
    const plot::Tightest& least = data_[panel.valve].tightest[k];
    if (!least.found) continue;
    // What is judged may be less than the curve of the lobe's middle shows.
    if (least.judged < least.middle) {
      const double x = panel.crank.place(least.crank), judged = panel.gap.place(least.judged * per_mm);
      painter.setPen(QPen(color(plot::kLineStyles[k].ink), 2));
      painter.drawLine(QPointF(x, panel.gap.place(least.middle * per_mm)), QPointF(x, judged));
      painter.drawLine(QPointF(x - kJudged, judged), QPointF(x + kJudged, judged));
    }
    mark(painter, plot::kLineStyles[k].shape, {panel.crank.place(least.crank), panel.gap.place(least.middle * per_mm)},
         4.5, color(plot::kLineStyles[k].ink));
  }
}

void GapPlot::draw_cursor(QPainter& painter, const Panel& panel) const {
  const double x = panel.crank.place(cursor_ / kDegree);
  painter.setPen(QPen(color(plot::kBlack), 1.5));
  painter.drawLine(QPointF(x, panel.frame.top()), QPointF(x, panel.frame.bottom()));
  painter.setBrush(color(plot::kBlack));
  painter.drawPolygon(QPolygonF{{{x - 5, panel.frame.top()}, {x + 5, panel.frame.top()}, {x, panel.frame.top() + 7}}});
  painter.setBrush(Qt::NoBrush);
  if (panel.valve >= at_cursor_.size()) return;
  for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
    const Gap& gap = at_cursor_[panel.valve][kGapKinds[k]];
    if (!gap.measured()) continue;
    const QPointF at(x, panel.gap.place(Lengths(format_).shown(gap.value)));
    painter.setPen(QPen(color(plot::kLineStyles[k].ink), 1.5));
    painter.drawEllipse(at, 3, 3);
  }
}

void GapPlot::drag(const QPointF& to) {
  for (const Panel& panel : panels_) {
    if (to.x() < panel.frame.left() - kLeft || to.x() > panel.frame.right() + kRight) continue;
    const double degrees = std::clamp(panel.crank.value(to.x()), panel.crank.from, panel.crank.to);
    Q_EMIT dragged(std::round(degrees * 10) / 10 * kDegree);
    return;
  }
}

void GapPlot::mousePressEvent(QMouseEvent* event) {
  if (event->button() == Qt::LeftButton) drag(event->localPos());
}

void GapPlot::mouseMoveEvent(QMouseEvent* event) {
  if (event->buttons() & Qt::LeftButton) drag(event->localPos());
}

void GapPlot::mouseDoubleClickEvent(QMouseEvent* event) {
  const double per_mm = Lengths(format_).shown(1);
  for (const Panel& panel : panels_)
    for (const plot::Tightest& least : data_[panel.valve].tightest) {
      if (!least.found) continue;
      const QPointF off =
          event->localPos() - QPointF(panel.crank.place(least.crank), panel.gap.place(least.middle * per_mm));
      if (std::hypot(off.x(), off.y()) > kNearMark) continue;
      Q_EMIT least_chosen(static_cast<int>(panel.valve), least.crank * kDegree);
      return;
    }
}

void GapPlot::wheelEvent(QWheelEvent* event) {
  zoom(event->angleDelta().y() > 0 ? 0.8 : 1.25);
}

void GapPlot::resizeEvent(QResizeEvent*) {
  lay_out();
}

}  // namespace eyebrow::window
