#include "spec/card.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "eyebrow/timing.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kLeastLifts = 1, kMostLifts = 5;

const Section::Choices<LiftAt> kSides = {{"lobe", LiftAt::lobe}, {"valve", LiftAt::valve}};

CardRow read_row(Section& item, const Lobe& lobe) {
  CardRow row;
  row.path = item.path();
  row.lift = item.need("at");
  row.measured = item.choice<LiftAt>("measured", kSides).value_or(lobe.measured);
  return row;
}

/// As the events of one side of the cycle are told: before and after its dead centre.
std::vector<Section::Side> sides(bool tdc, bool before) {
  const double sign = before ? 1 : -1;
  return {{"BTDC", sign, !tdc}, {"ATDC", -sign, !tdc}, {"BBDC", sign, tdc}, {"ABDC", -sign, tdc}};
}

void read_events(Context& context, Section& section, const Lobe& lobe, Card& card) {
  const bool intake = lobe.role == Role::intake;
  const std::string other = intake ? "exhaust" : "intake", own = to_string(lobe.role);
  for (Section& item : section.list("events")) {
    CardRow row = read_row(item, lobe);
    const auto event = [&](const char* key, bool tdc, bool before) {
      if (!item.has(key)) return item.need(key);
      return item
          .sided(key, sides(tdc, before),
                 fmt::format("an {} {} about {}; is this the {}'s card?", own, key, tdc ? "TDC" : "BDC", other))
          .value();
    };
    const TimingCard times{event("opens", intake, true), event("closes", !intake, false)};
    row.duration = duration_of(times);
    row.middle = centre_of(lobe.role, times);
    const Limit& limit = limit_of("lobe.*.durations.*.duration");
    if (const std::string trouble = limit_trouble(limit, row.duration, Unit::degree);
        std::isfinite(row.duration) && !trouble.empty())
      context.fault(context.place_of(row.path + ".opens"),
                    fmt::format("{}: from opening to closing {}", row.path, trouble));
    card.rows.push_back(row);
    item.finish();
  }
}

void read_rows(Context& context, Section& section, const Lobe& lobe, Card& card) {
  for (Section& item : section.list("durations")) {
    CardRow row = read_row(item, lobe);
    row.duration = item.need("duration");
    card.rows.push_back(row);
    item.finish();
  }
  const std::size_t durations = card.rows.size();
  read_events(context, section, lobe, card);
  const std::size_t events = card.rows.size() - durations;
  if (card.rows.size() >= kLeastLifts && card.rows.size() <= kMostLifts) return;
  card.faulty = true;
  const bool both = section.has("durations") && section.has("events");
  const char* key = section.has("durations") ? "durations" : "events";
  const std::string found = both ? fmt::format("[{}] has {} durations and {} events", section.path(), durations, events)
                                 : fmt::format("{} has {} {}", section.key_path(key), card.rows.size(),
                                               card.rows.size() == 1 ? "item" : "items");
  context.fault(section.place(key), fmt::format("{}; allowed are {} to {} checking lifts{}", found, kLeastLifts,
                                                kMostLifts, both ? " together" : ""));
}

void read_tdc(Context& context, Section& section, Lobe& lobe) {
  lobe.tdc_lift = section.number("lift_at_tdc");
  lobe.tdc_advance = section.number_or("tdc_advance", 0);
  if (section.has("tdc_advance") && !section.has("lift_at_tdc"))
    context.fault(section.place("tdc_advance"),
                  fmt::format("{} is the cam's advance when lift_at_tdc was read: of use with lift_at_tdc only",
                              section.key_path("tdc_advance")));
}

}  // namespace

bool Card::has_events() const {
  return std::any_of(rows.begin(), rows.end(), [](const CardRow& row) { return row.middle.has_value(); });
}

Card read_card(Context& context, Section& section, Lobe& lobe) {
  Card card;
  card.states_centre = section.has("centre");
  card.lift_measured = section.choice<LiftAt>("lift_measured", kSides).value_or(lobe.measured);
  read_rows(context, section, lobe, card);
  lobe.ramp = section.number("ramp_duration");
  read_tdc(context, section, lobe);
  return card;
}

}  // namespace eyebrow
