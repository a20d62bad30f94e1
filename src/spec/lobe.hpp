// [lobe.NAME]: one reader, used by cams.cpp.
#pragma once
#include "spec/sections.hpp"

namespace eyebrow {

/// Reads all but the lobe's cam and, where its cam states a separation, its centre.
/// `centre_from_cam`: the cam of this lobe states the separation, so that the lobe must not state a centre.
Lobe read_lobe(Context& context, Section& section, bool centre_from_cam);

}  // namespace eyebrow
