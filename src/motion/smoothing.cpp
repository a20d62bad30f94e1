#include "motion/smoothing.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "motion/tolerances.hpp"

namespace eyebrow::motion {
namespace {

/// A reading within its piece: what it takes from the six end values (lift, velocity h, acceleration h^2 at both ends).
struct Sample {
  std::size_t piece;
  std::array<double, 6> share;
  double lift, weight;
};

/// The quintic's basis for value, first and second derivative at 0 and at 1.
std::array<double, 6> shares(double t) {
  const double t2 = t * t, t3 = t2 * t, t4 = t3 * t, t5 = t4 * t;
  return {1 - 10 * t3 + 15 * t4 - 6 * t5, t - 6 * t3 + 8 * t4 - 3 * t5, t2 / 2 - 1.5 * t3 + 1.5 * t4 - t5 / 2,
          10 * t3 - 15 * t4 + 6 * t5,     -4 * t3 + 7 * t4 - 3 * t5,    t3 / 2 - t4 + t5 / 2};
}

constexpr std::size_t kBand = 6;  // a row of the system reaches five beyond its diagonal

/// Three unknowns a knot, but for the first and last, which are zero. The system is symmetric and banded: rows from the
/// diagonal rightward. Solved by Cholesky's factors, in time proportional to the knots.
class System {
 public:
  System(double begin, double end, std::size_t pieces, const std::vector<LiftPoint>& readings, double reading_error)
      : begin_(begin), step_((end - begin) / static_cast<double>(pieces)), pieces_(pieces) {
    for (const LiftPoint& reading : readings) {
      if (!(reading.angle > begin && reading.angle < end)) continue;
      const double place = (reading.angle - begin) / step_;
      const std::size_t piece = std::min(static_cast<std::size_t>(place), pieces - 1);
      samples_.push_back(
          {piece, shares(place - static_cast<double>(piece)), std::max(reading.lift, -reading_error), 1});
    }
    values_.assign(3 * (pieces + 1), 0);
  }

  std::size_t count() const { return samples_.size(); }

  void weigh_alike() {
    for (Sample& sample : samples_) sample.weight = 1;
  }

  /// More weight for readings that are left by more than `most`.
  void weigh_up(double most) {
    for (Sample& sample : samples_) {
      const double over = std::fabs(residual(sample)) / most;
      if (over > 1) sample.weight *= 1.5 * over * over;
    }
  }

  /// `smoothness`: weight of the squared jerk, in the system's own measure.
  void solve(double smoothness) {
    const std::size_t n = 3 * (pieces_ - 1);
    rows_.assign(n, {});
    right_.assign(n, 0);
    for (std::size_t piece = 0; piece < pieces_; ++piece) add(piece, smoothness);
    for (const Sample& sample : samples_) add(sample);
    for (std::size_t i = 0; i < n; ++i) {  // rows_ becomes the transposed factor
      const double root = std::sqrt(rows_[i][0]);
      for (double& value : rows_[i]) value /= root;
      right_[i] /= root;
      for (std::size_t k = 1; k < kBand && i + k < n; ++k) {
        for (std::size_t j = k; j < kBand; ++j) rows_[i + k][j - k] -= rows_[i][k] * rows_[i][j];
        right_[i + k] -= rows_[i][k] * right_[i];
      }
    }
    for (std::size_t i = n; i-- > 0;) {
      double value = right_[i];
      for (std::size_t k = 1; k < kBand && i + k < n; ++k) value -= rows_[i][k] * values_[3 + i + k];
      values_[3 + i] = value / rows_[i][0];
    }
  }

  double mean_square() const {
    double sum = 0;
    for (const Sample& sample : samples_) sum += residual(sample) * residual(sample);
    return sum / static_cast<double>(samples_.size());
  }

  double greatest() const {
    double greatest = 0;
    for (const Sample& sample : samples_) greatest = std::max(greatest, std::fabs(residual(sample)));
    return greatest;
  }

  std::vector<LiftKnot> knots() const {
    std::vector<LiftKnot> knots;
    for (std::size_t k = 0; k <= pieces_; ++k)
      knots.push_back({begin_ + step_ * static_cast<double>(k), values_[3 * k], values_[3 * k + 1] / step_,
                       values_[3 * k + 2] / (step_ * step_)});
    return knots;
  }

  void set(const std::vector<LiftKnot>& knots) {
    for (std::size_t k = 0; k <= pieces_; ++k) {
      values_[3 * k] = knots[k].lift;
      values_[3 * k + 1] = knots[k].velocity * step_;
      values_[3 * k + 2] = knots[k].acceleration * step_ * step_;
    }
  }

 private:
  double residual(const Sample& sample) const {
    double lift = 0;
    for (std::size_t i = 0; i < 6; ++i) lift += sample.share[i] * values_[3 * sample.piece + i];
    return lift - sample.lift;
  }

  /// The unknown behind an end value of a piece; none (n or more) at the fixed ends.
  std::size_t unknown(std::size_t piece, std::size_t i) const {
    const std::size_t at = 3 * piece + i;
    return at < 3 ? SIZE_MAX : at - 3;
  }

  void add(std::size_t piece, double smoothness) {
    for (std::size_t i = 0; i < 6; ++i)
      for (std::size_t j = i; j < 6; ++j) add(piece, i, j, smoothness * kJerkForm[i][j]);
  }

  void add(const Sample& sample) {
    for (std::size_t i = 0; i < 6; ++i) {
      const std::size_t row = unknown(sample.piece, i);
      if (row >= rows_.size()) continue;
      right_[row] += sample.weight * sample.share[i] * sample.lift;
      for (std::size_t j = i; j < 6; ++j) add(sample.piece, i, j, sample.weight * sample.share[i] * sample.share[j]);
    }
  }

  void add(std::size_t piece, std::size_t i, std::size_t j, double value) {
    const std::size_t row = unknown(piece, i), column = unknown(piece, j);
    if (row < rows_.size() && column < rows_.size()) rows_[row][column - row] += value;
  }

  double begin_, step_;
  std::size_t pieces_;
  std::vector<Sample> samples_;
  std::vector<std::array<double, kBand>> rows_;
  std::vector<double> right_, values_;
};

/// Between the least lifts that rise to the peak (or fall from it) above the given ones and the greatest below them:
/// one maximum, none negative.
void take_out_dips(std::vector<LiftKnot>& knots) {
  const auto lower = [](const LiftKnot& a, const LiftKnot& b) { return a.lift < b.lift; };
  const std::size_t n = knots.size();
  const std::size_t peak =
      static_cast<std::size_t>(std::max_element(knots.begin(), knots.end(), lower) - knots.begin());
  std::vector<double> above(n), below(n);
  for (std::size_t i = 0; i < n; ++i) above[i] = below[i] = std::max(0.0, knots[i].lift);
  for (std::size_t i = 1; i <= peak; ++i) above[i] = std::max(above[i], above[i - 1]);
  for (std::size_t i = peak; i-- > 0;) below[i] = std::min(below[i], below[i + 1]);
  for (std::size_t i = n - 1; i-- > peak;) above[i] = std::max(above[i], above[i + 1]);
  for (std::size_t i = peak + 1; i < n; ++i) below[i] = std::min(below[i], below[i - 1]);
  for (std::size_t i = 0; i < n; ++i)
    if (knots[i].lift != above[i] || above[i] != below[i]) knots[i].lift = (above[i] + below[i]) / 2;
}

}  // namespace

std::optional<Smoothed> smoothed(const std::vector<LiftPoint>& readings, double begin, double end,
                                 double reading_error) {
  const double pieces = std::clamp(std::ceil((end - begin) / kSmoothPiece), 8.0, 720.0);
  System system(begin, end, static_cast<std::size_t>(pieces), readings, reading_error);
  if (system.count() < 3) return std::nullopt;

  double low = kLeastSmoothness, high = kMostSmoothness;
  const double wanted = kScatterShare * reading_error * reading_error / 3;
  for (int i = 0; i < kSmoothnessHalvings; ++i) {
    const double middle = (low + high) / 2;
    system.solve(std::pow(10.0, middle));
    (system.mean_square() < wanted ? low : high) = middle;
  }
  const auto attempt = [&](double smoothness) -> std::optional<Smoothed> {
    system.weigh_alike();
    system.solve(std::pow(10.0, smoothness));
    for (int i = 0; i < kMostWeighings && system.greatest() > kWithinError * reading_error; ++i) {
      system.weigh_up(kWithinError * reading_error * 0.999);
      system.solve(std::pow(10.0, smoothness));
    }
    std::vector<LiftKnot> knots = system.knots();
    take_out_dips(knots);
    go_one_way(knots);
    system.set(knots);
    if (system.greatest() > reading_error) return std::nullopt;
    return Smoothed{std::move(knots), system.greatest()};
  };
  std::optional<Smoothed> best;
  int fewest = 0;
  for (double more = 0; more <= kMostExtraSmoothness; more += kSmoothnessStep) {
    auto made = attempt(low + more);
    if (!made) continue;
    const int wiggles = flank_wiggles(made->knots);
    if (!best || wiggles < fewest) best = std::move(made), fewest = wiggles;
    if (fewest <= kMostWiggles) return best;
  }
  for (double less = 1; !best && low - less >= kLeastSmoothness; ++less) best = attempt(low - less);
  return best;
}

int flank_wiggles(const std::vector<LiftKnot>& knots) {
  double greatest = 0, peak = 0;
  for (const LiftKnot& knot : knots) {
    greatest = std::max(greatest, std::fabs(knot.acceleration));
    peak = std::max(peak, knot.lift);
  }
  int turns[2] = {0, 0};
  double last = 0;
  for (std::size_t i = 0, side = 0; i < knots.size(); ++i) {
    if (knots[i].lift == peak) side = 1, last = 0;
    if (std::fabs(knots[i].acceleration) < kWiggle * greatest) continue;
    if (knots[i].acceleration * last < 0) ++turns[side];
    last = knots[i].acceleration;
  }
  return std::max(turns[0], turns[1]);
}

}  // namespace eyebrow::motion
