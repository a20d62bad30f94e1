// What a differential run saw: counts, worst differences and widths, and the quotas that it must have filled.
#pragma once
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <string>

#include "aimed_poses.hpp"
#include "eyebrow/gap.hpp"

namespace eyebrow::differential {

/// Share of all poses.
inline constexpr double kEachPlace = 0.10, kOverlapping = 0.25, kContact = 0.10, kGraze = 0.10;

struct OfKind {
  long compared = 0, jumps = 0, none = 0, kernel_lower = 0, wide = 0;
  double too_large = 0, too_small = 0, widest = 0;
};

struct Tally {
  long geometries = 0, poses = 0, overlapping = 0, contact = 0, graze = 0, widened = 0, edge_on = 0, border = 0,
       finer = 0,                      ///< poses that finer samples decided
      dished = 0, widened_dished = 0;  ///< poses of dished valves; of them
  std::array<long, aimed::kPlaceCount> nearest{};
  std::array<OfKind, 4> of;
  OfKind closest_clear;  ///< the part of closest that is clear of the crown

  double share(long count) const { return poses ? static_cast<double>(count) / static_cast<double>(poses) : 0; }

  void print() const {
    std::printf("%ld geometries, %ld poses; overlapping %.1f %%, within 1 um of contact %.1f %%, of a graze %.1f %%\n",
                geometries, poses, 100 * share(overlapping), 100 * share(contact), 100 * share(graze));
    std::printf("nearest on");
    for (std::size_t i = 0; i < nearest.size(); ++i)
      std::printf(" %s %.1f %%", aimed::kPlaces[i], 100 * share(nearest[i]));
    std::printf(
        "\nbounds of closest widened beyond their limit: %ld (%.3f %%), %ld of them of dished valves (%.2f %% of "
        "theirs); "
        "radial seen edge on: %ld, decided by finer "
        "samples: %ld; too small at a border: %ld\n",
        widened, 100 * share(widened), widened_dished,
        100.0 * static_cast<double>(widened_dished) / static_cast<double>(std::max(dished, 1L)), edge_on, finer,
        border);
    const auto line = [](const char* name, const OfKind& k) {
      std::printf(
          "%-14s %6ld compared %5ld jumps %5ld none %4ld where the reference missed; mm: too large %7.1e, too small "
          "%7.1e, widest interval %7.1e (%ld over the limit)\n",
          name, k.compared, k.jumps, k.none, k.kernel_lower, k.too_large, k.too_small, k.widest, k.wide);
    };
    for (const GapKind kind : kGapKinds) line(to_string(kind), of[static_cast<std::size_t>(kind)]);
    line("closest, clear", closest_clear);
  }

  void expect_quotas() const {
    for (std::size_t i = 0; i + 1 < nearest.size(); ++i) EXPECT_GE(share(nearest[i]), kEachPlace) << aimed::kPlaces[i];
    EXPECT_GE(share(overlapping), kOverlapping);
    EXPECT_GE(share(contact), kContact);
    EXPECT_GE(share(graze), kGraze);
  }
};

}  // namespace eyebrow::differential
