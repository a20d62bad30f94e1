// A map over two inputs: bands and contour lines of one least gap.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "plot_frame.hpp"
#include "plot_labels.hpp"
#include "plot_map.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kBandsLeft = 96, kBandsRight = 690, kBandsColumn = 724, kBandsBelow = 46;
constexpr int kMostBands = 12;

double length_of(const std::vector<Place>& chain) {
  double sum = 0;
  for (std::size_t i = 1; i < chain.size(); ++i)
    sum += std::hypot(chain[i].x - chain[i - 1].x, chain[i].y - chain[i - 1].y);
  return sum;
}

/// From dark for little room to light for much; below zero another hue, darker still.
Ink band_ink(double share) {
  const Ink low{0.47, 0.60, 0.74}, high{0.97, 0.98, 0.95};
  const auto mix = [&](double a, double b) { return a + (b - a) * share; };
  return {mix(low.red, high.red), mix(low.green, high.green), mix(low.blue, high.blue)};
}
constexpr Ink kBelowZero{0.72, 0.42, 0.36};

class Bands {
 public:
  Bands(Page& page, const MapResult& map, const Lengths& lengths, std::size_t gap, const MapPanel& panel, Grid values)
      : page_(page),
        map_(map),
        lengths_(lengths),
        gap_(map.gaps[gap]),
        panel_(panel),
        values_(std::move(values)),
        not_allowed_(not_allowed(map)),
        labels_(panel.frame.grown(-3)) {
    std::vector<double> all = values_.z;
    const Range range = widened(range_of(all, {0, 1}));
    step_ = tick_step(range.to - range.from, kMostBands);
    range_ = {std::floor(range.from / step_ + 1e-9) * step_, std::ceil(range.to / step_ - 1e-9) * step_};
    any_ = std::any_of(all.begin(), all.end(), [](double z) { return std::isfinite(z); });
  }
  void draw();

 private:
  void fills();
  void hatches();
  void contours();
  void label_of(const std::vector<Place>& chain, const std::string& text, bool bold);
  void today();
  void list();
  std::vector<Polygon> placed(std::vector<Polygon> polygons) const;
  std::vector<double> levels() const { return ticks(range_, step_); }
  Ink ink_from(double level) const {
    // A band is named by its lower end.
    if (level < -1e-9 * step_) return kBelowZero;
    const double low = std::fmax(range_.from, 0);
    return band_ink(range_.to - low > step_ * 1.5 ? (level - low) / (range_.to - low - step_) : 1);
  }

  Page& page_;
  const MapResult& map_;
  const Lengths& lengths_;
  const MapGap& gap_;
  const MapPanel& panel_;
  Grid values_;  ///< in the report's unit
  NotAllowed not_allowed_;
  Labels labels_;
  Range range_;
  double step_ = 1;
  bool any_ = true;
};

std::vector<Polygon> Bands::placed(std::vector<Polygon> polygons) const {
  for (Polygon& polygon : polygons)
    for (Place& p : polygon) p = {panel_.x.place(p.x), panel_.y.place(p.y)};
  return polygons;
}

void Bands::fills() {
  // Each band from its lower end up over all the others: no seam is left between two of them.
  for (const double level : levels())
    if (level < range_.to - step_ / 2)
      page_.fill(placed(region(values_, level - 1e-9 * step_, INFINITY)), ink_from(level));
}

void Bands::hatches() {
  page_.hatch(placed(not_allowed_.region), {kShort, 0.7}, 8);
  page_.hatch(placed(not_allowed_.no_engine), {kGrey, 0.7}, 5, true);
  for (const Polygon& cell : placed(not_allowed_.no_engine))
    page_.line({cell[0], cell[1], cell[2], cell[3], cell[0]}, {kGrey, 0.4});
  for (const std::vector<Place>& chain : placed(not_allowed_.border)) page_.line(chain, {kShort, 1.6});
}

void Bands::label_of(const std::vector<Place>& chain, const std::string& text, bool bold) {
  const double length = length_of(chain);
  if (length < 70) return;
  const double width = text_width(text, kSmallSize, bold) + 2;
  // Along the line, from the middle out.
  std::vector<std::pair<double, Place>> along;
  double at = 0;
  for (std::size_t i = 1; i < chain.size(); ++i) {
    const Place a = chain[i - 1], b = chain[i];
    const double piece = std::hypot(b.x - a.x, b.y - a.y);
    const int parts = 1 + static_cast<int>(piece / 10);
    for (int p = 0; p < parts; ++p) {
      const double s = (p + 0.5) / parts;
      along.push_back({std::fabs(at + s * piece - length / 2), {a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)}});
    }
    at += piece;
  }
  std::stable_sort(along.begin(), along.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Box> candidates;
  for (const auto& [from_middle, p] : along) candidates.push_back({p.x - width / 2, p.y - 7, p.x + width / 2, p.y + 7});
  if (const auto box = labels_.take(candidates))
    page_.text(text, {(box->left + box->right) / 2, box->bottom - 3}, {kSmallSize, bold, kBlack, Anchor::middle, true});
}

void Bands::contours() {
  struct Labelled {
    std::vector<Place> chain;
    std::string text;
    bool bold;
  };
  std::vector<Labelled> labelled;
  const double asked = lengths_.shown(gap_.required);
  for (std::vector<Place>& chain : placed(contour(values_, asked))) {
    page_.line(chain, {kBlack, 2.4, {9, 4}});
    labelled.push_back({std::move(chain), "asked " + lengths_.required(gap_.required), true});
  }
  for (const double level : levels())
    for (std::vector<Place>& chain : placed(contour(values_, level))) {
      page_.line(chain, {kBlack, std::fabs(level) < step_ / 2 ? 1.8 : 0.9});
      if (std::fabs(level - asked) > 0.2 * step_)
        labelled.push_back({std::move(chain), tick_text(level, step_), false});
    }
  for (const Labelled& each : labelled) label_of(each.chain, each.text, each.bold);
}

void Bands::today() {
  const Varied &x = map_.inputs[0], &y = map_.inputs[1];
  if (!drawable(x.now) || !drawable(y.now)) return;
  const Place at{panel_.x.place(x.now), panel_.y.place(y.now)};
  if (!panel_.frame.grown(0.01).holds(at)) return;
  const std::string text = "today";
  const Box own{at.x - 10, at.y - 10, at.x + 10, at.y + 10};
  labels_.keep_off(own);
  if (const auto box = labels_.take_around(at, text_width(text, kTextSize, true) + 2, kTextSize + 3, own.grown(4))) {
    page_.text(text, {box->left + 1, box->bottom - 4}, {kTextSize, true, kBlack, Anchor::left, true});
    page_.line({at, nearest_in(*box, at)}, {kBlack, 0.8});
  }
  page_.mark(Shape::cross, at, 13, kBlack, "today");
}

/// The scale, and what the other signs are.
void Bands::list() {
  const double width = kPageWidth - kMargin - kBandsColumn, text_left = kBandsColumn + 44;
  double y = panel_.frame.top + 6;
  const Lettering normal{kSmallSize, false, kBlack};
  for (const std::string& line : text_lines(fmt::format("{} ({})", gap_title(gap_), lengths_.unit()), kTextSize, width))
    page_.text(line, {kBandsColumn, y += 4}, {kTextSize, true}), y += kTextSize;
  const std::vector<double> all = levels();
  const double height = 17, top = y;
  if (any_)
    for (std::size_t i = all.size() - 1; i-- > 0;) {
      const Box box{kBandsColumn, y, kBandsColumn + 36, y + height};
      page_.fill(box, ink_from(all[i]));
      page_.box(box, {kBlack, 0.5});
      y += height;
    }
  if (any_)
    for (std::size_t i = 0; i < all.size(); ++i) {
      const double at = top + height * static_cast<double>(all.size() - 1 - i);
      page_.line({{kBandsColumn + 36, at}, {kBandsColumn + 40, at}}, {kBlack, 0.8});
      page_.text(tick_text(all[i], step_), {text_left, at + 0.36 * kSmallSize}, normal);
    }
  y += 20;
  const auto entry = [&](const std::string& text, const std::function<void(const Box&)>& sign) {
    const std::vector<std::string> lines = text_lines(text, kSmallSize, kPageWidth - kMargin - text_left);
    sign({kBandsColumn, y, kBandsColumn + 36, y + 18});
    for (std::size_t i = 0; i < lines.size(); ++i)
      page_.text(lines[i], {text_left, y + 13 + 14.5 * static_cast<double>(i)}, normal);
    y += std::max(24.0, 14.5 * static_cast<double>(lines.size()) + 9);
  };
  entry(fmt::format("asked {} {}", lengths_.required(gap_.required), lengths_.unit()), [&](const Box& box) {
    page_.line({{box.left, box.top + 9}, {box.right, box.top + 9}}, {kBlack, 2.4, {9, 4}});
  });
  const auto hatched = [&](bool crossed) {
    return [this, crossed](const Box& box) {
      page_.hatch(box, {crossed ? kGrey : kShort, 0.7}, crossed ? 5 : 8, crossed);
      page_.box(box, {kShort, 1});
    };
  };
  entry("not allowed: some asked gap, this one or another, is short or in contact", hatched(false));
  if (!not_allowed_.no_engine.empty())
    entry("no such engine: a number is out of range, or the crown cannot be made", hatched(true));
  if (left_out(values_).size() > not_allowed_.no_engine.size())
    entry("white: there is no such gap", [&](const Box& box) { page_.box(box, {kShort, 1}); });
  entry("today: " + (drawable(map_.inputs[0].now) ? input_text(map_.inputs[0], map_.inputs[0].now) : "not stated") +
            ", " + (drawable(map_.inputs[1].now) ? input_text(map_.inputs[1], map_.inputs[1].now) : "not stated"),
        [&](const Box& box) {
          page_.mark(Shape::cross, {box.left + 18, box.top + 9}, 13, kBlack);
        });
}

void Bands::draw() {
  const Box& frame = panel_.frame;
  const auto side = [](const Varied& input, const Axis& axis, int most) {
    return Side{input_title(input), tick_step(axis.to - axis.from, most)};
  };
  page_.within(frame, [&] {
    fills();
    hatches();
  });
  draw_bottom(page_, frame, panel_.x, side(map_.inputs[0], panel_.x, 8), false);
  draw_left(page_, frame, panel_.y, side(map_.inputs[1], panel_.y, 8), false);
  page_.box(frame, {kBlack, 1});
  // The marker first: lines' labels then keep off it.
  const auto mark_room = [&] {
    const Varied &x = map_.inputs[0], &y = map_.inputs[1];
    if (drawable(x.now) && drawable(y.now)) {
      const Place at{panel_.x.place(x.now), panel_.y.place(y.now)};
      labels_.keep_off({at.x - 12, at.y - 12, at.x + 60, at.y + 12});
    }
  };
  mark_room();
  contours();
  today();
  list();
}

/// How many places are allowed, and whether today's is on the map.
std::string under_map(const MapResult& map) {
  const auto allowed =
      std::count_if(map.cells.begin(), map.cells.end(), [](const MapCell& cell) { return cell.allowed(); });
  std::string text = fmt::format("At {} of the {} computed places every asked gap holds.", allowed, map.cells.size());
  for (const Varied& input : map.inputs)
    if (drawable(input.now) && (input.now < input.values.front() || input.now > input.values.back()))
      text += fmt::format(" Today's {}, {}, is not on the map.", printable(input.key), input_text(input, input.now));
  return text;
}

}  // namespace

MapDrawn draw_map_bands(const MapResult& map, std::size_t gap, PlotFile kind, const Format& format) {
  const Lengths lengths(format);
  const Varied &x = map.inputs[0], &y = map.inputs[1];
  Grid values{x.values, y.values, {}};
  for (const MapCell& cell : map.cells) {
    const double found = cell.possible() ? cell.found[gap] : NAN;
    values.z.push_back(drawable(found) ? lengths.shown(found) : NAN);
  }
  const std::string title = printable(map.engine, 200);
  const Surround surround(title,
                          {fmt::format("Least gap: {}, over {} and {}.{}", gap_title(map.gaps[gap]), printable(x.key),
                                       printable(y.key), changed_text(map)),
                           under_map(map)},
                          map_notes());
  MapDrawn out{Page(kind, kPageWidth, kPageHeight, title), {}};
  surround.draw(out.page);
  const Box frame{kBandsLeft, surround.head() + 12, kBandsRight, kPageHeight - surround.foot() - kBandsBelow};
  out.panels.push_back({gap_title(map.gaps[gap]),
                        frame,
                        {x.values.front(), x.values.back(), frame.left, frame.right},
                        {y.values.front(), y.values.back(), frame.bottom, frame.top}});
  Bands(out.page, map, lengths, gap, out.panels[0], std::move(values)).draw();
  return out;
}

}  // namespace eyebrow::plot
