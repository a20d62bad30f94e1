#include "study/stack_fit.hpp"

#include <algorithm>
#include <cmath>

#include "study/tolerances.hpp"

namespace eyebrow::study {
namespace {

/// Shares of all work that the steps end at.
constexpr double kEndsDone = 0.25, kSidesDone = 0.3, kChecksDone = 0.5, kBranchesDone = 0.6, kPairsDone = 0.9,
                 kRefitDone = 1;

StackPoint alone_at(std::size_t drivers, std::size_t driver, double place) {
  StackPoint point(drivers, 0);
  point[driver] = place;
  return point;
}

class Fitting {
 public:
  Fitting(StackEngines& engines, std::size_t drivers, std::size_t gaps, std::uint64_t seed)
      : engines_(engines), drivers_(drivers), seed_(seed) {
    fit_.gaps.resize(gaps);
    fit_.reach.down.assign(drivers, 1);
    fit_.reach.up.assign(drivers, 1);
  }

  StackFit run() {
    for (std::size_t driver = 0; driver < drivers_; ++driver) shapes_.push_back(engines_.shapes(driver));
    find_ahead();
    find_sides();
    for (std::size_t gap = 0; gap < fit_.gaps.size(); ++gap) fit_sides(gap);
    draw_checks();
    engines_.find(fit_.checks, kSidesDone, kChecksDone);
    for (const StackFitted& of : fit_.gaps) plain_.push_back(of);
    for (std::size_t gap = 0; gap < fit_.gaps.size(); ++gap) check(gap);
    fit_branches(kBranchesDone);
    fit_pairs();
    fit_branches(kRefitDone);
    return std::move(fit_);
  }

 private:
  double& reach(std::size_t driver, bool up) { return (up ? fit_.reach.up : fit_.reach.down)[driver]; }
  double place(std::size_t driver, bool up) { return up ? reach(driver, true) : -reach(driver, false); }

  /// Where fields serve all engines, all that are asked for below are computed in one go: fields are made once.
  void find_ahead() {
    for (std::size_t driver = 0; driver < drivers_; ++driver)
      if (!engines_.in_fields(driver)) return;
    draw_checks();
    std::vector<StackPoint> points = fit_.checks;
    points.emplace_back(drivers_, 0);
    for (std::size_t driver = 0; driver < drivers_; ++driver)
      for (const bool up : {false, true}) {
        points.push_back(end(driver, up));
        points.push_back(half(driver, up));
      }
    engines_.find(points, 0, kEndsDone);
    drawn_ = 0;  // the same are drawn again, and drawn in where there is no engine
  }

  /// Each driver alone, all the way on both sides, drawn in where there is no engine; then halfway where it bends.
  void find_sides() {
    for (int round = 0;; ++round) {
      std::vector<StackPoint> points{StackPoint(drivers_, 0)};
      for (std::size_t driver = 0; driver < drivers_; ++driver)
        for (const bool up : {false, true}) points.push_back(end(driver, up));
      engines_.find(points, 0, kEndsDone);
      bool all = true;
      for (std::size_t driver = 0; driver < drivers_; ++driver)
        for (const bool up : {false, true}) {
          if (engines_.at(end(driver, up)).possible()) continue;
          all = false;
          if (round < kStackDrawnIn) reach(driver, up) *= 0.5;
        }
      if (all || round == kStackDrawnIn) break;
    }
    std::vector<StackPoint> points;
    for (std::size_t driver = 0; driver < drivers_; ++driver) {
      bends_.push_back(bends(driver));
      if (!bends_.back()) continue;
      for (const bool up : {false, true}) points.push_back(half(driver, up));
    }
    engines_.find(points, kEndsDone, kSidesDone);
  }

  StackPoint end(std::size_t driver, bool up) { return alone_at(drivers_, driver, place(driver, up)); }
  StackPoint half(std::size_t driver, bool up) { return alone_at(drivers_, driver, 0.5 * place(driver, up)); }

  bool bends(std::size_t driver) {
    const double down = reach(driver, false), up = reach(driver, true);
    if (down != up) return true;
    for (std::size_t gap = 0; gap < fit_.gaps.size(); ++gap) {
      const double nominal = engines_.gap(StackPoint(drivers_, 0), gap), low = engines_.gap(end(driver, false), gap),
                   high = engines_.gap(end(driver, true), gap);
      if (std::isnan(nominal) && std::isnan(low) && std::isnan(high)) continue;
      if (!(std::fabs(low + high - 2 * nominal) < kStackStraight)) return true;
    }
    return false;
  }

  /// Drivers that make other parts have few places over the checks, so that these share their solids.
  void draw_checks() {
    fit_.checks.clear();
    const std::size_t first = drawn_;
    const bool all = std::ranges::find(shapes_, false) == shapes_.end();
    for (std::size_t i = 0; i < (all ? 2 * kStackShapes : kStackChecks); ++i) {
      StackPoint point = anywhere(drivers_, seed_, StackStream::checks, first + i);
      if (!all) {
        const StackPoint shape = anywhere(drivers_, seed_, StackStream::checks, first + i % kStackShapes);
        for (std::size_t driver = 0; driver < drivers_; ++driver)
          if (shapes_[driver]) point[driver] = shape[driver];
      }
      fit_.checks.push_back(fit_.reach.within(point));
    }
    drawn_ += fit_.checks.size();
  }

  void fit_sides(std::size_t gap) {
    StackFitted& of = fit_.gaps[gap];
    const double nominal = engines_.gap(StackPoint(drivers_, 0), gap);
    of.surface = StackSurface(nominal, drivers_);
    bool some = !std::isnan(nominal), all = some;
    for (std::size_t driver = 0; driver < drivers_; ++driver)
      for (const bool up : {false, true}) {
        const double at_end = engines_.gap(end(driver, up), gap);
        const double at_half = bends_[driver] ? engines_.gap(half(driver, up), gap) : 0.5 * (nominal + at_end);
        const bool there = !std::isnan(at_half) && !std::isnan(at_end);
        some = some || !std::isnan(at_half) || !std::isnan(at_end);
        // Where there is no engine at all, nothing can be told, and samples are looked at one by one.
        if (there)
          of.surface.set_side(driver, up, reach(driver, up), at_half, at_end);
        else if (engines_.at(end(driver, up)).possible())
          all = false;
      }
    of.kind = !some ? StackFitted::Kind::nowhere : all ? StackFitted::Kind::surface : StackFitted::Kind::exact;
  }

  void check(std::size_t gap) { check(gap, fit_.gaps[gap]); }

  void check(std::size_t gap, StackFitted& of) const {
    if (of.kind != StackFitted::Kind::surface) return;
    double most = 0, squares = 0;
    std::size_t count = 0;
    for (const StackPoint& point : fit_.checks) {
      if (!engines_.at(point).possible()) continue;
      const double exact = engines_.gap(point, gap);
      if (std::isnan(exact)) {
        of.kind = StackFitted::Kind::exact;
        return;
      }
      const double off = std::fabs(of.surface.at(point) - exact);
      most = std::fmax(most, off);
      squares += off * off;
      ++count;
    }
    // Too few engines are there to say how far a surface is off.
    if (4 * count < fit_.checks.size()) {
      of.kind = StackFitted::Kind::exact;
      return;
    }
    of.residual = most;
    of.residual_rms = std::sqrt(squares / static_cast<double>(count));
  }

  /// Two drivers at a time where the surfaces are not good enough, those first that do most.
  void fit_pairs() {
    struct Two {
      std::size_t one, other;
      double weight;
    };
    std::vector<Two> twos;
    for (std::size_t one = 0; one < drivers_; ++one)
      for (std::size_t other = one + 1; other < drivers_; ++other) {
        double weight = 0;
        for (const StackFitted& of : fit_.gaps)
          if (of.kind == StackFitted::Kind::surface && of.residual > kStackFine && of.surface.matters(one) &&
              of.surface.matters(other))
            weight += std::fmin(greatest(of.surface, one), greatest(of.surface, other));
        if (weight > 0) twos.push_back({one, other, weight});
      }
    std::ranges::stable_sort(twos, std::greater(), &Two::weight);
    if (twos.size() > kStackPairs) twos.resize(kStackPairs);
    std::vector<StackPoint> corners;
    for (const Two& two : twos)
      for (const bool up : {false, true})
        for (const bool other_up : {false, true}) corners.push_back(corner(two.one, up, two.other, other_up));
    engines_.find(corners, kBranchesDone, kPairsDone);
    for (const std::size_t gap : not_fine()) {
      StackFitted of = plain_[gap];
      for (const Two& two : twos)
        for (const bool up : {false, true})
          for (const bool other_up : {false, true}) {
            const double exact = engines_.gap(corner(two.one, up, two.other, other_up), gap);
            if (!std::isnan(exact) && of.surface.matters(two.one) && of.surface.matters(two.other))
              of.surface.set_pair(two.one, place(two.one, up), two.other, place(two.other, other_up), exact);
          }
      keep_better(gap, of);
    }
  }

  std::vector<std::size_t> not_fine() const {
    std::vector<std::size_t> gaps;
    for (std::size_t gap = 0; gap < fit_.gaps.size(); ++gap)
      if (fit_.gaps[gap].kind == StackFitted::Kind::surface && fit_.gaps[gap].residual > kStackFine)
        gaps.push_back(gap);
    return gaps;
  }

  /// By the checks of now, which neither may have been fitted to.
  void keep_better(std::size_t gap, StackFitted other) {
    check(gap);
    check(gap, other);
    if (fit_.gaps[gap].kind == StackFitted::Kind::surface && other.residual < fit_.gaps[gap].residual)
      fit_.gaps[gap] = other;
  }

  /// Branches through all that is known, believed as far as new checks say.
  void fit_branches(double done) {
    const std::vector<std::size_t> gaps = not_fine();
    if (gaps.empty()) return;
    std::vector<std::pair<std::size_t, StackFitted>> branched;
    for (const std::size_t gap : gaps) {
      std::vector<StackPoint> points;
      std::vector<double> values;
      for (const auto& [point, cell] : engines_.all())
        if (cell.possible() && !std::isnan(cell.found[gap])) {
          points.push_back(point);
          values.push_back(cell.found[gap]);
        }
      std::vector<std::size_t> drivers;
      for (std::size_t driver = 0; driver < drivers_; ++driver)
        if (plain_[gap].surface.matters(driver)) drivers.push_back(driver);
      for (std::size_t branches = 1; branches <= kStackBranches; ++branches)
        if (StackBranches some =
                StackBranches::of(points, values, drivers, branches, seed_, [this] { engines_.poll(); });
            !some.empty()) {
          branched.emplace_back(gap, plain_[gap]);
          branched.back().second.surface.set_branches(std::move(some));
        }
    }
    draw_checks();
    engines_.find(fit_.checks, done, done);
    for (const std::size_t gap : gaps) check(gap);
    for (const auto& [gap, other] : branched) keep_better(gap, other);
  }

  StackPoint corner(std::size_t one, bool up, std::size_t other, bool other_up) {
    StackPoint point = alone_at(drivers_, one, place(one, up));
    point[other] = place(other, other_up);
    return point;
  }

  double greatest(const StackSurface& surface, std::size_t driver) {
    return std::fmax(std::fabs(surface.alone(driver, place(driver, true))),
                     std::fabs(surface.alone(driver, place(driver, false))));
  }

  StackEngines& engines_;
  std::size_t drivers_;
  std::uint64_t seed_;
  std::vector<bool> shapes_;        ///< one a driver, as StackEngines::shapes
  std::vector<bool> bends_;         ///< one a driver: was it computed halfway?
  std::size_t drawn_ = 0;           ///< checks
  std::vector<StackFitted> plain_;  ///< without pairs and branches
  StackFit fit_;
};

}  // namespace

double StackFitted::room() const {
  return kStackRoom * residual;
}

StackPoint StackReach::within(StackPoint point) const {
  for (std::size_t driver = 0; driver < point.size(); ++driver)
    point[driver] *= point[driver] > 0 ? up[driver] : down[driver];
  return point;
}

StackFit fit_stack(StackEngines& engines, std::size_t drivers, std::size_t gaps, std::uint64_t seed) {
  return Fitting(engines, drivers, gaps, seed).run();
}

}  // namespace eyebrow::study
