// What a cam card says of a lobe: durations and events at checking lifts, a ramp, a lift at TDC.
#pragma once
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "spec/sections.hpp"

namespace eyebrow {

/// One checking lift as it stands in the file.
struct CardRow {
  std::string path;                                        ///< "lobe.intake.events.2"
  double lift = std::numeric_limits<double>::quiet_NaN();  ///< mm, on the side `measured`
  LiftAt measured = LiftAt::lobe;
  double duration = std::numeric_limits<double>::quiet_NaN();  ///< crank radians
  std::optional<double> middle = {};  ///< between its events, counted as Lobe::centre; none: a duration alone
};

/// A lobe's card before its lifts are carried to one side, which needs the rockers of its valves.
struct Card {
  std::vector<CardRow> rows;
  LiftAt lift_measured = LiftAt::lobe;  ///< of the greatest lift
  bool states_centre = false;
  bool faulty = false;  ///< and told: there is nothing to settle

  bool has_events() const;
};

/// What was read of cams and lobes, and can be ended only when the valves are known.
struct CamsAsRead {
  std::map<std::string, double> separations;  ///< cam radians between the lobe centres, by the cam's name
  std::vector<std::optional<Card>> cards;     ///< in the order of the engine's lobes; none: a table or a law
};

/// The keys of a card and nothing else; ramp and lift at TDC go into the lobe.
Card read_card(Context& context, Section& section, Lobe& lobe);

/// After the valves: carries the lifts to the side `lobe.measured`, checks them against each other, and makes the
/// lobe's durations. The lobe centre, where it is not stated and there are events, is the middle between the events at
/// the highest checking lift that has them: nearest to the nose, where ramps and the follower's shape tell least.
void settle_card(Context& context, const Engine& engine, Lobe& lobe, Card card);

/// card_lifts.cpp: the card's lifts on the side `lobe.measured`. False when they cannot be, and told.
bool carry_lifts(Context& context, const Engine& engine, Lobe& lobe, Card& card);

}  // namespace eyebrow
