#include "plot_frame.hpp"

#include <fmt/format.h>

#include <cmath>

namespace eyebrow::plot {
namespace {

constexpr double kTick = 5, kLineHeight = 1.32;
constexpr std::size_t kMostLines = 6;  // under the title, and at the foot: the rest is cut

std::vector<std::string> broken(const std::vector<std::string>& texts, double size) {
  std::vector<std::string> out;
  for (const std::string& text : texts)
    for (const std::string& line : text_lines(text, size, kPageWidth - 2 * kMargin)) out.push_back(line);
  return out;
}

}  // namespace

double luminance(Ink ink) {
  const auto linear = [](double c) { return c <= 0.03928 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); };
  return 0.2126 * linear(ink.red) + 0.7152 * linear(ink.green) + 0.0722 * linear(ink.blue);
}

Surround::Surround(const std::string& title, const std::vector<std::string>& under,
                   const std::vector<std::string>& notes)
    : title_(fitted(title, kTitleSize, kPageWidth - 2 * kMargin, true)),
      under_(broken(under, kTextSize)),
      notes_(broken(notes, kSmallSize)) {
  if (under_.size() > kMostLines) {
    under_.resize(kMostLines);
    under_.back() = fitted(under_.back() + " ...", kTextSize, kPageWidth - 2 * kMargin);
  }
  head_ = kMargin + kTitleSize + static_cast<double>(under_.size()) * kTextSize * kLineHeight + 8;
  foot_ = kMargin * 0.6 + static_cast<double>(notes_.size()) * kSmallSize * kLineHeight + 8;
}

void Surround::draw(Page& page) const {
  double y = kMargin + 0.76 * kTitleSize;
  page.text(title_, {kMargin, y}, {kTitleSize, true, kBlack});
  y += 4;
  for (const std::string& line : under_)
    page.text(line, {kMargin, y += kTextSize * kLineHeight}, {kTextSize, false, kBlack});
  y = page.height() - foot_ + 4;
  for (const std::string& line : notes_)
    page.text(line, {kMargin, y += kSmallSize * kLineHeight}, {kSmallSize, false, kBlack});
}

void draw_bottom(Page& page, const Box& frame, const Axis& axis, const Side& side, bool grid) {
  const Lettering numbers{kSmallSize, false, side.ink, Anchor::middle};
  for (const double tick : ticks({axis.from, axis.to}, side.step)) {
    const double x = axis.place(tick);
    if (grid) page.line({{x, frame.top}, {x, frame.bottom}}, {kFaint, 1});
    page.line({{x, frame.bottom}, {x, frame.bottom + kTick}}, {side.ink, 1});
    page.text(side.text(tick, side.step), {x, frame.bottom + kTick + kSmallSize}, numbers);
  }
  page.text(fitted(side.title, kTextSize, frame.width()), {(frame.left + frame.right) / 2, frame.bottom + 34},
            {kTextSize, false, side.ink, Anchor::middle});
}

void draw_left(Page& page, const Box& frame, const Axis& axis, const Side& side, bool grid) {
  const Lettering numbers{kSmallSize, false, side.ink, Anchor::right};
  double widest = 0;
  for (const double tick : ticks({axis.from, axis.to}, side.step)) {
    const double y = axis.place(tick);
    widest = std::fmax(widest, text_width(side.text(tick, side.step), kSmallSize));
    if (grid) page.line({{frame.left, y}, {frame.right, y}}, {kFaint, 1});
    page.line({{frame.left - kTick, y}, {frame.left, y}}, {side.ink, 1});
    page.text(side.text(tick, side.step), {frame.left - kTick - 3, y + 0.36 * kSmallSize}, numbers);
  }
  page.text(fitted(side.title, kTextSize, frame.height() + 20),
            {std::fmax(frame.left - kTick - 3 - widest - 10, kTextSize), (frame.top + frame.bottom) / 2},
            {kTextSize, false, side.ink, Anchor::middle, false, false});
}

std::string crank_tick_text(double degrees, double step) {
  const std::string number = tick_text(std::fabs(degrees), step);
  return degrees < 0 ? number + " BTDC" : degrees > 0 ? number + " ATDC" : "TDC";
}

std::string input_text(double value) {
  return fmt::format("{:.6g}", value + 0.0);
}

Unit::Unit(const std::string& unit, const Lengths& lengths)
    : lengths_(lengths), length_(unit == "mm"), name_(length_ ? lengths.unit() : unit) {}

double Unit::shown(double value) const {
  return length_ ? lengths_.shown(value) : value;
}

std::string Unit::with_unit(const std::string& number) const {
  return name_.empty() ? number : number + ' ' + name_;
}

std::string Unit::rounded_down(double value) const {
  return with_unit(length_ ? lengths_.gap(value) : input_text(value));
}

std::string Unit::rounded(double value) const {
  return with_unit(length_ ? lengths_.plain(value) : input_text(value));
}

std::string Unit::titled(const std::string& title) const {
  return name_.empty() ? title : title + " (" + name_ + ')';
}

}  // namespace eyebrow::plot
