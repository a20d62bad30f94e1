// What surrounds every plot: title, notes, axes.
#pragma once
#include <string>
#include <vector>

#include "plot_axis.hpp"
#include "plot_look.hpp"
#include "plot_page.hpp"
#include "words.hpp"

namespace eyebrow::plot {

/// Title and the lines under it, notes at the foot: all broken to the page's width before the page is made, so that the
/// page is as high as they need.
class Surround {
 public:
  Surround(const std::string& title, const std::vector<std::string>& under, const std::vector<std::string>& notes);
  double head() const { return head_; }  ///< what they take at the top
  double foot() const { return foot_; }  ///< and at the bottom
  void draw(Page& page) const;

 private:
  std::string title_;
  std::vector<std::string> under_, notes_;
  double head_ = 0, foot_ = 0;
};

struct Side {
  std::string title;
  double step = 1;                                   ///< between ticks
  std::string (*text)(double, double) = &tick_text;  ///< of a tick
  Ink ink = kBlack;
};

/// Ticks and their numbers below the box, grid lines in it, the title below them.
void draw_bottom(Page& page, const Box& frame, const Axis& axis, const Side& side, bool grid = true);
/// The same on its left side; the title runs upward.
void draw_left(Page& page, const Box& frame, const Axis& axis, const Side& side, bool grid = true);

/// "20 BTDC", "TDC", "20 ATDC": a whole crank angle in degrees.
std::string crank_tick_text(double degrees, double step);

/// A number as a person types it: up to six figures, no trailing zeros.
std::string input_text(double value);

/// Values of a unit that is "mm" are drawn in the report's; of any other, or none, as they are.
class Unit {
 public:
  Unit(const std::string& unit, const Lengths& lengths);
  double shown(double value) const;
  const std::string& name() const { return name_; }
  std::string rounded_down(double value) const;  ///< with its unit
  std::string rounded(double value) const;       ///< to nearest, with its unit
  /// "title (unit)", or the title alone
  std::string titled(const std::string& title) const;

 private:
  std::string with_unit(const std::string& number) const;
  Lengths lengths_;
  bool length_;
  std::string name_;
};

}  // namespace eyebrow::plot
