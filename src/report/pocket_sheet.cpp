// The sheet for the machinist: a plan and a section of each pocket, numbers from the bore axis and the crown flat.
#include "pocket_sheet.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "crown_left_text.hpp"
#include "lines.hpp"
#include "plot_look.hpp"
#include "pocket_words.hpp"
#include "solid/tool.hpp"
#include "solid/void_volume.hpp"
#include "words.hpp"

namespace eyebrow::plot {
namespace {

constexpr double kSheetWidth = 842, kPanelHeight = 560, kHeadHeight = 92, kFootHeight = 84;  // A4 on its side
constexpr double kPlanSize = 330, kGap = 24;
constexpr int kCircle = 120, kFineCircle = 720, kHalvings = 16, kWall = 800;
constexpr Ink kMetal{0.90, 0.90, 0.88}, kCutInk{0.09, 0.16, 0.42}, kHollow{0.80, 0.86, 0.94};
const Stroke kOutline{kBlack, 1.1}, kCentre{kGrey, 0.6, {9, 3, 2, 3}}, kCut{kCutInk, 1.5}, kOther{kGrey, 0.7, {4, 3}},
    kDimension{kBlack, 0.6}, kCrownEdge{kGrey, 0.9};

/// "48.260 mm  1.9000 in".
std::string both(double mm) {
  return fmt::format("{:.3f} mm   {:.4f} in", mm + 0.0, mm / kInch + 0.0);
}

/// Metal: no more than there is.
std::string both_less(double mm) {
  return fmt::format("{} mm   {} in", Lengths({LengthUnit::mm, 3}).gap(mm), Lengths({LengthUnit::inch, 4}).gap(mm));
}

class PocketPanel {
 public:
  PocketPanel(Page& page, const PocketResult& result, const SizedPocket& one, const Format& format, double top)
      : page_(page),
        result_(result),
        one_(one),
        is_(one.pocket),
        lengths_(format),
        unit_(format.units),
        valve_(result.engine.valves[static_cast<std::size_t>(one.valve)]),
        radius_(result.engine.piston.crown_diameter / 2),
        tool_(pocket_tool(one.pocket, &valve_, radius_)),
        top_(top) {}

  void draw() const {
    page_.line({{kMargin, top_}, {kSheetWidth - kMargin, top_}}, {kPale, 1});
    page_.text(fmt::format("Pocket {}, under valve {}{}", printable(is_.name, 24), printable(valve_.name, 24),
                           one_.changed ? "" : " (as it is)"),
               {kMargin, top_ + 22}, {14, true});
    plan();
    gaps();
    section();
    numbers();
  }

 private:
  double scale() const { return (kPlanSize - 26) / (2 * radius_); }
  /// From above the piston: +x to the right, +y (front) up the page.
  Place on_plan(double x, double y) const {
    return {kMargin + kPlanSize / 2 + x * scale(), top_ + 44 + kPlanSize / 2 - y * scale()};
  }
  std::vector<Place> circle(const Pocket& pocket, double height) const {
    // The wall's circle, square to its axis, cut at a height: an ellipse.
    const Vec3 axis = tilted_axis(pocket.tilt, pocket.lean);
    const Vec3 along{std::cos(pocket.lean), std::sin(pocket.lean), 0}, aside{-along.y, along.x, 0};
    std::vector<Place> out;
    for (int i = 0; i <= kCircle; ++i) {
      const double turn = 2 * kPi * i / kCircle, r = pocket.diameter / 2;
      const Vec3 at = Vec3{pocket.x, pocket.y, 0} + (height / axis.z) * (axis - Vec3{0, 0, axis.z}) +
                      r / axis.z * std::cos(turn) * along + r * std::sin(turn) * aside;
      out.push_back(on_plan(at.x, at.y));
    }
    return out;
  }

  /// The crown's top without pockets: flat, dome, roof, dish (its walls upright).
  double crown_top(double x, double y) const {
    const Piston& piston = result_.engine.piston;
    const double top = blank_top(piston, x, y);
    const auto& dish = piston.dish;
    return dish && std::hypot(x - dish->x, y - dish->y) < dish->diameter / 2 ? std::min(top, -dish->depth) : top;
  }
  /// How deep the pocket's floor lies under that; nothing: it cuts no metal there.
  std::optional<double> cut_at(double x, double y) const {
    if (!tool_ || std::hypot(x, y) > radius_) return {};
    const double top = crown_top(x, y);
    const std::optional<Span> span = on_vertical(*tool_, x, y, top);
    return span && span->low < top ? std::optional(top - span->low) : std::nullopt;
  }

  /// What it takes of the crown's top: all of an upright pocket, of a tilted one in a flat crown the low side.
  Polygon cut() const {
    double from_x = 0, from_y = 0, deepest = 0;
    const double reach = 1.3 * is_.diameter / 2, step = reach / 40;
    for (int i = -40; i <= 40; ++i)
      for (int k = -40; k <= 40; ++k) {
        const double x = is_.x + i * step, y = is_.y + k * step;
        if (const auto depth = cut_at(x, y); depth && *depth > deepest) deepest = *depth, from_x = x, from_y = y;
      }
    Polygon out;
    for (int i = 0; i <= kFineCircle && deepest > 0; ++i) {
      const double turn = 2 * kPi * i / kFineCircle, ux = std::cos(turn), uy = std::sin(turn);
      // The outermost: what lies within and is not cut, over a dish, is air.
      double in = 2 * reach;
      while (in > 0 && !cut_at(from_x + in * ux, from_y + in * uy)) in -= step;
      in = std::max(0.0, in);
      double beyond = in + step;
      for (int halvings = 0; halvings < kHalvings; ++halvings) {
        const double middle = 0.5 * (in + beyond);
        (cut_at(from_x + middle * ux, from_y + middle * uy) ? in : beyond) = middle;
      }
      out.push_back(on_plan(from_x + in * ux, from_y + in * uy));
    }
    return out;
  }
  /// Where the crown's top leaves a height, going out from the bore axis: the foot of a dome or roof, its upper edge.
  std::vector<Place> edge_of_top(double height) const {
    std::vector<Place> out;
    const double step = radius_ / 100;
    for (int i = 0; i <= kFineCircle; ++i) {
      const double turn = 2 * kPi * i / kFineCircle, ux = std::cos(turn), uy = std::sin(turn);
      const auto under = [&](double r) { return blank_top(result_.engine.piston, r * ux, r * uy) < height; };
      double r = radius_;
      while (r > 0 && under(r)) r -= step;
      double beyond = std::min(radius_, r + step);
      for (int halvings = 0; halvings < kHalvings; ++halvings) {
        const double middle = 0.5 * (r + beyond);
        (under(middle) ? beyond : r) = middle;
      }
      out.push_back(on_plan(r * ux, r * uy));
    }
    return out;
  }
  double highest() const {
    const Piston& piston = result_.engine.piston;
    return piston.roof_dome ? piston.roof_dome->plateau : piston.round_dome ? piston.round_dome->height : 0;
  }

  void plan() const {
    page_.text("PLAN, from above the piston; front of the engine up", {kMargin, top_ + 40},
               {kSmallSize - 1, false, kGrey});
    std::vector<Place> crown;
    for (int i = 0; i <= kCircle; ++i) {
      const double turn = 2 * kPi * i / kCircle;
      crown.push_back(on_plan(radius_ * std::cos(turn), radius_ * std::sin(turn)));
    }
    page_.fill({crown}, kMetal);
    page_.line(crown, kOutline);
    page_.line({on_plan(-radius_ * 1.06, 0), on_plan(radius_ * 1.06, 0)}, kCentre);
    page_.line({on_plan(0, -radius_ * 1.06), on_plan(0, radius_ * 1.06)}, kCentre);
    constexpr double kNone = 0.01;  // mm
    const Piston& piston = result_.engine.piston;
    if (highest() > 0) page_.line(edge_of_top(kNone), kCrownEdge);
    if (piston.roof_dome || (piston.round_dome && piston.round_dome->top_diameter > 0))  // it ends in a plane
      page_.line(edge_of_top(highest() - kNone), kCrownEdge);
    if (const auto& dish = piston.dish) {
      std::vector<Place> rim;
      for (int i = 0; i <= kCircle; ++i) {
        const double turn = 2 * kPi * i / kCircle, r = dish->diameter / 2;
        rim.push_back(on_plan(dish->x + r * std::cos(turn), dish->y + r * std::sin(turn)));
      }
      page_.line(rim, kCrownEdge);
    }
    page_.within({kMargin, top_ + 44, kMargin + kPlanSize, top_ + 44 + kPlanSize}, [&] {
      for (const Pocket& other : result_.engine.piston.pockets)
        if (other.name != is_.name) page_.line(circle(other, 0), kOther);
      page_.line(circle(is_, 0), {kCutInk, 0.7, {6, 3}});
      Polygon region = cut();
      if (region.size() > 2) {
        page_.fill({region}, kHollow);
        region.push_back(region.front());
        page_.line(region, kCut);
      }
    });
    const Place centre = on_plan(is_.x, is_.y);
    page_.line({{centre.x - 7, centre.y}, {centre.x + 7, centre.y}}, kCut);
    page_.line({{centre.x, centre.y - 7}, {centre.x, centre.y + 7}}, kCut);
    page_.mark(Shape::circle, centre, 4, kCutInk, "axis");
    // Its place, from the bore's centre lines.
    const Place origin = on_plan(0, 0);
    if (std::fabs(is_.x) * scale() > 3) page_.line({{origin.x, centre.y}, centre}, kDimension);
    if (std::fabs(is_.y) * scale() > 3) page_.line({{centre.x, origin.y}, centre}, kDimension);
    label("y " + cut_text(is_.y, unit_), {centre.x + 5, (origin.y + centre.y) / 2 + 4});
    const bool leans_right = is_.tilt > 0 && std::cos(is_.lean) >= 0;  // there its arrow is
    label("x " + cut_text(is_.x, unit_), {centre.x + (leans_right ? -9 : 9), centre.y + (is_.y > 0 ? -6 : 14)},
          leans_right ? Anchor::right : Anchor::left);
    if (is_.tilt > 0) {
      // Toward where the axis leans, going up.
      const double length = 0.3 * radius_;
      const Place to = on_plan(is_.x + length * std::cos(is_.lean), is_.y + length * std::sin(is_.lean));
      page_.line({centre, to}, kCut);
      arrow(centre, to);
      label(fmt::format("leans {} deg", angle_text(is_.tilt)),
            {centre.x + (leans_right ? 9 : -9), centre.y + (is_.y > 0 ? -6 : 14)},
            leans_right ? Anchor::left : Anchor::right);
      // The section's line.
      const double far = radius_ * 1.04;
      const auto end = [&](double way) {
        const double ux = std::cos(is_.lean), uy = std::sin(is_.lean), across = is_.x * -uy + is_.y * ux;
        const double half = std::sqrt(std::max(0.0, far * far - across * across));
        return on_plan(across * -uy + way * half * ux, across * ux + way * half * uy);
      };
      page_.line({end(-1), end(1)}, {kGrey, 0.5, {2, 2}});
      label("A", end(-1));
      label("A", end(1));
    }
    label("pin", on_plan(0.8, radius_ * 0.97));
  }

  /// Under the plan: what the pocket is for.
  void gaps() const {
    double y = top_ + 44 + kPlanSize + 24;
    bool first = true;
    for (const AskedRow& row : result_.asked) {
      if (row.valve != valve_.name || !(row.required > 0) || row.what == "valve to bore") continue;
      if (first) page_.text("Gaps to the piston with these numbers, found of asked", {kMargin, y}, {kSmallSize - 1.5});
      first = false;
      y += 15.5;
      page_.text(row.what + (row.running ? ", running" : ""), {kMargin, y}, {kSmallSize - 1.5});
      page_.text(std::isfinite(row.found) ? fmt::format("{} of {} {}", lengths_.gap(row.found),
                                                        lengths_.required(row.required), lengths_.unit())
                                          : "none",
                 {kMargin + kPlanSize, y}, {kSmallSize - 1.5, true, kBlack, Anchor::right});
    }
  }

  void arrow(Place from, Place to) const {
    const double dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
    if (length < 1) return;
    const double ux = dx / length, uy = dy / length;
    page_.fill(
        {Polygon{
            to, {to.x - 8 * ux + 3 * uy, to.y - 8 * uy - 3 * ux}, {to.x - 8 * ux - 3 * uy, to.y - 8 * uy + 3 * ux}}},
        kBlack);
  }
  void label(const std::string& text, Place at, Anchor anchor = Anchor::left) const {
    page_.text(text, at, {kSmallSize - 1, true, kCutInk, anchor, true});
  }

  /// In the plane through the pocket's axis and its lean: across to the right (toward the lean), z up.
  void section() const {
    if (!tool_) return;
    const Box box{kMargin + kPlanSize + kGap, top_ + 44, kSheetWidth - kMargin, top_ + 44 + 190};
    page_.text(is_.tilt > 0 ? "SECTION A-A, through the pocket's axis, leaning side on the right"
                            : "SECTION through the pocket's axis",
               {box.left, top_ + 40}, {kSmallSize - 1, false, kGrey});
    const Vec3 along{std::cos(is_.lean), std::sin(is_.lean), 0};
    const double centre = is_.x * along.x + is_.y * along.y, off = is_.x * -along.y + is_.y * along.x;
    const double edge = std::sqrt(std::max(0.0, radius_ * radius_ - off * off));
    const auto& piston = result_.engine.piston;
    const double under = piston.underside.value_or(is_.depth + 4);
    const auto top_at = [&](double u) {
      const Vec3 here = u * along + off * Vec3{-along.y, along.x, 0};
      return std::fabs(u) > edge ? 0.0 : crown_top(here.x, here.y);
    };
    // What is cut, and a third of it on either side.
    const Vec3 leans = tool_->up, outward = unit(along - dot(along, leans) * leans);
    double left = INFINITY, right = -INFINITY;
    for (int i = 0; i <= 400; ++i) {
      const double r = tool_->radius * (i - 200) / 200.0;
      const Vec3 floor = tool_->floor_centre + r * outward + floor_height(*tool_, std::fabs(r)) * leans;
      if (floor.z > top_at(dot(floor, along))) continue;
      left = std::min(left, dot(floor, along));
      right = std::max(right, dot(floor, along));
    }
    if (left > right) left = centre - 1, right = centre + 1;
    const double margin = 0.35 * (right - left) + 2;
    left = std::max(left - margin, -edge - 2), right = std::min(right + margin, edge + 2);
    const double high = std::max(0.12 * (right - left), highest() + 2);
    const double per_mm = std::min(box.width() / (right - left), (box.height() - 10) / (under + high + 2));
    const auto at = [&](double u, double z) {
      return Place{(box.left + box.right) / 2 + (u - (left + right) / 2) * per_mm, box.top + (high - z) * per_mm};
    };
    page_.within(box, [&] {
      const double from = std::max(left - 2, -edge), to = std::min(right + 2, edge);
      constexpr int kTop = 400;
      constexpr double kStep = 1;  // mm: more from place to place is the wall of a dish
      std::vector<Place> surface;
      for (int i = 0; i <= kTop; ++i) {
        const double u = from + (to - from) * i / kTop;
        surface.push_back(at(u, top_at(u)));
      }
      Polygon metal = surface;
      metal.push_back(at(to, -under));
      metal.push_back(at(from, -under));
      page_.fill({metal}, kMetal);
      page_.hatch({metal}, {kPale, 0.5}, 9);
      // The void: floor, corners, walls up to the crown's top.
      const Vec3 axis = tool_->up, out = unit(along - dot(along, axis) * axis);
      const double au = dot(axis, along), ou = dot(out, along);
      const Vec3 foot = tool_->floor_centre;
      const double fu = dot(foot, along);
      std::vector<Place> line;
      Polygon hollow;
      double before_u = NAN, before_over = NAN;
      const auto add = [&](double r, double w) {
        const double u = fu + r * ou + w * au, z = foot.z + r * out.z + w * axis.z;
        hollow.push_back(at(u, z));
        // It begins and ends in the crown's top itself.
        const double over = z - top_at(u);
        if (before_over * over < 0 && std::fabs(over - before_over) < kStep) {
          const double where = before_u + before_over / (before_over - over) * (u - before_u);
          line.push_back(at(where, top_at(where)));
        }
        if (over <= 0) line.push_back(at(u, z));
        before_u = u;
        before_over = over;
      };
      const double corner = tool_->corner, flat = tool_->radius - corner, up = 40 + is_.depth;
      for (int i = 0; i <= kWall; ++i) add(-tool_->radius, corner + up * (kWall - i) / kWall);
      for (int i = 0; i <= 8; ++i)
        add(-flat - corner * std::cos(kPi / 16 * i), corner - corner * std::sin(kPi / 16 * i));
      for (int i = 0; i <= 60; ++i) add(-flat + 2 * flat * i / 60, 0);
      for (int i = 8; i >= 0; --i)
        add(flat + corner * std::cos(kPi / 16 * i), corner - corner * std::sin(kPi / 16 * i));
      for (int i = 0; i <= kWall; ++i) add(tool_->radius, corner + up * i / kWall);
      page_.fill({hollow}, {1, 1, 1});
      Polygon above = surface;
      above.push_back(at(to, high + 50));
      above.push_back(at(from, high + 50));
      page_.fill({above}, {1, 1, 1});
      page_.line(surface, kOutline);
      if (highest() > 0 || piston.dish)
        page_.line({at(from, 0), at(to, 0)}, kOther);  // the flat, from which it is measured
      page_.line({at(from, -under), at(to, -under)}, piston.underside ? kOutline : kOther);
      for (const double side : {from, to})
        if (std::fabs(std::fabs(side) - edge) < 1e-9) {
          page_.line({at(side, 0), at(side, -under)}, kOutline);
          if (piston.top_land_height && piston.ring_groove_depth && off * off < 0.25 * radius_ * radius_) {
            const double inward = side > 0 ? -1 : 1;
            const Polygon groove{at(side, -*piston.top_land_height),
                                 at(side + inward * *piston.ring_groove_depth, -*piston.top_land_height),
                                 at(side + inward * *piston.ring_groove_depth, -*piston.top_land_height - 1.5),
                                 at(side, -*piston.top_land_height - 1.5)};
            page_.fill({groove}, {1, 1, 1});
            page_.line({groove[0], groove[1], groove[2], groove[3]}, kOutline);
          }
        }
      page_.line(line, kCut);
      if (left < centre && centre < right)  // of a wedge the axis may cross the crown flat outside of what is drawn
        page_.line({at(centre - 4 * au, -4 * axis.z - is_.depth), at(centre + 30 * au, 30 * axis.z)}, kCentre);
      // Depth at the deepest place.
      const double low_r = flat + corner * std::hypot(axis.x, axis.y);
      const double low_u = fu + low_r * ou + corner * (1 - axis.z) * au, low_z = lowest(*tool_);
      page_.line({at(low_u, 0), at(low_u, low_z)}, kDimension);
      arrow(at(low_u, 0), at(low_u, low_z));
      label("d " + cut_text(-lowest_inside(*tool_, radius_).value_or(-is_.depth), unit_),
            {at(low_u, low_z / 2).x + 5, at(low_u, low_z / 2).y + 4});
    });
    page_.text("crown flat", {box.left + 2, at(0, 0).y - 3}, {kSmallSize - 2, false, kGrey});
    if (!piston.underside)
      page_.text("underside NOT KNOWN", {box.left + 2, at(0, -under).y - 3}, {kSmallSize - 2, true, kBlack});
  }

  void numbers() const {
    double y = top_ + 256;
    const double left = kMargin + kPlanSize + kGap;
    const auto row = [&](const std::string& what, const std::string& is) {
      page_.text(what, {left, y}, {kSmallSize - 1.5});
      page_.text(is, {kSheetWidth - kMargin, y}, {kSmallSize - 1.5, true, kBlack, Anchor::right});
      y += 15.5;
    };
    row("x from the bore axis, + to the right from the rear", both(is_.x));
    row("y from the bore axis, along the pin, + to the front", both(is_.y));
    page_.text("(where the pocket's axis crosses the crown flat)", {left, y}, {kSmallSize - 2.5, false, kGrey});
    y += 13;
    row("axis tilted from the bore axis", fmt::format("{} deg", angle_text(is_.tilt)));
    if (is_.tilt > 0) row("leaning, going up, from +x toward the front", fmt::format("{} deg", angle_text(is_.lean)));
    if (highest() > 0) row("the crown stands over its flat by up to", both(highest()));
    row("cutter diameter, square to the axis", both(is_.diameter));
    row("cutter corner radius", is_.corner_radius > 0 ? both(is_.corner_radius) : "0, sharp");
    if (tool_) {
      row("d  deepest place below the crown flat", both(-lowest_inside(*tool_, radius_).value_or(-is_.depth)));
      const double along = -dot(tool_->floor_centre - Vec3{is_.x, is_.y, 0}, tool_->up);
      row(along >= 0 ? "floor below x, y, along the axis" : "floor ABOVE x, y, along the axis", both(std::fabs(along)));
      page_.text(along >= 0 ? ""
                 : highest() > 0
                     ? "(there the floor's plane is over the crown flat)"
                     : "(there the floor's plane is over the crown flat: the cutter meets its low side only)",
                 {left, y}, {kSmallSize - 2.5, false, kGrey});
      if (along < 0) y += 13;
    }
    bool stated = false;
    for (const char* what : {"x", "y", "diameter", "depth"}) {
      const auto found = result_.tolerance.find("pocket." + is_.name + "." + what);
      if (found == result_.tolerance.end()) continue;
      row(fmt::format("tolerance of {} in the engine file, either way", what), both(found->second));
      stated = true;
    }
    const char* const counted =
        stated ? "What these tolerances take is counted." : "No tolerance is stated: it counts as exact.";
    page_.text(result_.within ? counted
               : stated       ? "Sized at the middle: what the tolerance takes is not in these numbers."
                              : "No tolerance is stated. These are the least: agree one and add it.",
               {left, y}, {kSmallSize - 1.5, true});
    y += 18;
    for (const MetalLeft& wall : result_.left) {
      if (wall.pocket != is_.name && wall.other != is_.name + " pocket") continue;
      const std::string to = wall.pocket == is_.name ? name_beyond(wall) : wall.pocket + " pocket";
      row("crown left to the " + printable(to, 28),
          wall.state == MetalLeft::State::measured ? both_less(std::max(0.0, wall.low)) : metal_text(wall, lengths_));
    }
    const auto thin = [&](const MetalLeft& wall) {
      return (wall.pocket == is_.name || wall.other == is_.name + " pocket") && is_thin(wall);
    };
    if (std::ranges::any_of(result_.left, thin)) {
      page_.text(fmt::format("Walls below some {} {} glow and crack (common practice).", lengths_.place(kThinWall),
                             lengths_.unit()),
                 {left, y}, {kSmallSize - 1.5, true});
      y += 15;
    }
    for (const Miss& miss : one_.misses) {
      page_.text("DOES NOT LEAVE " + printable(miss.what, 40) + shortfall_text(miss, result_, lengths_), {left, y},
                 {kSmallSize, true});
      y += 15;
    }
  }

  Page& page_;
  const PocketResult& result_;
  const SizedPocket& one_;
  const Pocket& is_;
  Lengths lengths_;
  LengthUnit unit_;  ///< of numbers in the drawing; the table has both
  const Valve& valve_;
  double radius_;
  std::optional<Tool> tool_;
  double top_;
};

void draw_head(Page& page, const PocketResult& result, const Format& format, const std::string& title) {
  page.text(fitted(title, 17, kSheetWidth - 2 * kMargin - 70, true), {kMargin, 34}, {17, true});
  page.text(
      fmt::format("Datums: bore axis, piston pin (along y), crown flat. Numbers in the drawing in {}. Not to scale: "
                  "take no length off it.",
                  Lengths(format).unit_in_full()),
      {kMargin, 54}, {kSmallSize});
  std::string condition = "NOT EVERYTHING THAT IS ASKED HOLDS: do not cut.";
  if (result.fits())
    condition = result.within ? fmt::format("Asked gaps of valves to the piston hold {}; nothing more is in hand.",
                                            within_text(*result.within))
                              : "Everything that is asked holds with these numbers; nothing is in hand.";
  page.text(condition, {kMargin, 72}, {kSmallSize, true});
}

void draw_foot(Page& page) {
  double y = page.height() - kFootHeight + 18;
  for (const std::string& line : text_lines(
           "Caution: an aid, no permission to cut. Crown left is by the numbers in the engine file, for a new piston: "
           "ribs, oil holes, ring carriers and heat are not in it. Measure the crown first; the piston maker's limits "
           "rule. Weigh and balance the pistons after. Confirm on the assembled engine, turned by hand.",
           kSmallSize, kSheetWidth - 2 * kMargin)) {
    page.text(line, {kMargin, y}, {kSmallSize});
    y += 15;
  }
}

}  // namespace

Page draw_pocket_sheet(const PocketResult& result, PlotFile kind, const Format& format) {
  std::vector<const SizedPocket*> drawn;
  for (const SizedPocket& one : result.pockets)
    if (one.needed || one.before) drawn.push_back(&one);
  const std::string title = "Pockets: " + printable(result.engine_name, 120);
  // A picture has all pockets one under another. A PDF is printed: each has a page with head and caution of its own.
  const bool paged = kind == PlotFile::pdf;
  const std::size_t panels = paged ? 1 : std::max<std::size_t>(1, drawn.size());
  Page page(kind, kSheetWidth, kHeadHeight + kPanelHeight * static_cast<double>(panels) + kFootHeight, title,
            Page::Paper::a4);
  draw_head(page, result, format, title);
  draw_foot(page);
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    if (paged && i > 0) {
      page.next();
      draw_head(page, result, format, title);
      draw_foot(page);
    }
    PocketPanel(page, result, *drawn[i], format, kHeadHeight + (paged ? 0.0 : kPanelHeight * static_cast<double>(i)))
        .draw();
    if (paged && drawn.size() > 1)
      page.text(fmt::format("{} of {}", i + 1, drawn.size()), {kSheetWidth - kMargin, 34},
                {kSmallSize, false, kGrey, Anchor::right});
  }
  if (drawn.empty()) page.text("No pocket is needed.", {kMargin, kHeadHeight + 30}, {14, true});
  return page;
}

}  // namespace eyebrow::plot

namespace eyebrow {

std::string pocket_sheet(const PocketResult& result, PlotFile kind, const Format& format) {
  return plot::draw_pocket_sheet(result, kind, format).finish();
}

}  // namespace eyebrow
