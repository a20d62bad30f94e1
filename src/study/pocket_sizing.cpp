#include "eyebrow/pocket_sizing.hpp"

#include <algorithm>

#include "study/pocket_sizer.hpp"
#include "study/pocket_tolerances.hpp"

namespace eyebrow {
namespace study {
namespace {

/// Share of all work that sizing is, before what is told of it is found.
constexpr double kSizingDone = 0.85;

CheckOptions part_of_sizing(const CheckOptions& options, double from, double to) {
  CheckOptions part = options;
  if (options.progress) part.progress = [=](double share) { options.progress(from + share * (to - from)); };
  return part;
}

}  // namespace
}  // namespace study

bool PocketResult::fits() const {
  return (!within || within->holds) &&
         std::ranges::all_of(pockets, [](const SizedPocket& one) { return one.misses.empty(); });
}

PocketResult size_pockets(const Engine& engine, const PocketWish& wish, const CheckOptions& options) {
  using namespace study;
  PocketSizer sizer(engine, wish);
  sizer.size(RoomKept(engine.valves.size()), part_of_sizing(options, 0, kSizingDone));
  return sizer.told(part_of_sizing(options, kSizingDone, 1));
}

PocketResult size_pockets(const Engine& engine, const PocketWish& wish, const PocketTolerances& within,
                          const CheckOptions& options) {
  using namespace study;
  PocketSizer sizer(engine, wish);
  const PocketsWithin found =
      size_within(engine, within, sizer, [&](double from, double to) { return part_of_sizing(options, from, to); });
  PocketResult result = sizer.told(part_of_sizing(options, kWithinDone, 1));
  result.within = found;
  if (!found.share)
    for (const GapWithin& gap : found.gaps)
      for (SizedPocket& one : result.pockets)
        if (!gap.holds && gap.gap.valve == engine.valves[static_cast<std::size_t>(one.valve)].name)
          one.misses.push_back({gap_name(gap.gap) + " within the tolerances"});
  return result;
}

}  // namespace eyebrow
