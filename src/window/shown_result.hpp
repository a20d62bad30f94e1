// What the window shows of an engine at the moment, and how sure it is.
#pragma once
#include <memory>
#include <optional>

#include "window/checker.hpp"

namespace eyebrow::window {

enum class Certainty {
  none,     ///< nothing is known
  sampled,  ///< just looked at, at single crank angles: no verdict follows from that
  judged,   ///< the least gaps are a check's; where they are is not told yet
  checked,
};

struct ShownResult {
  Certainty certainty = Certainty::none;
  bool stale = false;  ///< of numbers before the newest
  /// Where sampled: series, and the lowest sample as found of the rows; no least gaps.
  std::shared_ptr<const CheckResult> result;
  std::optional<ReadyEngine> ready;
};

/// Of what is known at once.
ShownResult sampled_result(const Followed& followed);
/// The same with the rows of a check.
ShownResult with_rows(const ShownResult& sampled, const JudgedRows& judged);

/// The crank angle at which a row is tightest; nothing where that is not known (yet).
std::optional<double> crank_of(const CheckResult& result, const AskedRow& row);

}  // namespace eyebrow::window
