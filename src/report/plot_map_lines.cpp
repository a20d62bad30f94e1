// A map over one input: lines of least gaps, a panel a valve and one for the others.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "plot_frame.hpp"
#include "plot_labels.hpp"
#include "plot_map.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kLinesLeft = 84, kLinesRight = 690, kLinesColumn = 716, kLinesTitle = 20, kLinesBelow = 26,
                 kLinesAxisTitle = 18;
constexpr double kLinesListRow = 31, kSignRow = 18, kLeastPanel = 190;
constexpr std::size_t kMostMarked = 40;  // values of which each gets its mark on a line

struct Line {
  std::size_t gap;
  std::string name;    ///< "travel", "valve to bore, running"
  std::string listed;  ///< with its valves where the panel's title does not tell: "intake to bore, running"
  LineStyle style;
  double width;
};

struct Panel {
  std::string title;
  std::vector<Line> lines;
};

/// Which of kGapKinds; nothing for pairs, bore and head.
std::optional<std::size_t> kind_of(const MapGap& gap) {
  for (std::size_t k = 0; k < 4; ++k)
    if (gap.what == to_string(kGapKinds[k])) return k;
  return std::nullopt;
}

std::vector<Panel> panels_of(const MapResult& map, const std::vector<std::size_t>& gaps) {
  std::vector<Panel> out;
  Panel others{"Other gaps", {}};
  for (const std::size_t g : gaps) {
    const MapGap& gap = map.gaps[g];
    const double width = gap.running ? 1.2 : 2.2;
    const std::string running = gap.running ? ", running" : "", name = printable(gap.what) + running;
    if (const auto kind = kind_of(gap)) {
      const std::string title = "Valve " + printable(gap.valve);
      auto at = std::find_if(out.begin(), out.end(), [&](const Panel& panel) { return panel.title == title; });
      if (at == out.end()) at = out.insert(out.end(), {title, {}});
      at->lines.push_back({g, name, name, kLineStyles[*kind], width});
      continue;
    }
    // Each a line style of its own: four colours, and the dashes go on by one with every four.
    const std::size_t i = others.lines.size();
    LineStyle style = kLineStyles[i % 4];
    style.dash = kLineStyles[(i + i / 4) % 4].dash;
    style.shape = kLineStyles[(i + i / 4) % 4].shape;
    const std::string valves = printable(gap.valve, 60) + (gap.what == "valve to bore" ? " to bore" : "");
    others.lines.push_back({g, name, gap.valve.empty() ? name : valves + running, style, width});
  }
  if (!others.lines.empty()) out.push_back(std::move(others));
  return out;
}

class Lines {
 public:
  Lines(Page& page, const MapResult& map, const MapCut& cut, const Lengths& lengths, const MapPanel& panel,
        const Panel& data)
      : page_(page),
        map_(map),
        cut_(cut),
        lengths_(lengths),
        panel_(panel),
        data_(data),
        labels_(panel.frame.grown(-3)) {}
  void draw(bool last);

 private:
  void not_allowed();
  void asked_lines();
  void line(const Line& line);
  void today();
  void list();
  double found(std::size_t i, const Line& line) const {
    const MapCell& cell = *cut_.cells[i];
    return cell.possible() && drawable(cell.found[line.gap]) ? cell.found[line.gap] : NAN;
  }
  double x(std::size_t i) const { return panel_.x.place(cut_.input->values[i]); }
  double y(double mm) const { return panel_.y.place(lengths_.shown(mm)); }

  Page& page_;
  const MapResult& map_;
  const MapCut& cut_;
  const Lengths& lengths_;
  const MapPanel& panel_;
  const Panel& data_;
  Labels labels_;
};

/// Between two values only what holds at both counts as allowed.
void Lines::not_allowed() {
  const std::size_t count = cut_.cells.size();
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t next = std::min(i + 1, count - 1);
    if (next == i && count > 1) break;
    const MapCell &a = *cut_.cells[i], &b = *cut_.cells[next];
    if (a.allowed() && b.allowed()) continue;
    const Box box{count > 1 ? x(i) : panel_.frame.left, panel_.frame.top, count > 1 ? x(next) : panel_.frame.right,
                  panel_.frame.bottom};
    if (a.possible() && b.possible())
      page_.hatch(box, {{0.62, 0.62, 0.62}, 0.7}, 8);
    else
      page_.hatch(box, {{0.62, 0.62, 0.62}, 0.7}, 5, true);
  }
}

void Lines::asked_lines() {
  std::vector<std::string> done;
  for (const Line& of : data_.lines) {
    const std::string asked = lengths_.required(map_.gaps[of.gap].required);
    if (asked.empty() || std::find(done.begin(), done.end(), asked) != done.end()) continue;
    done.push_back(asked);
    std::string names;
    std::string last;
    for (const Line& other : data_.lines) {
      if (lengths_.required(map_.gaps[other.gap].required) != asked || other.name == last) continue;
      names += (names.empty() ? "" : ", ") + other.name;
      last = other.name;
    }
    const double at = y(map_.gaps[of.gap].required);
    const std::vector<Place> across{{panel_.frame.left, at}, {panel_.frame.right, at}};
    page_.line(across, {of.style.ink, 0.9, of.style.dash});
    labels_.avoid(across);
    const std::string text =
        fitted(fmt::format("asked {} {}: {}", asked, lengths_.unit(), names), kSmallSize, panel_.frame.width() * 0.6);
    const double width = text_width(text, kSmallSize);
    std::vector<Box> candidates;
    for (double left = panel_.frame.left + 6; left + width < panel_.frame.right; left += 24)
      for (const double top : {at - kSmallSize - 3.5, at + 2.5})
        candidates.push_back({left, top, left + width, top + kSmallSize + 1});
    if (const auto box = labels_.take(candidates))
      page_.text(text, {box->left, box->bottom - 3}, {kSmallSize, false, kBlack, Anchor::left, true});
  }
}

void Lines::line(const Line& of) {
  std::vector<Place> piece;
  const auto end = [&] {
    page_.line(piece, {of.style.ink, of.width, of.style.dash});
    labels_.avoid(piece);
    piece.clear();
  };
  for (std::size_t i = 0; i < cut_.cells.size(); ++i) {
    const double value = found(i, of);
    if (std::isnan(value))
      end();
    else
      piece.push_back({x(i), y(value)});
  }
  end();
  for (std::size_t i = 0; i < cut_.cells.size() && cut_.cells.size() <= kMostMarked; ++i)
    if (const double value = found(i, of); !std::isnan(value))
      page_.mark(of.style.shape, {x(i), y(value)}, of.width > 2 ? 6 : 4, of.style.ink,
                 fmt::format("{} {} {}", data_.title, of.listed, i));
}

void Lines::today() {
  const double now = cut_.input->now;
  if (!drawable(now) || now < panel_.x.from || now > panel_.x.to) return;
  const double at = panel_.x.place(now);
  const std::vector<Place> up{{at, panel_.frame.top}, {at, panel_.frame.bottom}};
  page_.line(up, {kBlack, 1.4, {6, 3, 1.5, 3}});
  const std::string text = "today";
  const double width = text_width(text, kSmallSize, true) + 2;
  std::vector<Box> candidates;
  for (double top = panel_.frame.top + 4; top + 14 < panel_.frame.bottom; top += 12)
    for (const double left : {at + 4, at - 4 - width}) candidates.push_back({left, top, left + width, top + 14});
  if (const auto box = labels_.take(candidates))
    page_.text(text, {box->left + 1, box->bottom - 3.5}, {kSmallSize, true, kBlack, Anchor::left, true});
}

void Lines::list() {
  const double text_left = kLinesColumn + 46, width = kPageWidth - kMargin - text_left;
  const Lettering normal{kSmallSize, false, kBlack};
  double at = panel_.frame.top + 10;
  for (const Line& of : data_.lines) {
    page_.line({{kLinesColumn, at - 4}, {kLinesColumn + 38, at - 4}}, {of.style.ink, of.width, of.style.dash});
    page_.mark(of.style.shape, {kLinesColumn + 19, at - 4}, 8, of.style.ink);
    page_.text(fitted(of.listed, kTextSize, width, true), {text_left, at}, {kTextSize, true});
    std::string text = fmt::format("asked {} {}", lengths_.required(map_.gaps[of.gap].required), lengths_.unit());
    for (std::size_t i = 0; i < cut_.cells.size(); ++i)
      if (cut_.input->values[i] == cut_.input->now) {
        const double value = found(i, of);
        text += ", today " + (std::isnan(value) ? std::string("none") : lengths_.gap(value));
      }
    page_.text(fitted(text, kSmallSize, width), {text_left, at + 14}, normal);
    at += kLinesListRow;
  }
  const auto sign = [&](const std::string& text, bool crossed) {
    const Box box{kLinesColumn, at - 10, kLinesColumn + 38, at + 3};
    page_.hatch(box, {{0.62, 0.62, 0.62}, 0.7}, crossed ? 5 : 8, crossed);
    page_.box(box, {kGrey, 0.8});
    page_.text(fitted(text, kSmallSize, width), {text_left, at}, normal);
    at += kSignRow;
  };
  sign("some asked gap is short", false);
  if (std::any_of(cut_.cells.begin(), cut_.cells.end(), [](const MapCell* cell) { return !cell->possible(); }))
    sign("no such engine", true);
}

void Lines::draw(bool last) {
  const Box& frame = panel_.frame;
  page_.text(data_.title, {frame.left, frame.top - 6}, {kTextSize + 1, true});
  const double zero = panel_.y.place(0);
  if (zero < frame.bottom) {
    const Box below{frame.left, zero, frame.right, frame.bottom};
    page_.fill(below, kOverlap);
    page_.hatch(below, {kOverlapLines, 0.6}, 7);
    labels_.keep_labels_off({frame.left, zero - 2, frame.right, zero + 2});
  }
  draw_bottom(page_, frame, panel_.x,
              {last ? input_title(*cut_.input) : "", tick_step(panel_.x.to - panel_.x.from, 10)});
  draw_left(page_, frame, panel_.y,
            {fmt::format("least gap ({})", lengths_.unit()), tick_step(panel_.y.to - panel_.y.from, 8)});
  page_.within(frame, [&] {
    not_allowed();
    page_.line({{frame.left, zero}, {frame.right, zero}}, {kBlack, 1.8});
  });
  for (const Line& of : data_.lines) line(of);
  page_.box(frame, {kBlack, 1});
  asked_lines();
  today();
  list();
}

/// Where every asked gap holds: the computed values alone, nothing between is promised.
std::string allowed_text(const MapCut& cut) {
  const std::size_t count = cut.cells.size();
  std::string text;
  for (std::size_t i = 0; i < count; ++i) {
    if (!cut.cells[i]->allowed()) continue;
    std::size_t end = i;
    while (end + 1 < count && cut.cells[end + 1]->allowed()) ++end;
    const std::vector<double>& values = cut.input->values;
    text += (text.empty() ? "" : ", and ") +
            (end == i ? "at " + input_text(*cut.input, values[i])
                      : "from " + input_text(values[i]) + " to " + input_text(*cut.input, values[end]));
    i = end;
  }
  if (text.empty()) return fmt::format("Of the {} computed values none has every asked gap.", count);
  return fmt::format("Every asked gap holds {} (of {} computed values).", text, count);
}

Range shown_range(const MapResult& map, const MapCut& cut, const Panel& panel, const Lengths& lengths) {
  std::vector<double> all{0};
  for (const Line& line : panel.lines) {
    all.push_back(lengths.shown(map.gaps[line.gap].required));
    for (const MapCell* cell : cut.cells)
      if (cell->possible()) all.push_back(lengths.shown(cell->found[line.gap]));
  }
  const Range range = widened(range_of(all, {0, 1}));
  const double size = range.to - range.from;
  return {range.from - 0.06 * size, range.to + 0.06 * size};
}

}  // namespace

MapDrawn draw_map_lines(const MapResult& map, const MapCut& cut, const std::vector<std::size_t>& gaps, PlotFile kind,
                        const Format& format) {
  const Lengths lengths(format);
  const std::vector<Panel> panels = panels_of(map, gaps);
  const std::string title = printable(map.engine, 200);
  std::string first = fmt::format("Least gaps over {}{}.", printable(cut.input->key),
                                  cut.fixed.empty() ? "" : ", with " + printable(cut.fixed, 100));
  if (drawable(cut.input->now)) first += fmt::format(" Today {}.", input_text(*cut.input, cut.input->now));
  const Surround surround(title, {first + changed_text(map), allowed_text(cut)}, map_notes());

  std::size_t most = 0;
  for (const Panel& panel : panels) most = std::max(most, panel.lines.size());
  const double count = static_cast<double>(panels.size());
  const double others = surround.head() + surround.foot() + kLinesAxisTitle + count * (kLinesTitle + kLinesBelow);
  const double least = std::max(kLeastPanel, static_cast<double>(most) * kLinesListRow + 2 * kSignRow + 6);
  const double frame_height = std::max(least, (kPageHeight - others) / count);

  MapDrawn out{Page(kind, kPageWidth, others + count * frame_height, title), {}};
  surround.draw(out.page);
  const Range values = widened({cut.input->values.front(), cut.input->values.back()});
  double top = surround.head();
  for (const Panel& panel : panels) {
    const Box frame{kLinesLeft, top + kLinesTitle, kLinesRight, top + kLinesTitle + frame_height};
    const Range range = shown_range(map, cut, panel, lengths);
    out.panels.push_back({panel.title,
                          frame,
                          {values.from, values.to, frame.left, frame.right},
                          {range.from, range.to, frame.bottom, frame.top}});
    Lines(out.page, map, cut, lengths, out.panels.back(), panel).draw(&panel == &panels.back());
    top = frame.bottom + kLinesBelow;
  }
  return out;
}

}  // namespace eyebrow::plot
