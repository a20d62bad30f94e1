// [lobe.NAME]: one reader, used by cams.cpp.
#pragma once
#include <optional>

#include "spec/card.hpp"
#include "spec/sections.hpp"

namespace eyebrow {

struct LobeAsRead {
  Lobe lobe;
  std::optional<Card> card;  ///< where durations or events describe it: settle_card() ends it
};

/// Reads all but the lobe's cam and, where its cam states a separation, its centre.
/// `centre_from_cam`: the cam of this lobe states the separation, so that the lobe must not state a centre, unless it
/// has events.
LobeAsRead read_lobe(Context& context, Section& section, bool centre_from_cam);

}  // namespace eyebrow
