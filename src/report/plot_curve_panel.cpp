#include "plot_curve_panel.hpp"

#include <algorithm>
#include <cmath>

#include "plot_frame.hpp"

namespace eyebrow::plot {
namespace {

double apart(Place a, Place b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

Box around(Place at, double by) {
  return Box{at.x, at.y, at.x, at.y}.grown(by);
}

}  // namespace

/// Runs of samples that are there.
std::vector<std::vector<Place>> DrawnPanel::pieces(const std::vector<double>& mm, const Axis& axis) const {
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

void DrawnPanel::polyline(const std::vector<double>& mm, const Axis& axis, const Stroke& stroke, double price) {
  for (const std::vector<Place>& piece : pieces(mm, axis)) {
    if (piece.size() == 1) {  // a sample between two that are not there: a dot
      const double r = stroke.width;
      page_.fill(Box{piece[0].x - r, piece[0].y - r, piece[0].x + r, piece[0].y + r}, stroke.ink);
    }
    page_.line(piece, stroke);
    labels_.avoid(piece, price);
  }
}

void DrawnPanel::ground() {
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

void DrawnPanel::light_lines() {
  const Stroke lift{{0.62, 0.62, 0.62}, 1.6}, depth{{0.62, 0.62, 0.62}, 1.6, {4, 3}};
  const std::pair<const char*, const std::vector<double>*> both[] = {{"valve lift", &data_.series->lift},
                                                                     {"piston depth", &data_.series->piston_depth}};
  for (const auto& [name, values] : both) polyline(*values, panel_.light, name[0] == 'v' ? lift : depth, 0.3);
}

void DrawnPanel::asked_lines() {
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

void DrawnPanel::gap_lines() {
  for (std::size_t k = 0; k < 4; ++k)
    polyline(data_.gaps[k], panel_.gap, {kLineStyles[k].ink, 2.2, kLineStyles[k].dash}, 1);
}

void DrawnPanel::find_marks() {
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
void DrawnPanel::place_label(std::size_t i) {
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

void DrawnPanel::marks() {
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
void DrawnPanel::open_by_card(std::size_t kind, double x) {
  const Tightest& of = data_.tightest[kind];
  if (std::isnan(of.open_least)) return;
  const double low = gap_place(of.open_least), high = gap_place(of.open_most);
  const Ink ink = kLineStyles[kind].ink;
  page_.line({{x, low}, {x, high}}, {ink, 1.2});
  for (const double y : {low, high}) page_.line({{x - 4, y}, {x + 4, y}}, {ink, 1.2});
}

void DrawnPanel::draw(bool last, double gap_step, double light_step) {
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

}  // namespace eyebrow::plot
