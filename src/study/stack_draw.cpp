#include "study/stack_draw.hpp"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>

namespace eyebrow::study {
namespace {

constexpr double kRoot2 = 1.41421356237309504880;

double normal_share(double x) {
  return 0.5 * std::erfc(-x / kRoot2);
}

double normal_quantile(double q) {
  return -kRoot2 * boost::math::erfc_inv(2 * q);
}

bool has_end(const Tolerance& of) {
  return of.shape != Tolerance::Shape::normal || of.plus_minus > 0;
}

bool alike(const Tolerance& one, const Tolerance& other) {
  return one.shape == other.shape && has_end(one) == has_end(other);
}

/// splitmix64 (Steele, Lea and Flood, OOPSLA 2014; the constants from memory): passes over all bits of a count.
std::uint64_t mixed(std::uint64_t x) {
  x += 0x9E3779B97F4A7C15ULL;
  x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ULL;
  x = (x ^ (x >> 27)) * 0x94D049BB133111EBULL;
  return x ^ (x >> 31);
}

/// Between 0 and 1, ends excluded; it hangs on these alone.
double random_share(std::uint64_t seed, StackStream stream, std::size_t driver, std::uint64_t number) {
  const std::uint64_t bits = mixed(mixed(mixed(seed) ^ (static_cast<std::uint64_t>(stream) << 32 | driver)) ^ number);
  return (static_cast<double>(bits >> 11) + 0.5) * 0x1p-53;
}

}  // namespace

double quantile(const Tolerance& of, double q) {
  switch (of.shape) {
    case Tolerance::Shape::uniform:
      return of.plus_minus * (2 * q - 1);
    case Tolerance::Shape::triangular:
      return of.plus_minus * (q < 0.5 ? std::sqrt(2 * q) - 1 : 1 - std::sqrt(2 * (1 - q)));
    case Tolerance::Shape::normal:
      break;
  }
  if (!(of.deviation > 0)) return 0;
  if (!has_end(of)) return of.deviation * normal_quantile(q);
  const double cut = normal_share(-of.plus_minus / of.deviation);
  const double by = of.deviation * normal_quantile(cut + q * (1 - 2 * cut));
  return std::clamp(by, -of.plus_minus, of.plus_minus);
}

double share_up_to(const Tolerance& of, double by) {
  if (of.worst() == 0) return 0.5;
  const double t = by / of.worst();
  switch (of.shape) {
    case Tolerance::Shape::uniform:
      return 0.5 * (1 + t);
    case Tolerance::Shape::triangular:
      return t < 0 ? 0.5 * (1 + t) * (1 + t) : 1 - 0.5 * (1 - t) * (1 - t);
    case Tolerance::Shape::normal:
      break;
  }
  if (!has_end(of)) return normal_share(by / of.deviation);
  const double cut = normal_share(-of.plus_minus / of.deviation);
  return (normal_share(by / of.deviation) - cut) / (1 - 2 * cut);
}

StackDrivers::StackDrivers(const std::vector<Tolerance>& tolerances) : tolerances_(tolerances) {
  for (std::size_t i = 0; i < tolerances.size(); ++i) {
    const Tolerance& of = tolerances[i];
    if (!(of.worst() > 0)) continue;  // it stands still
    const auto same = std::ranges::find_if(drivers_, [&](const StackDriver& driver) {
      return !of.shared.empty() && tolerances[driver.members.front()].shared == of.shared;
    });
    if (same != drivers_.end())
      same->members.push_back(i);
    else
      drivers_.push_back({of.shared.empty() ? of.key : of.shared, {i}});
  }
  for (StackDriver& driver : drivers_) {
    if (driver.members.size() == 1) driver.label = tolerances[driver.members.front()].key;
    const auto with_end =
        std::ranges::find_if(driver.members, [&](std::size_t member) { return has_end(tolerances[member]); });
    const std::size_t lead = with_end == driver.members.end() ? driver.members.front() : *with_end;
    leads_.push_back({lead, std::ranges::all_of(driver.members, [&](std::size_t member) {
                        return alike(tolerances[member], tolerances[lead]);
                      })});
  }
}

const std::vector<StackDriver>& StackDrivers::all() const {
  return drivers_;
}

double StackDrivers::place(std::size_t driver, double q) const {
  const Tolerance& lead = tolerances_[leads_[driver].member];
  return quantile(lead, q) / lead.worst();
}

std::vector<double> StackDrivers::by(const StackPoint& point) const {
  std::vector<double> by(tolerances_.size(), 0);
  for (std::size_t driver = 0; driver < drivers_.size(); ++driver) {
    const Lead& lead = leads_[driver];
    const double q =
        lead.alike ? 0 : share_up_to(tolerances_[lead.member], point[driver] * tolerances_[lead.member].worst());
    for (const std::size_t member : drivers_[driver].members) {
      const Tolerance& of = tolerances_[member];
      if (lead.alike || member == lead.member)
        by[member] = point[driver] * of.worst();
      else
        // Shapes that differ meet at the same share. Beside one that ends, one without an end goes to 3 deviations.
        by[member] = q <= 0 ? -of.worst() : q >= 1 ? of.worst() : std::clamp(quantile(of, q), -of.worst(), of.worst());
    }
  }
  return by;
}

void draw(const StackDrivers& drivers, std::uint64_t seed, StackStream stream, std::uint64_t number,
          StackPoint& point) {
  for (std::size_t driver = 0; driver < point.size(); ++driver)
    point[driver] = drivers.place(driver, random_share(seed, stream, driver, number));
}

StackPoint anywhere(std::size_t drivers, std::uint64_t seed, StackStream stream, std::uint64_t number) {
  StackPoint point(drivers);
  for (std::size_t driver = 0; driver < drivers; ++driver)
    point[driver] = 2 * random_share(seed, stream, driver, number) - 1;
  return point;
}

}  // namespace eyebrow::study
