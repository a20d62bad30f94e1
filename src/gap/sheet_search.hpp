// The least of a convex function over sheets, by branch and bound.
#pragma once
#include <cmath>
#include <limits>
#include <optional>

#include "dish.hpp"
#include "edge_search.hpp"
#include "sheet_set.hpp"
#include "tolerances.hpp"
#include "valve_frame.hpp"
#include "way.hpp"

namespace eyebrow::gap {

/// A convex function has a linear one under it at every place where it is known, and what is least of a linear function
/// over a sheet is known exactly. Where the function is not defined (a line that misses the valve) a half space is
/// known that holds all places where it may be; Lagrange's way joins the two: the bound with the half space's condition
/// at the best price.
///
/// Function: `double floor(Vec3 q, double spread) const`, a lower bound over a ball; `Way at(Vec3 q, double spread)
/// const`, its value as a length with a linear bound that holds over the ball, or the half space outside which it is
/// not defined; `bool counts(Vec3 q, int face, double& value) const`, whether the place may be told, and with what
/// value, which is no less than the length; `bool skips(Vec3 q, const Sheet&) const`: does no place of the sheet count?
/// `bool cuts(Vec3 q, const Sheet&, bool& around) const`, if there is one, says which way to halve a sheet;
/// `void more(Vec3 centre, const Sheet&, offer) const`, if there is one, offers places where a sheet may be least.
/// Places q: valve's axes, origin at the rim-plane centre.
///
/// A function may be the greater of two, of which the second is not convex (what a dish changes): `Beside beside(Vec3
/// q, double spread, double aside) const`, of the places within both a ball and a distance in the half plane. Both
/// linear bounds hold, and so does every mixture of them; where the two functions meet, only the mixture at the best
/// price comes near.
template <class Function>
class SheetSearch {
 public:
  /// `centre`: the rim-plane centre in the sheets' axes. `enough`: a least of this ends the search.
  SheetSearch(const SheetSet& set, const Function& function, Vec3 centre, double tolerance, long budget, Nearest& best,
              double enough = -std::numeric_limits<double>::infinity())
      : set_(set),
        function_(function),
        centre_(centre),
        tolerance_(tolerance),
        budget_(budget),
        enough_(enough),
        best_(best) {}

  /// Lowers `best`; what it misses lies no more than the tolerance below. False when it gave up.
  bool run() {
    if (!set_.empty()) {
      const SheetSet::Node& root = set_.nodes()[0];
      if (beats(function_.floor(root.centre - centre_, root.radius))) open(root);
    }
    return opened_ <= budget_;
  }

 private:
  /// base + slope . q + slope_r r. An objective is nowhere less than that, in its domain it is not positive.
  struct Bound {
    bool known = false;
    Vec3 slope;
    double slope_r = 0, base = 0;
    double at(Vec3 q) const { return base + dot(slope, q) + slope_r * std::sqrt(q.x * q.x + q.y * q.y); }
  };
  /// The linear bound of the second function, how that bends away from it, and its share in the mixture.
  struct Second {
    Bound bound;
    double bend = 0, price = 0;
  };
  static Bound through(Vec3 q, double value, Vec3 slope, double slope_r) {
    Bound bound{true, slope, slope_r, 0};
    bound.base = value - bound.at(q);
    return bound;
  }

  static constexpr bool kTwofold = requires(const Function& f, Vec3 q) { f.beside(q, 0.0, 0.0); };
  static constexpr bool kLinear = requires { Function::kBesideIsLinear; };

  bool beats(double bound) const { return bound < best_.value - tolerance_ && best_.value > enough_; }

  void open(const SheetSet::Node& node) {
    if (node.sheet >= 0) return visit(set_.sheet(node.sheet), {}, {});
    const SheetSet::Node* child[2] = {&set_.nodes()[static_cast<std::size_t>(node.left)],
                                      &set_.nodes()[static_cast<std::size_t>(node.right)]};
    double low[2];
    for (int k : {0, 1}) low[k] = function_.floor(child[k]->centre - centre_, child[k]->radius);
    if (low[1] < low[0]) {
      std::swap(low[0], low[1]);
      std::swap(child[0], child[1]);
    }
    for (int k : {0, 1})
      if (beats(low[k])) open(*child[k]);
  }

  /// How much more the second function is than the first.
  double excess(Vec3 q, const Bound& first, const Bound& second) const {
    if constexpr (kLinear) return second.at(q) - first.at(q);
    if constexpr (kTwofold) return function_.beside(q, 0, 0).value - function_.at(q, 0).length;
    return 0;
  }

  void offer(const Sheet& sheet, Vec3 q, const Way& way) {
    double value = way.length;
    if (!way.met || way.length >= best_.value || !set_.on_face(sheet, q + centre_)) return;
    if (!function_.counts(q, sheet.form->face, value) || value >= best_.value) return;
    best_.value = value;
    best_.point = q;
    best_.face = sheet.form->face;
  }

  void visit(const Sheet& sheet, Bound objective, Bound domain, int depth = 0) {
    if (++opened_ > budget_) return;
    const Vec3 q = sheet.centre - centre_;
    double bound = function_.floor(q, sheet.radius);
    if (!beats(bound) || function_.skips(q, sheet)) return;
    const Way way = function_.at(q, sheet.radius);
    if (way.met) {
      offer(sheet, q, way);
      objective = through(q, way.length, way.slope, way.slope_r);
    } else {
      domain = through(q, way.by, way.outside, way.outside_r);
    }
    Vec3 toward = q;
    std::optional<AboutAxis> about;
    if (kTwofold || objective.slope_r != 0 || domain.slope_r != 0) about.emplace(sheet, centre_);
    Second second;
    if (domain.known && least_of(sheet, about, domain).value > 0) return;
    if (objective.known) {
      const Sheet::Least least = least_of(sheet, about, objective);
      bound = std::max(bound, least.value);
      if (!beats(bound)) return;
      toward = least.point;
      if (domain.known) bound = std::max(bound, priced(sheet, about, objective, domain, toward));
      if (!beats(bound)) return;
      if constexpr (kTwofold) {
        const Beside beside = function_.beside(q, sheet.radius, about->aside());
        if (beside.known) {
          second.bend = beside.bend;
          second.bound = through(q, beside.value - beside.error, beside.slope, beside.slope_r);
          bound = std::max(bound, mixed(sheet, about, objective, second, least, toward));
          if (!beats(bound)) return;
        }
      }
      offer(sheet, toward, function_.at(toward, 0));
      if (!beats(bound)) return;
    }
    if constexpr (requires { function_.more(centre_, sheet, [](Vec3) {}); }) {
      double least = std::numeric_limits<double>::infinity();
      function_.more(centre_, sheet, [&](Vec3 place) {
        const Way there = function_.at(place, 0);
        offer(sheet, place, there);
        if (!there.met || there.length >= least || !set_.on_face(sheet, place + centre_)) return;
        least = there.length;
        toward = place;
      });
      if (!beats(bound)) return;
    }
    if (sheet.radius < kBrink) return leave(sheet, q, way, bound);
    if (depth > kSheetDepth) {
      opened_ = budget_ + 1;
      return;
    }
    std::array<Sheet, 2> half = sheet.halves(around(sheet, objective, second));
    const Vec3 off[2] = {half[0].centre - centre_ - toward, half[1].centre - centre_ - toward};
    if (dot(off[1], off[1]) < dot(off[0], off[0])) std::swap(half[0], half[1]);
    for (Sheet& part : half)
      if (set_.keep(part)) visit(part, objective, domain, depth + 1);
  }

  /// The least may be approached at the border of where the function is defined: a place this near counts.
  void leave(const Sheet& sheet, Vec3 q, Way way, double bound) {
    way.met = true;
    way.length = bound;
    offer(sheet, q, way);
  }

  /// Which way to halve a sheet: where the function bends away from its linear bound most, else across the longer way.
  /// A straight wall beside a coaxial rim would be cut into squares for nothing.
  bool around(const Sheet& sheet, const Bound& objective, const Second& second) const {
    const SheetForm& form = *sheet.form;
    if constexpr (requires(bool& cut) { function_.cuts(Vec3{}, sheet, cut); })
      if (bool cut = false; function_.cuts(sheet.centre - centre_, sheet, cut)) return cut;
    if (form.edge || !objective.known) return sheet.longer_around();
    double bends[2] = {0, 0};
    for (int side : {0, 1})
      for (int k : {0, 1}) {
        const auto end = static_cast<std::size_t>(k);
        const Vec3 q =
            (side == 0 ? sheet.at(sheet.u[end], sheet.middle_v) : sheet.at(sheet.middle_u, sheet.v[end])) - centre_;
        const Way way = function_.at(q, sheet.radius);
        if (!way.met) return sheet.longer_around();
        double bend = (1 - second.price) * (way.length - objective.at(q));
        if (second.price > 0) {
          const Vec3 middle = sheet.centre - centre_;
          const double out = radius_of(q) - radius_of(middle), up = q.z - middle.z;
          bend += second.price * second.bend * (out * out + up * up);
        }
        bends[side] = std::max(bends[side], bend);
      }
    if (std::max(bends[0], bends[1]) < 0.1 * tolerance_) return sheet.longer_around();
    return bends[0] > bends[1];
  }

  Sheet::Least least_of(const Sheet& sheet, const std::optional<AboutAxis>& axis, const Bound& bound) const {
    Sheet::Least about{-std::numeric_limits<double>::infinity(), {}, {}, {}};
    if (bound.slope_r != 0) {
      about = axis->least(bound.slope, bound.slope_r);
      about.value += bound.base;
      if (!beats(about.value)) return about;
    }
    Vec3 slope = bound.slope;
    double base = bound.base;
    const Vec3 middle = sheet.centre - centre_;
    const double r = std::sqrt(middle.x * middle.x + middle.y * middle.y);
    if (bound.slope_r < 0 && r == 0) return about;
    if (bound.slope_r != 0 && r > 0) {  // a distance from the axis lies above its tangent plane, this little
      slope.x += bound.slope_r * middle.x / r;
      slope.y += bound.slope_r * middle.y / r;
      if (bound.slope_r < 0) base += bound.slope_r * sheet.radius * sheet.radius / (2 * r);
    }
    Sheet::Least least = sheet.least_along(slope);
    least.value += base - dot(slope, centre_);
    least.point = least.point - centre_;
    return about.value > least.value ? about : least;
  }

  /// The greatest over 0 <= p <= 1 of the least of (1 - p) first + p second: concave in p, so that its tangents, from
  /// either side, show where to look and when to stop. `toward`: a place where the two functions are about the same.
  double mixed(const Sheet& sheet, const std::optional<AboutAxis>& about, const Bound& first, Second& of,
               const Sheet::Least& least, Vec3& toward) const {
    constexpr int kMost = 12;
    const Bound& second = of.bound;
    const auto rise = [&](const Sheet::Least& at) { return second.at(at.point) - first.at(at.point); };
    struct Cut {
      double price;
      Sheet::Least least;
      double rise;
    };
    Cut low{0, least, rise(least)};
    if (low.rise <= 0) return least.value;
    Cut high{1, least_of(sheet, about, second), 0};
    high.rise = rise(high.least);
    double most = std::max(least.value, high.least.value);
    if (high.rise >= 0) {
      of.price = 1;
      toward = high.least.point;
    }
    if (high.rise >= 0 || !beats(most)) return most;
    for (int i = 0; i < kMost; ++i) {
      const double price =
          (high.least.value - low.least.value + low.price * low.rise - high.price * high.rise) / (low.rise - high.rise);
      if (!(price > low.price && price < high.price)) break;
      of.price = price;
      if (beats(low.least.value + (price - low.price) * low.rise)) break;
      Cut cut{price, {}, 0};
      cut.least = least_of(
          sheet, about,
          {true, (1 - price) * first.slope + price * second.slope, (1 - price) * first.slope_r + price * second.slope_r,
           (1 - price) * first.base + price * second.base});
      cut.rise = rise(cut.least);
      most = std::max(most, cut.least.value);
      if (!beats(most)) return most;
      (cut.rise > 0 ? low : high) = cut;
    }
    toward = meeting(sheet, low.least, high.least, first, second);
    return most;
  }

  /// Where on the way between two places of a sheet the two functions are about the same: false position.
  Vec3 meeting(const Sheet& sheet, const Sheet::Least& from, const Sheet::Least& to, const Bound& first,
               const Bound& second) const {
    constexpr int kMost = 5;
    double low = 0, high = 1, at_low = excess(from.point, first, second), at_high = excess(to.point, first, second);
    if (at_low <= 0 || at_high >= 0) return at_low <= 0 ? from.point : to.point;
    Vec3 q;
    for (int i = 0; i < kMost; ++i) {
      const double share = low + at_low / (at_low - at_high) * (high - low);
      q = sheet.between(from, to, share) - centre_;
      const double here = excess(q, first, second);
      if (std::fabs(here) < 0.1 * tolerance_) break;
      // The end that stays counts half the next time, so that it does not stay for good.
      if (here > 0) {
        low = share;
        at_low = here;
        at_high *= 0.5;
      } else {
        high = share;
        at_high = here;
        at_low *= 0.5;
      }
    }
    return q;
  }

  /// The greatest over p >= 0 of the least of objective + p domain: the domain's value at the place of the least tells
  /// which way p has to go.
  double priced(const Sheet& sheet, const std::optional<AboutAxis>& about, const Bound& objective, const Bound& domain,
                Vec3& toward) const {
    constexpr int kMost = 12;
    double most = -std::numeric_limits<double>::infinity(), low = 0, high = 0, price = 0;
    const double size = norm(domain.slope) + domain.slope_r;
    for (int i = 0; i < kMost; ++i) {
      const Sheet::Least least =
          least_of(sheet, about,
                   {true, objective.slope + price * domain.slope, objective.slope_r + price * domain.slope_r,
                    objective.base + price * domain.base});
      if (least.value > most) {
        most = least.value;
        toward = least.point;
        if (!beats(most)) return most;
      }
      if (domain.at(least.point) > 0) {
        low = price;
        price = high > 0
                    ? 0.5 * (low + high)
                    : std::max(2 * price, 0.5 * (norm(objective.slope) + objective.slope_r) / std::max(size, 1e-9));
      } else {
        if (price == 0) return most;
        high = price;
        price = 0.5 * (low + high);
      }
    }
    return most;
  }

  const SheetSet& set_;
  const Function& function_;
  Vec3 centre_;
  double tolerance_;
  long budget_;
  double enough_;
  Nearest& best_;
  long opened_ = 0;
};

}  // namespace eyebrow::gap
