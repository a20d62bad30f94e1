// What the pictures of a stack are drawn of.
#include <fmt/format.h>

#include <cmath>

#include "eyebrow/stack_report.hpp"
#include "stack_words.hpp"

namespace eyebrow {
namespace {

std::string drawn_text(const StackResult& stack) {
  return fmt::format("{} engines drawn within the tolerances of {} numbers, seed {}", stack.samples - stack.none,
                     stack.tolerances.size(), stack.seed);
}

}  // namespace

std::size_t tightest_gap(const StackResult& stack) {
  std::size_t best = 0;
  double least = INFINITY;
  for (std::size_t i = 0; i < stack.gaps.size(); ++i) {
    const StackGap& gap = stack.gaps[i];
    if (!moves(gap) || gap.exact) continue;
    if (const double margin = gap.worst.value - gap.gap.required; margin < least) {
      least = margin;
      best = i;
    }
  }
  return best;
}

Histogram stack_histogram(const StackResult& stack, std::size_t gap) {
  const StackGap& of = stack.gaps.at(gap);
  Histogram out;
  out.title = stack.engine;
  out.subtitle = drawn_text(stack);
  out.quantity = "least gap " + gap_name(of.gap);
  out.edges = of.edges;
  out.counts = of.counts;
  out.asked = of.gap.required;
  out.lines = {{of.nominal, "nominal"}, {of.worst.value, "worst case"}, {of.rss, "root sum square"}};
  if (std::isfinite(of.share))
    out.notes.push_back(fmt::format("Below what is asked, with the 95 % interval: {}.", below_text(of)));
  return out;
}

Bars stack_bars(const StackResult& stack, std::size_t gap) {
  const StackGap& of = stack.gaps.at(gap);
  Bars out;
  out.title = stack.engine;
  out.subtitle = drawn_text(stack);
  out.quantity = "change of " + gap_name(of.gap) + " by one input at its worse end";
  for (const StackPart& part : of.parts)
    out.rows.push_back({fmt::format("{}, {}", stack.drivers[part.driver].label, share_text(part.share)),
                        std::fmin(part.up, part.down)});
  out.notes.push_back("Behind each name: the share of the variance that goes when this input stands still.");
  return out;
}

}  // namespace eyebrow
