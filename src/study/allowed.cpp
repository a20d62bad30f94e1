// Between the cells of a map over one input: where what is asked begins to hold, and where parts begin to touch.
#include <algorithm>
#include <cmath>

#include "eyebrow/map.hpp"
#include "study/tolerances.hpp"

namespace eyebrow {
namespace {

/// A power of ten of the input's unit, some hundredth of the way between two cells: 0.1 deg for steps of 5, 0.001 in
/// for 0.05.
double told_step(const std::vector<double>& values) {
  const double apart = values.size() > 1 ? values[1] - values[0] : std::fabs(values[0]);
  return apart > 0 ? std::pow(10, std::floor(std::log10(apart)) - 1) : 1;
}

class Between {
 public:
  Between(const Mapper& mapper, const MapResult& map, const EngineAt& engine_at, const CheckOptions& options)
      : mapper_(mapper), map_(map), engine_at_(engine_at), options_(options), step_(told_step(values())) {}

  std::vector<AllowedRange> run() {
    std::vector<AllowedRange> ranges;
    const std::size_t count = map_.cells.size();
    for (std::size_t i = 0; i < count; ++i) {
      if (!map_.cells[i].allowed()) continue;
      std::size_t last = i;
      while (last + 1 < count && map_.cells[last + 1].allowed()) ++last;
      ranges.push_back({end(i, -1), end(last, 1), step_});
      i = last;
    }
    return ranges;
  }

 private:
  const std::vector<double>& values() const { return map_.inputs.front().values; }

  /// A multiple of the step, as people write it.
  double told(long steps) const {
    // A division by a power of ten is right to the last bit, a product with a tenth is not.
    return step_ < 1 ? static_cast<double>(steps) / std::round(1 / step_) : static_cast<double>(steps) * step_;
  }

  MapCell cell(double value) const {
    Varied one = map_.inputs.front();
    one.values = {value};
    CheckOptions quiet;
    quiet.stop = options_.stop;
    return mapper_.map({one}, engine_at_, quiet).cells.front();
  }

  /// Between a value that is good and one that is not, the last good multiple of the step. `cell`: of the first bad.
  template <class Good>
  double last_good(double inside, double outside, const Good& good, MapCell& bad) const {
    const int way = outside > inside ? 1 : -1;
    // In whole steps from the good value outward; the good one itself may lie between two.
    long near = static_cast<long>(way > 0 ? std::floor(inside / step_ + 1e-9) : std::ceil(inside / step_ - 1e-9));
    long far = static_cast<long>(way > 0 ? std::ceil(outside / step_ - 1e-9) : std::floor(outside / step_ + 1e-9));
    bool moved = std::fabs(told(near) - inside) < 1e-9 * std::max(1.0, std::fabs(inside));
    while (std::labs(far - near) > 1) {
      const long middle = near + (far - near) / 2;
      MapCell found = cell(told(middle));
      if (good(found)) {
        near = middle;
        moved = true;
      } else {
        far = middle;
        bad = std::move(found);
      }
    }
    return moved ? told(near) : inside;
  }

  AllowedRange::End end(std::size_t from, int way) const {
    AllowedRange::End found;
    const auto beyond = [&](std::size_t i) { return way > 0 ? i + 1 < map_.cells.size() : i > 0; };
    const auto next = [&](std::size_t i) { return way > 0 ? i + 1 : i - 1; };
    found.at = values()[from];
    if (!beyond(from)) {
      found.open = true;
      return found;
    }
    MapCell bad = map_.cells[next(from)];
    found.at = last_good(
        values()[from], values()[next(from)], [](const MapCell& c) { return c.allowed(); }, bad);
    found.trouble = bad.trouble;
    found.gap = bad.possible() ? tightest_gap(bad) : -1;
    const auto apart = [](const MapCell& c) { return c.possible() && c.verdict != Verdict::contact; };
    for (std::size_t i = from; beyond(i); i = next(i)) {
      MapCell touching = map_.cells[next(i)];
      if (!touching.possible()) break;
      if (touching.verdict != Verdict::contact) continue;
      const double last = last_good(values()[i], values()[next(i)], apart, touching);
      if (touching.possible()) found.contact = last + way * step_;
      break;
    }
    return found;
  }

  const Mapper& mapper_;
  const MapResult& map_;
  const EngineAt& engine_at_;
  const CheckOptions& options_;
  double step_;
};

}  // namespace

std::vector<AllowedRange> Mapper::allowed(const MapResult& map, const EngineAt& engine_at,
                                          const CheckOptions& options) const {
  if (map.inputs.size() != 1) throw Error("allowed ranges are of one input");
  return Between(*this, map, engine_at, options).run();
}

int tightest_gap(const MapCell& cell) {
  int tightest = -1;
  bool holds = true;
  for (std::size_t i = 0; i < cell.margin.size(); ++i) {
    const bool first = tightest < 0 || (holds && !cell.holds[i]);
    // One that does not hold and has no number comes before any margin.
    const bool none = std::isnan(cell.margin[i]);
    if (none && cell.holds[i]) continue;
    const bool lower = !first && cell.holds[i] == holds &&
                       !std::isnan(cell.margin[static_cast<std::size_t>(tightest)]) &&
                       (none || cell.margin[i] < cell.margin[static_cast<std::size_t>(tightest)]);
    if (!first && !lower) continue;
    tightest = static_cast<int>(i);
    holds = cell.holds[i];
  }
  return tightest;
}

}  // namespace eyebrow
