#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "plot_counts.hpp"
#include "plot_frame.hpp"
#include "verdict_text.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kRow = 22, kRoomyRow = 34, kRoomyRows = 360, kBarShare = 0.6, kBelow = 46, kMostLabel = 330,
                 kNumberRoom = 0.14;
constexpr std::size_t kMostRows = 60;  // the rest is counted in words
constexpr Ink kPlus{0.62, 0.72, 0.83}, kMinus{0.80, 0.50, 0.42};

std::vector<Bars::Row> with_numbers(const Bars& bars) {
  std::vector<Bars::Row> rows;
  for (const Bars::Row& row : bars.rows)
    if (drawable(row.value)) rows.push_back(row);
  return rows;
}

std::string left_out_text(std::size_t given, std::size_t numbers, std::size_t shown) {
  std::string text;
  if (numbers > shown) text += fmt::format("{} more are not drawn.", numbers - shown);
  if (given > numbers)
    text += fmt::format("{}{} without a number are not drawn.", text.empty() ? "" : " ", given - numbers);
  return text;
}

}  // namespace

CountsDrawn draw_bars(const Bars& bars, PlotFile kind, const Format& format) {
  const Lengths lengths(format);
  const Unit unit(bars.unit, lengths);
  std::vector<Bars::Row> rows = with_numbers(bars);
  const std::size_t numbers = rows.size();
  if (rows.size() > kMostRows) rows.resize(kMostRows);
  const std::string title = printable(bars.title, 200);
  std::vector<std::string> notes = bars.notes;
  notes.push_back(left_out_text(bars.rows.size(), numbers, rows.size()));
  notes.push_back(kCaution);
  const Surround surround(title, {bars.subtitle}, notes);

  double widest = 60;
  std::vector<std::string> labels;
  std::vector<double> values{0};
  for (const Bars::Row& row : rows) {
    labels.push_back(fitted(row.label, kTextSize, kMostLabel));
    widest = std::fmax(widest, text_width(labels.back(), kTextSize));
    values.push_back(unit.shown(row.value));
  }
  const Range range = widened(range_of(values, {0, 1}));
  const double size = range.to - range.from;
  const double from = range.from < 0 ? range.from - kNumberRoom * size : range.from;
  const double to = range.to > 0 ? range.to + kNumberRoom * size : range.to;

  // The page is as high as its rows need.
  const auto count = static_cast<double>(std::max<std::size_t>(rows.size(), 4));
  const double each = std::clamp(kRoomyRows / count, kRow, kRoomyRow);
  const double height = surround.head() + 12 + each * count + 12 + surround.foot() + kBelow;
  const Box frame{kMargin + widest + 12, surround.head() + 12, kPageWidth - kMargin - 8,
                  height - surround.foot() - kBelow};
  CountsDrawn out{Page(kind, kPageWidth, height, title), frame, {from, to, frame.left, frame.right}, {0, 1, 0, 1}};
  out.y = {0, 1, frame.top + 6, frame.top + 6 + each};  // rows, counted down from the top
  surround.draw(out.page);
  draw_bottom(out.page, frame, out.x, {unit.titled(bars.quantity), tick_step(to - from, 8)});
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double middle = out.y.place(static_cast<double>(i) + 0.5), value = values[i + 1];
    const double zero = out.x.place(0), end = out.x.place(value);
    const Box bar{std::min(zero, end), middle - kBarShare * each / 2, std::max(zero, end),
                  middle + kBarShare * each / 2};
    out.page.fill(bar, value < 0 ? kMinus : kPlus);
    if (value < 0) out.page.hatch(bar, {kBlack, 0.6}, 6);
    out.page.box(bar, {kBlack, 0.6});
    out.page.text(labels[i], {frame.left - 8, middle + 0.36 * kTextSize}, {kTextSize, false, kBlack, Anchor::right});
    const std::string number = (value > 0 ? "+" : "") + unit.rounded(rows[i].value);
    out.page.text(number, {value < 0 ? end - 6 : end + 6, middle + 0.36 * kSmallSize},
                  {kSmallSize, false, kBlack, value < 0 ? Anchor::right : Anchor::left, true});
  }
  out.page.line({{out.x.place(0), frame.top}, {out.x.place(0), frame.bottom}}, {kBlack, 1.8});
  out.page.box(frame, {kBlack, 1});
  if (rows.empty())
    out.page.text("There is nothing to draw.", {(frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2},
                  {kTextSize, false, kGrey, Anchor::middle});
  return out;
}

}  // namespace eyebrow::plot

namespace eyebrow {

std::string plot_bars(const Bars& bars, PlotFile kind, const Format& format) {
  return plot::draw_bars(bars, kind, format).page.finish();
}

}  // namespace eyebrow
