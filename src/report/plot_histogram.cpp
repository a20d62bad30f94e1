#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "lines.hpp"
#include "plot_counts.hpp"
#include "plot_frame.hpp"
#include "plot_labels.hpp"
#include "verdict_text.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kCountsLeft = 92, kCountsRight = kPageWidth - kMargin, kCountsBelow = 46;
constexpr Ink kBar{0.62, 0.72, 0.83}, kBarShort{0.80, 0.50, 0.42};

void check(const Histogram& histogram) {
  if (!histogram.samples.empty() || (histogram.edges.empty() && histogram.counts.empty())) return;
  if (histogram.edges.size() != histogram.counts.size() + 1) throw Error("a histogram needs one edge more than counts");
  for (std::size_t i = 0; i < histogram.edges.size(); ++i)
    if (!drawable(histogram.edges[i]) || (i > 0 && histogram.edges[i] <= histogram.edges[i - 1]))
      throw Error("the edges of a histogram have to rise");
  for (const double count : histogram.counts)
    if (!drawable(count) || count < 0) throw Error("a histogram's counts cannot be below zero");
}

Bins shown_bins(const Histogram& histogram, const Unit& unit) {
  const auto shown = [&](const std::vector<double>& values) {
    std::vector<double> out;
    for (const double value : values) out.push_back(drawable(value) ? unit.shown(value) : NAN);
    return out;
  };
  if (histogram.samples.empty()) return {shown(histogram.edges), histogram.counts};
  return bins_of(shown(histogram.samples));
}

std::string asked_text(const Histogram& histogram, const Unit& unit, const Lengths& lengths) {
  return histogram.unit == "mm" ? lengths.required(histogram.asked) + ' ' + lengths.unit()
                                : unit.rounded(histogram.asked);
}

std::string share_text(const Histogram& histogram, const Bins& bins, const Unit& unit, const Lengths& lengths) {
  if (!drawable(histogram.asked)) return "";
  const bool counted = !histogram.samples.empty();
  const double share =
      counted ? share_below(histogram.samples, histogram.asked) : share_below(bins, unit.shown(histogram.asked));
  if (std::isnan(share)) return "";
  return fmt::format("{}{} below the asked {}.", counted ? "" : "About ", percent_text(share),
                     asked_text(histogram, unit, lengths));
}

std::string count_text(const Histogram& histogram) {
  if (histogram.samples.empty()) return "";
  const auto none =
      std::count_if(histogram.samples.begin(), histogram.samples.end(), [](double value) { return !drawable(value); });
  std::string text = fmt::format("{} samples", histogram.samples.size());
  if (none > 0) text += fmt::format(", {} of them without such a value", none);
  return text + ".";
}

class Counts {
 public:
  Counts(CountsDrawn& drawn, const Histogram& histogram, const Bins& bins, const Unit& unit, const Lengths& lengths)
      : page_(drawn.page),
        drawn_(drawn),
        histogram_(histogram),
        bins_(bins),
        unit_(unit),
        lengths_(lengths),
        labels_(drawn.frame.grown(-3)) {}
  void draw();

 private:
  void bars();
  struct Across {
    double value;  ///< in the unit that is shown; within the frame
    std::string text;
    Stroke stroke;
    bool bold;
  };
  void across(const std::vector<Across>& lines);

  Page& page_;
  CountsDrawn& drawn_;
  const Histogram& histogram_;
  const Bins& bins_;
  const Unit& unit_;
  const Lengths& lengths_;
  Labels labels_;
};

void Counts::bars() {
  const double asked = drawable(histogram_.asked) ? drawn_.x.place(unit_.shown(histogram_.asked)) : -INFINITY;
  for (std::size_t i = 0; i < bins_.counts.size(); ++i) {
    const Box bar{drawn_.x.place(bins_.edges[i]), drawn_.y.place(bins_.counts[i]), drawn_.x.place(bins_.edges[i + 1]),
                  drawn_.frame.bottom};
    if (bar.height() <= 0) continue;
    page_.fill(bar, kBar);
    // What is below the asked gap is dark and hatched, within a bar too.
    const Box below{bar.left, bar.top, std::clamp(asked, bar.left, bar.right), bar.bottom};
    if (below.width() > 0) {
      page_.fill(below, kBarShort);
      page_.hatch(below, {kBlack, 0.6}, 6);
    }
    page_.box(bar, {kBlack, 0.6});
    labels_.avoid({{bar.left, bar.top}, {bar.right, bar.top}});
  }
}

void Counts::across(const std::vector<Across>& lines) {
  const Box& frame = drawn_.frame;
  // All lines before the first label, so that each label knows what to keep clear of.
  for (const Across& line : lines) {
    const double x = drawn_.x.place(line.value);
    page_.line({{x, frame.top}, {x, frame.bottom}}, line.stroke);
    labels_.avoid({{x, frame.top}, {x, frame.bottom}}, 4);
  }
  for (const Across& line : lines) {
    const double x = drawn_.x.place(line.value);
    const std::string shown = fitted(line.text, kTextSize, frame.width() * 0.45, line.bold);
    const double width = text_width(shown, kTextSize, line.bold) + 2;
    std::vector<Box> candidates;
    for (double top = frame.top + 5; top + 16 < frame.bottom; top += 17)
      for (const double left : {x + 5, x - 5 - width}) candidates.push_back({left, top, left + width, top + 16});
    if (const auto box = labels_.take(candidates))
      page_.text(shown, {box->left + 1, box->bottom - 4}, {kTextSize, line.bold, kBlack, Anchor::left, true});
  }
}

void Counts::draw() {
  const Box& frame = drawn_.frame;
  draw_bottom(page_, frame, drawn_.x, {unit_.titled(histogram_.quantity), tick_step(drawn_.x.to - drawn_.x.from, 10)},
              false);
  draw_left(page_, frame, drawn_.y, {"count", tick_step(drawn_.y.to, 7)});
  bars();
  page_.box(frame, {kBlack, 1});
  if (bins_.counts.empty())
    page_.text("There are no values to draw.", {(frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2},
               {kTextSize, false, kGrey, Anchor::middle});
  std::vector<Across> lines;
  if (drawn_.x.from < 0 && drawn_.x.to > 0)
    lines.push_back({0, histogram_.unit == "mm" ? "0: contact" : "0", {kBlack, 1.8}, false});
  if (drawable(histogram_.asked))
    lines.push_back({unit_.shown(histogram_.asked),
                     "asked " + asked_text(histogram_, unit_, lengths_),
                     {kBlack, 2.2, {9, 4}},
                     true});
  for (const PlotLine& line : histogram_.lines)
    if (drawable(line.value))
      lines.push_back({unit_.shown(line.value),
                       printable(line.label, 60) + ' ' + unit_.rounded_down(line.value),
                       {kBlack, 1.3, {2.5, 3}},
                       false});
  across(lines);
}

}  // namespace

CountsDrawn draw_histogram(const Histogram& histogram, PlotFile kind, const Format& format) {
  check(histogram);
  const Lengths lengths(format);
  const Unit unit(histogram.unit, lengths);
  const Bins bins = shown_bins(histogram, unit);
  const std::string title = printable(histogram.title, 200);
  std::string numbers = count_text(histogram);
  if (const std::string share = share_text(histogram, bins, unit, lengths); !share.empty())
    numbers += (numbers.empty() ? "" : " ") + share;
  std::vector<std::string> notes = histogram.notes;
  notes.push_back(kCaution);
  const Surround surround(title, {histogram.subtitle, numbers}, notes);

  std::vector<double> places = bins.edges;
  if (drawable(histogram.asked)) places.push_back(unit.shown(histogram.asked));
  for (const PlotLine& line : histogram.lines)
    if (drawable(line.value)) places.push_back(unit.shown(line.value));
  const Range all = widened(range_of(places, {0, 1}));
  const double room = 0.03 * (all.to - all.from);
  double most = 1;
  for (const double count : bins.counts) most = std::fmax(most, count);
  const Box frame{kCountsLeft, surround.head() + 12, kCountsRight, kPageHeight - surround.foot() - kCountsBelow};
  CountsDrawn out{Page(kind, kPageWidth, kPageHeight, title),
                  frame,
                  {all.from - room, all.to + room, frame.left, frame.right},
                  // Room above the bars for the labels.
                  {0, 1.18 * most, frame.bottom, frame.top}};
  surround.draw(out.page);
  Counts(out, histogram, bins, unit, lengths).draw();
  return out;
}

}  // namespace eyebrow::plot

namespace eyebrow {

std::string plot_histogram(const Histogram& histogram, PlotFile kind, const Format& format) {
  return plot::draw_histogram(histogram, kind, format).page.finish();
}

}  // namespace eyebrow
