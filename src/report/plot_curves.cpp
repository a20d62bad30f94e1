#include "plot_curves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "plot_curve_data.hpp"
#include "plot_frame.hpp"
#include "plot_labels.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kLeft = 84, kRight = 668;  // of the frames
constexpr double kColumn = 742;             // where the list of lines begins
constexpr double kPanelTitle = 20, kBelow = 26, kAxisTitle = 18;
constexpr double kListRow = 43, kListRunning = 13;
constexpr double kLeastPanel = 206;  // height of a frame: the list beside it needs as much
constexpr double kMarkSize = 10;

class Curves {
 public:
  Curves(Page& page, const Lengths& lengths, CurvePanel panel, const CurveData& data)
      : page_(page), lengths_(lengths), panel_(std::move(panel)), data_(data), labels_(panel_.frame.grown(-3)) {}
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

double apart(Place a, Place b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

Box around(Place at, double by) {
  return Box{at.x, at.y, at.x, at.y}.grown(by);
}

/// Runs of samples that are there.
std::vector<std::vector<Place>> Curves::pieces(const std::vector<double>& mm, const Axis& axis) const {
  std::vector<std::vector<Place>> out;
  bool open = false;
  for (std::size_t i = 0; i < data_.degrees.size(); ++i) {
    const double value = i < mm.size() ? mm[i] : NAN;
    if (!drawable(value) || std::isnan(data_.degrees[i])) {
      open = false;
      continue;
    }
    if (!open) out.emplace_back();
    open = true;
    out.back().push_back({panel_.crank.place(data_.degrees[i]), axis.place(lengths_.shown(value))});
  }
  return out;
}

void Curves::polyline(const std::vector<double>& mm, const Axis& axis, const Stroke& stroke, double price) {
  for (const std::vector<Place>& piece : pieces(mm, axis)) {
    if (piece.size() == 1) {  // a sample between two that are not there: a dot
      const double r = stroke.width;
      page_.fill(Box{piece[0].x - r, piece[0].y - r, piece[0].x + r, piece[0].y + r}, stroke.ink);
    }
    page_.line(piece, stroke);
    labels_.avoid(piece, price);
  }
}

void Curves::ground() {
  const Box& frame = panel_.frame;
  const double zero = panel_.gap.place(0);
  const Box below{frame.left, zero, frame.right, frame.bottom};
  page_.fill(below, kOverlap);
  page_.hatch(below, {kOverlapLines, 0.6}, 7);
  labels_.keep_labels_off({frame.left, zero - 2, frame.right, zero + 2});
  if (below.height() > 13) {
    const Box at =
        page_.text("overlap", {frame.right - 6, frame.bottom - 5}, {kSmallSize, false, kBlack, Anchor::right, true});
    labels_.keep_off(at);
  }
}

void Curves::light_lines() {
  const Stroke lift{{0.62, 0.62, 0.62}, 1.6}, depth{{0.62, 0.62, 0.62}, 1.6, {4, 3}};
  const std::pair<const char*, const std::vector<double>*> both[] = {{"valve lift", &data_.series->lift},
                                                                     {"piston depth", &data_.series->piston_depth}};
  for (const auto& [name, values] : both) polyline(*values, panel_.light, name[0] == 'v' ? lift : depth, 0.3);
}

void Curves::asked_lines() {
  // Of kinds with the same asked gap one line, and one label with all their names.
  for (std::size_t k = 0; k < 4; ++k) {
    const double asked = data_.tightest[k].asked;
    if (std::isnan(asked)) continue;
    bool first = true;
    std::string names;
    for (std::size_t other = 0; other < 4; ++other) {
      if (lengths_.required(data_.tightest[other].asked) != lengths_.required(asked)) continue;
      if (other < k) first = false;
      names += (names.empty() ? "" : ", ") + std::string(to_string(kGapKinds[other]));
    }
    if (!first) continue;
    const LineStyle& style = kLineStyles[k];
    const double y = gap_place(asked);
    const std::vector<Place> line{{panel_.frame.left, y}, {panel_.frame.right, y}};
    page_.line(line, {style.ink, 0.9, style.dash});
    labels_.avoid(line);
    const std::string text = fmt::format("asked {} {}: {}", lengths_.required(asked), lengths_.unit(), names);
    const double width = text_width(text, kSmallSize);
    std::vector<Box> candidates;
    for (double x = panel_.frame.left + 6; x + width < panel_.frame.right; x += 24)
      for (const double top : {y - kSmallSize - 3.5, y + 2.5})
        candidates.push_back({x, top, x + width, top + kSmallSize + 1});
    if (const auto at = labels_.take(candidates))
      page_.text(text, {at->left, at->bottom - 3}, {kSmallSize, false, kBlack, Anchor::left, true});
  }
}

void Curves::gap_lines() {
  for (std::size_t k = 0; k < 4; ++k)
    polyline(data_.gaps[k], panel_.gap, {kLineStyles[k].ink, 2.2, kLineStyles[k].dash}, 1);
}

void Curves::find_marks() {
  for (std::size_t k = 0; k < 4; ++k) {
    const Tightest& of = data_.tightest[k];
    if (!of.found || of.crank < panel_.crank.from || of.crank > panel_.crank.to) continue;
    const double x = panel_.crank.place(of.crank);
    marks_.push_back({k, {x, gap_place(of.middle)}, {x, gap_place(of.judged)}, point_text(of)});
  }
  for (const Mark& mark : marks_) {
    labels_.keep_off(around(mark.at, kMarkSize * 0.7));
    const double top = std::min(mark.at.y, mark.judged.y), bottom = std::max(mark.at.y, mark.judged.y);
    if (top < bottom) labels_.keep_off({mark.at.x - 4, top, mark.at.x + 4, bottom});
  }
}

/// The label of a mark, and its leader. Marks of the same numbers in one place have one label, at the first of them.
void Curves::place_label(std::size_t i) {
  Mark& mark = marks_[i];
  std::string names;
  for (std::size_t other = 0; other < marks_.size(); ++other) {
    if (marks_[other].text != mark.text || apart(marks_[other].at, mark.at) > kMarkSize / 2) continue;
    if (other < i) return;
    names += (names.empty() ? "" : ", ") + std::string(to_string(kGapKinds[marks_[other].kind]));
  }
  mark.label_text = names + ' ' + mark.text;
  // Where there is no room, the list beside the panel has it.
  mark.label = labels_.take_around(mark.at, text_width(mark.label_text, kSmallSize) + 2, kSmallSize + 2,
                                   around(mark.at, kMarkSize * 1.3));
  if (mark.label) page_.line({mark.at, nearest_in(*mark.label, mark.at)}, {kLineStyles[mark.kind].ink, 0.8});
}

void Curves::marks() {
  for (std::size_t i = 0; i < marks_.size(); ++i) place_label(i);
  for (const Mark& mark : marks_) open_by_card(mark.kind, mark.at.x);
  for (std::size_t i = 0; i < marks_.size(); ++i) {
    const Mark& mark = marks_[i];
    // Of marks in one place the lower ones are larger, so that all are seen.
    const auto over = std::count_if(marks_.begin() + static_cast<std::ptrdiff_t>(i) + 1, marks_.end(),
                                    [&](const Mark& other) { return apart(other.at, mark.at) < kMarkSize / 2; });
    const LineStyle& style = kLineStyles[mark.kind];
    const std::string name = panel_.valve + ' ' + to_string(kGapKinds[mark.kind]);
    page_.mark(style.shape, mark.at, kMarkSize + 7 * static_cast<double>(over), style.ink, name);
    // Nearer than that the bar shows it; its foot is at the judged least.
    if (std::fabs(mark.judged.y - mark.at.y) > kMarkSize)
      page_.mark(style.shape, mark.judged, 6, style.ink, name + " judged");
  }
  for (const Mark& mark : marks_)
    if (mark.label)
      page_.text(mark.label_text, {mark.label->left + 1, mark.label->bottom - 3.5},
                 {kSmallSize, false, kBlack, Anchor::left, true});
}

/// What the lobe's card leaves open: a line from the least to the greatest, with a foot at either end.
void Curves::open_by_card(std::size_t kind, double x) {
  const Tightest& of = data_.tightest[kind];
  if (std::isnan(of.open_least)) return;
  const double low = gap_place(of.open_least), high = gap_place(of.open_most);
  const Ink ink = kLineStyles[kind].ink;
  page_.line({{x, low}, {x, high}}, {ink, 1.2});
  for (const double y : {low, high}) page_.line({{x - 4, y}, {x + 4, y}}, {ink, 1.2});
}

/// What is what, and the tightest point of each in numbers.
void Curves::list() {
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
void Curves::light_axis(double gap_step, double light_step) {
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

void Curves::draw(bool last, double gap_step, double light_step) {
  const Box& frame = panel_.frame;
  page_.text("Valve " + data_.name, {frame.left, frame.top - 6}, {kTextSize + 1, true});
  ground();
  const double width = panel_.crank.to - panel_.crank.from;
  draw_bottom(page_, frame, panel_.crank,
              {last ? "crank angle from overlap TDC (degrees)" : "", tick_step(width, 8), &crank_tick_text});
  draw_left(page_, frame, panel_.gap, {fmt::format("gap ({})", lengths_.unit()), gap_step});
  light_axis(gap_step, light_step);
  page_.within(frame, [&] {
    light_lines();
    page_.line({{frame.left, panel_.gap.place(0)}, {frame.right, panel_.gap.place(0)}}, {kBlack, 1.8});
    const double tdc = panel_.crank.place(0);
    page_.line({{tdc, frame.top}, {tdc, frame.bottom}}, {kGrey, 0.8});
    gap_lines();
  });
  page_.box(frame, {kBlack, 1});
  // The labels come after it is known what they have to keep clear of.
  find_marks();
  asked_lines();
  marks();
  list();
}

}  // namespace

CurvesDrawn draw_curves(const CheckResult& result, const std::string& valve, PlotFile kind, const Format& format) {
  const Lengths lengths(format);
  const std::vector<CurveData> panels = curve_data(result, valve);
  const Range gaps_mm = gap_range(panels), cranks = crank_range(panels, gaps_mm);
  const Range gaps{lengths.shown(gaps_mm.from), lengths.shown(gaps_mm.to)};
  std::string title = printable(result.engine, 200);
  if (!result.conditions.cylinder.empty()) title += ", cylinder " + printable(result.conditions.cylinder, 64);
  const Surround surround(title, curves_subtitle(result, lengths), curves_notes(result, panels, cranks, lengths));

  const double count = static_cast<double>(std::max<std::size_t>(panels.size(), 1));
  const double others = surround.head() + surround.foot() + kAxisTitle + count * (kPanelTitle + kBelow);
  const double frame_height =
      std::max(kLeastPanel + (result.allowances.empty() ? 0 : 4 * kListRunning), (kPageHeight - others) / count);
  const double height = others + count * frame_height;

  // Lifts that are seen beside the gaps' scale: a nice multiple of it that holds the greatest lift.
  const double gap_step = tick_step(gaps.to - gaps.from, 9);
  double most = 0;
  for (const CurveData& panel : panels)
    for (std::size_t i = 0; i < panel.degrees.size() && i < panel.series->lift.size(); ++i)
      if (panel.degrees[i] >= cranks.from && panel.degrees[i] <= cranks.to && drawable(panel.series->lift[i]))
        most = std::fmax(most, lengths.shown(panel.series->lift[i]));
  const double light_step = std::fmax(gap_step, tick_step(1.05 * most / (gaps.to / gap_step), 1));

  CurvesDrawn out{Page(kind, kPageWidth, height, title), {}};
  surround.draw(out.page);
  double top = surround.head();
  for (std::size_t i = 0; i < panels.size(); ++i) {
    const Box frame{kLeft, top + kPanelTitle, kRight, top + kPanelTitle + frame_height};
    const double light = light_step / gap_step;
    const CurvePanel panel{panels[i].name,
                           frame,
                           {cranks.from, cranks.to, frame.left, frame.right},
                           {gaps.from, gaps.to, frame.bottom, frame.top},
                           {gaps.from * light, gaps.to * light, frame.bottom, frame.top}};
    Curves(out.page, lengths, panel, panels[i]).draw(i + 1 == panels.size(), gap_step, light_step);
    out.panels.push_back(panel);
    top = frame.bottom + kBelow;
  }
  if (panels.empty())
    out.page.text("There is no valve to draw.", {kPageWidth / 2, kPageHeight / 2},
                  {kTextSize, false, kGrey, Anchor::middle});
  return out;
}

}  // namespace eyebrow::plot

namespace eyebrow {

std::string plot_curves(const CheckResult& result, const std::string& valve, PlotFile kind, const Format& format) {
  return plot::draw_curves(result, valve, kind, format).page.finish();
}

}  // namespace eyebrow
