// How far known lobes that pass through the same card differ: walked to the ends of what they may be.
#pragma once
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "motion/made_lobes.hpp"

namespace eyebrow::made {

/// Every lobe counted passes through the card's points to this part of the lift, as those of `fitted` do.
inline constexpr double kOnCard = 1e-5;

/// Lobes of one family that pass through a card, moved so that the lift at one angle grows or falls as far as it goes.
class Walk {
 public:
  Walk(const Family& family, const std::vector<CardPoint>& card) : family_(family), card_(card) {}

  /// From `from` on: along the slope of the lift at `angle` (`way` 1: up, -1: down) in the directions that leave the
  /// card's points where they are, back onto the card, half as far where that leads to no lobe or no better one.
  Fitted furthest(Fitted from, double angle, double way) const {
    double reach = kFirstStep;
    while (reach > kLastStep) {
      const Eigen::VectorXd at = numbers_of(from);
      const std::optional<Eigen::MatrixXd> slope = slopes(from, angle);
      if (!slope) break;
      const Eigen::VectorXd direction = along(at, *slope, way);
      const double most = direction.cwiseAbs().maxCoeff();
      if (!(most > 1e-9)) break;
      bool moved = false;
      for (; reach > kLastStep && !moved; reach /= 2) {
        auto next = onto_card(at + reach / most * direction, *slope);
        if (!next || !(way * (next->at(angle) - from.at(angle)) > kNoGain)) continue;
        from = *std::move(next);
        moved = true;
        reach *= 4;
      }
    }
    return from;
  }

  /// A lobe of the card beside `from`: its numbers moved by `by` as far as the card's points allow, to first order, and
  /// back onto the card. Nothing where that leads nowhere.
  std::optional<Fitted> beside(const Fitted& from, const Eigen::VectorXd& by) const {
    const std::optional<Eigen::MatrixXd> slope = slopes(from, card_.front().angle / 2);
    if (!slope) return std::nullopt;
    const Eigen::VectorXd at = numbers_of(from);
    const Eigen::VectorXd move = within_cube(at, *slope, [&](const Eigen::MatrixXd& free) -> Eigen::VectorXd {
      Eigen::VectorXd moved = by;
      for (Eigen::Index j = 0; j < width(); ++j)
        if (free.col(j).isZero(0)) moved(j) = 0;
      const Eigen::MatrixXd card = free.topRows(points());
      return moved - card.transpose() * square(card).ldlt().solve(card * moved);
    });
    return onto_card(at + move, *slope);
  }

 private:
  static constexpr double kFirstStep = 0.1, kLastStep = 2e-3, kNoGain = 1e-6;
  static constexpr int kMostSteps = 16, kMostAnew = 3;
  Eigen::Index width() const { return static_cast<Eigen::Index>(family_.numbers) + 1; }
  Eigen::Index points() const { return static_cast<Eigen::Index>(card_.size()); }

  /// The unit cube's, then the logarithm of the length.
  Eigen::VectorXd numbers_of(const Fitted& lobe) const {
    Eigen::VectorXd at(width());
    for (Eigen::Index j = 0; j + 1 < width(); ++j) at(j) = lobe.numbers[static_cast<std::size_t>(j)];
    at(width() - 1) = std::log(lobe.length);
    return at;
  }

  std::optional<Fitted> made(const Eigen::VectorXd& at) const {
    std::vector<double> numbers(at.data(), at.data() + at.size() - 1);
    auto flank = family_.make(numbers);
    if (!flank) return std::nullopt;
    return Fitted{*std::move(flank), std::exp(at(at.size() - 1)), std::move(numbers)};
  }

  /// Lifts in the card's points less the card's, and the lift at `angle` below them.
  Eigen::VectorXd lifts(const Fitted& lobe, double angle) const {
    Eigen::VectorXd r(points() + 1);
    for (Eigen::Index i = 0; i < points(); ++i)
      r(i) = lobe.at(card_[static_cast<std::size_t>(i)].angle) - card_[static_cast<std::size_t>(i)].height;
    r(points()) = lobe.at(angle);
    return r;
  }

  std::optional<Eigen::MatrixXd> slopes(const Fitted& here, double angle) const {
    constexpr double kSmall = 1e-3;
    const Eigen::VectorXd at = numbers_of(here), lift = lifts(here, angle);
    Eigen::MatrixXd slope(points() + 1, width());
    for (Eigen::Index j = 0; j < width(); ++j) {
      Eigen::VectorXd beside = at;
      const double by = j + 1 < width() && at(j) > 0.5 ? -kSmall : kSmall;
      beside(j) += by;
      const auto there = made(beside);
      if (!there) return std::nullopt;
      slope.col(j) = (lifts(*there, angle) - lift) / by;
    }
    return slope;
  }

  /// Is number j at a face of the cube that the move would leave through?
  bool leaves(const Eigen::VectorXd& at, const Eigen::VectorXd& move, Eigen::Index j) const {
    return j + 1 < width() && ((at(j) <= 0 && move(j) < 0) || (at(j) >= 1 && move(j) > 0));
  }

  /// `move` of the slopes of those numbers that are free to go; the others' are zero. Numbers at the cube's faces that
  /// would leave it are held, one set after the other.
  template <typename Move>
  Eigen::VectorXd within_cube(const Eigen::VectorXd& at, const Eigen::MatrixXd& slope, const Move& move) const {
    Eigen::MatrixXd free = slope;
    for (;;) {
      const Eigen::VectorXd moved = move(free);
      bool held = false;
      for (Eigen::Index j = 0; j < width(); ++j) {
        if (free.col(j).isZero(0) || !leaves(at, moved, j)) continue;
        free.col(j).setZero();
        held = true;
      }
      if (!held) return moved;
    }
  }

  /// The lift's slope less what would move the card's points.
  Eigen::VectorXd along(const Eigen::VectorXd& at, const Eigen::MatrixXd& slope, double way) const {
    return within_cube(at, slope, [&](const Eigen::MatrixXd& free) -> Eigen::VectorXd {
      const Eigen::MatrixXd card = free.topRows(points());
      const Eigen::VectorXd lift = way * free.row(points()).transpose();
      return lift - card.transpose() * square(card).ldlt().solve(card * lift);
    });
  }

  static Eigen::MatrixXd square(const Eigen::MatrixXd& card) {
    return card * card.transpose() + 1e-9 * Eigen::MatrixXd::Identity(card.rows(), card.rows());
  }

  /// Newton's steps of least length, with the slope that is known until it leads on no more, then with that of the
  /// place.
  std::optional<Fitted> onto_card(Eigen::VectorXd at, Eigen::MatrixXd slope) const {
    at.head(width() - 1) = at.head(width() - 1).cwiseMax(0.0).cwiseMin(1.0);
    double before = INFINITY;
    int anew = 0;
    for (int step = 0; step < kMostSteps; ++step) {
      auto lobe = made(at);
      if (!lobe) return std::nullopt;
      const Eigen::VectorXd miss = lifts(*lobe, 0).head(points());
      const double most = miss.cwiseAbs().maxCoeff();
      if (most < kOnCard) {
        if (!lobe->flank.falls() || !lobe->flank.plausible()) return std::nullopt;
        return lobe;
      }
      if (!(most < before / 2)) {
        if (++anew > kMostAnew) return std::nullopt;
        const auto here = slopes(*lobe, card_.front().angle / 2);
        if (!here) return std::nullopt;
        slope = *here;
      }
      before = most;
      at += within_cube(at, slope, [&](const Eigen::MatrixXd& free) -> Eigen::VectorXd {
        const Eigen::MatrixXd card = free.topRows(points());
        return -card.transpose() * square(card).ldlt().solve(miss);
      });
      at.head(width() - 1) = at.head(width() - 1).cwiseMax(0.0).cwiseMin(1.0);
    }
    return std::nullopt;
  }

  const Family& family_;
  const std::vector<CardPoint>& card_;
};

/// Random lobes of each family, to begin with those that are nearest to a card.
class Shelves {
 public:
  explicit Shelves(unsigned seed) {
    constexpr std::size_t kEach = 300;
    Lobes random(seed);
    for (const std::vector<Family>* list : {&families(), &blends()}) {
      for (const Family& family : *list) {
        std::vector<Drawn> shelf;
        while (shelf.size() < kEach) {
          std::vector<double> numbers = random.cube(family.numbers);
          auto flank = family.make(numbers);
          if (flank && flank->falls() && flank->plausible())
            shelf.push_back({*std::move(flank), family, std::move(numbers)});
        }
        shelves_.push_back(std::move(shelf));
      }
    }
  }

  /// Of each family so many, drawn out to pass through one of the card's points: the nearest to the others.
  std::vector<const Drawn*> near(const std::vector<CardPoint>& card, std::size_t count) const {
    const CardPoint& norm = card[card.size() > 2 ? 1 : 0];
    std::vector<const Drawn*> found;
    for (const std::vector<Drawn>& shelf : shelves_) {
      std::vector<std::pair<double, const Drawn*>> off;
      for (const Drawn& drawn : shelf) {
        const double length = norm.angle / drawn.flank.place(norm.height);
        double sum = 0;
        for (const CardPoint& point : card) {
          const double miss = drawn.flank.at(point.angle / length) - point.height;
          sum += std::pow(miss / (point.height * (1 - point.height)), 2);
        }
        off.push_back({sum, &drawn});
      }
      std::sort(off.begin(), off.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
      for (std::size_t i = 0; i < std::min(count, off.size()); ++i) found.push_back(off[i].second);
    }
    return found;
  }

 private:
  std::vector<std::vector<Drawn>> shelves_;
};

/// How much is walked for a card.
struct Effort {
  std::size_t near;  ///< lobes of each family to begin with
  int starts;        ///< families from whose best lobe is walked, for each angle and way
  int kicks;         ///< walks more from beside the best
};

/// A lobe that passes through a card.
struct OnCard {
  const Family* family;
  Fitted fit;
};

/// Lobes that pass through the card: `known`, which the card is of, others from the shelves, and for some angles
/// between the card's points, from half the lowest's on, those whose lift there is the least and the greatest that was
/// found. Not all there are: the ends of what fits lie no nearer than these.
inline std::vector<OnCard> extremes(const Drawn& known, double length, const std::vector<CardPoint>& card,
                                    const Shelves& shelves, const Effort& effort) {
  std::vector<OnCard> lobes{{&known.family, {known.flank, length, known.numbers}}};
  for (const Drawn* near : shelves.near(card, effort.near))
    if (auto fit = fitted(near->family, near->numbers, card)) lobes.push_back({&near->family, *std::move(fit)});

  std::vector<double> edges;
  for (const CardPoint& point : card) edges.push_back(std::max(point.angle, card.front().angle / 2));
  edges.push_back(card.front().angle / 2);
  std::vector<double> targets;
  for (std::size_t i = 1; i < edges.size(); ++i) {
    const double gap = edges[i - 1] - edges[i];
    const int parts = static_cast<int>(std::ceil(gap / 0.35));  // crank radians
    for (int part = 0; part < parts; ++part) targets.push_back(edges[i] + gap * (part + 0.5) / parts);
  }

  Lobes random(5);
  for (const double target : targets) {
    for (const double way : {1.0, -1.0}) {
      const auto better = [&](const OnCard& a, const OnCard& b) {
        return way * a.fit.at(target) > way * b.fit.at(target);
      };
      // The best of each family.
      std::vector<OnCard> best;
      for (const OnCard& lobe : lobes) {
        const auto same =
            std::find_if(best.begin(), best.end(), [&](const OnCard& b) { return b.family == lobe.family; });
        if (same == best.end())
          best.push_back(lobe);
        else if (better(lobe, *same))
          *same = lobe;
      }
      std::sort(best.begin(), best.end(), better);
      const auto starts = std::min<std::size_t>(static_cast<std::size_t>(effort.starts), best.size());
      best.resize(starts);
      for (OnCard& lobe : best) lobe.fit = Walk(*lobe.family, card).furthest(lobe.fit, target, way);
      std::sort(best.begin(), best.end(), better);
      for (int kick = 0; kick < effort.kicks; ++kick) {
        // Each third from the second best family.
        OnCard& from = best[kick % 3 == 2 && best.size() > 1 ? 1 : 0];
        const Walk walk(*from.family, card);
        Eigen::VectorXd by(static_cast<Eigen::Index>(from.family->numbers) + 1);
        for (double& each : by) each = between(-0.3, 0.3, random.unit());
        by(by.size() - 1) *= 0.2;
        const auto beside = walk.beside(from.fit, by);
        if (!beside) continue;
        OnCard reached{from.family, walk.furthest(*beside, target, way)};
        if (better(reached, from)) from = std::move(reached);
        if (best.size() > 1 && better(best[1], best[0])) std::swap(best[0], best[1]);
      }
      lobes.insert(lobes.end(), best.begin(), best.end());
    }
  }
  return lobes;
}

}  // namespace eyebrow::made
