// From a card's rows to a lobe's durations and centre.
#include <fmt/format.h>

#include <algorithm>

#include "spec/card.hpp"

namespace eyebrow {
namespace {

/// Middles of events and lifts (mm) this near are the same: rounding of decimals and of the rocker's ratio.
constexpr double kSameMiddle = 1e-6 * kDegree, kSameLift = 1e-6;
/// Events are stated to whole or half degrees, and asymmetric lobes have their nose within some degrees of their middle
/// (common practice): more than the first is doubtful, more than the second not one lobe.
constexpr double kOffMiddle = 6 * kDegree, kFarOffMiddle = 30 * kDegree;

double degrees(double angle) {
  return angle / kDegree;
}

/// A row's lift as its lobe has it, and where it was stated otherwise.
std::string lift_text(const Context& context, const Lobe& lobe, const CardRow& row) {
  const std::string text = context.length_text(row.lift);
  if (row.measured == lobe.measured) return text;
  return text + (lobe.measured == LiftAt::lobe ? " at the lobe" : " at the valve");
}

void check_row(Context& context, const Lobe& lobe, const CardRow& row) {
  if (!(row.lift >= lobe.lift - kSameLift)) return;
  context.fault(context.place_of(row.path + ".at"),
                fmt::format("{}.at is {}; a checking lift must be below the lobe's greatest lift, {}", row.path,
                            lift_text(context, lobe, row), context.length_text(lobe.lift)));
}

/// On each flank a higher lift lies nearer to the middle: events that cross are a slip.
void check_events(Context& context, const Lobe& lobe, const CardRow& below, const CardRow& row) {
  if (!below.middle || !row.middle) return;
  const double sign = lobe.role == Role::intake ? 1 : -1;
  const double later = sign * (*row.middle - *below.middle), shorter = (below.duration - row.duration) / 2;
  if (later > -shorter && later < shorter) return;
  const bool opening = later <= -shorter;
  context.fault(context.place_of(row.path + (opening ? ".opens" : ".closes")),
                fmt::format("{} {} {} than at {}: a higher checking lift lies nearer to the middle of the lobe",
                            row.path, opening ? "opens no later" : "closes no earlier",
                            "at " + lift_text(context, lobe, row), lift_text(context, lobe, below)));
}

void check_pair(Context& context, const Lobe& lobe, const CardRow& below, const CardRow& row) {
  if (row.lift - below.lift <= kSameLift) {
    context.fault(context.place_of(row.path + ".at"),
                  fmt::format("{}.at: {} is stated twice", row.path, lift_text(context, lobe, row)));
  } else if (row.duration >= below.duration) {
    context.fault(context.place_of(row.path + (row.middle ? ".opens" : ".duration")),
                  fmt::format("{}{} is {:.6g} deg at {}; it must be less than the {:.6g} deg at {}: durations fall as "
                              "lifts rise",
                              row.path, row.middle ? ", from opening to closing," : ".duration", degrees(row.duration),
                              lift_text(context, lobe, row), degrees(below.duration), lift_text(context, lobe, below)));
  } else {
    check_events(context, lobe, below, row);
  }
}

/// Stated centre against the middle of the events nearest to the nose.
void check_centre(Context& context, const Lobe& lobe, const CardRow& row) {
  const double apart = std::fabs(*row.middle - lobe.centre);
  if (!(apart > kOffMiddle + kSameMiddle)) return;
  const std::string key = "lobe." + lobe.name + ".centre";
  const std::string read =
      fmt::format("{} is {:.4g} deg {} TDC, but the events at {} have their middle at {:.4g} deg, {:.3g} deg away", key,
                  degrees(lobe.centre), lobe.role == Role::intake ? "after" : "before", lift_text(context, lobe, row),
                  degrees(*row.middle), degrees(apart));
  const Place place = context.place_of(key);
  if (apart > kFarOffMiddle + kSameMiddle)
    context.fault(place, read +
                             "; allowed are 30: is it the separation, or in cam degrees? Leave the centre out and "
                             "the middle is taken");
  else
    context.warn(place, read +
                            "; usual are 0 to 4 (common practice): check whether the events have the card's advance "
                            "counted in, whether the centre is the cam's separation, and that both are in crank "
                            "degrees");
}

double late(const Lobe& lobe, const CardRow& row) {
  if (!row.middle) return 0;
  const double later = lobe.role == Role::intake ? *row.middle - lobe.centre : lobe.centre - *row.middle;
  return std::fabs(later) <= kSameMiddle ? 0 : later;
}

}  // namespace

void settle_card(Context& context, const Engine& engine, Lobe& lobe, Card card) {
  auto& rows = card.rows;
  const auto whole = [](const CardRow& row) { return std::isfinite(row.lift) && std::isfinite(row.duration); };
  if (card.faulty || !std::all_of(rows.begin(), rows.end(), whole)) return;
  if (!carry_lifts(context, engine, lobe, card)) return;
  std::stable_sort(rows.begin(), rows.end(), [](const CardRow& a, const CardRow& b) { return a.lift < b.lift; });
  for (std::size_t i = 0; i < rows.size(); ++i) {
    check_row(context, lobe, rows[i]);
    if (i > 0) check_pair(context, lobe, rows[i - 1], rows[i]);
  }
  const auto top = std::find_if(rows.rbegin(), rows.rend(), [](const CardRow& row) { return row.middle.has_value(); });
  if (top != rows.rend()) {
    if (card.states_centre)
      check_centre(context, lobe, *top);
    else
      lobe.centre = *top->middle;
  }
  for (const CardRow& row : rows) lobe.durations.push_back({row.lift, row.duration, late(lobe, row)});
  const std::string path = "lobe." + lobe.name;
  if (lobe.tdc_lift && *lobe.tdc_lift >= lobe.lift)
    context.fault(context.place_of(path + ".lift_at_tdc"),
                  fmt::format("{}.lift_at_tdc is {}; it must be below the lobe's greatest lift, {}", path,
                              context.length_text(*lobe.tdc_lift), context.length_text(lobe.lift)));
  // What is told of the curve later on names its durations.
  const std::string durations = path + ".durations";
  if (!context.given(durations)) {
    const Place place = context.place_of(rows.front().path + ".at");
    context.origins[durations] = {place.file, place.line, place.column, ""};
  }
}

}  // namespace eyebrow
