// The kinds of gap that the scene lights.
#pragma once
#include <optional>
#include <string>

#include "eyebrow/gap.hpp"

namespace eyebrow::scene {

/// What may be lit: the gaps of a valve and the piston, of two valves, of a valve and the bore, of piston and head.
enum class LitKind { travel, face, radial, closest, pair, bore, head };
inline constexpr LitKind kLitKinds[] = {LitKind::travel, LitKind::face, LitKind::radial, LitKind::closest,
                                        LitKind::pair,   LitKind::bore, LitKind::head};
/// As AskedRow::what.
const char* to_string(LitKind kind);
/// Nothing where no gap is called so.
std::optional<LitKind> lit_kind(const std::string& what);
LitKind lit_kind(GapKind kind);
/// Nothing where the piston has no part in it, or no valve.
std::optional<GapKind> gap_kind(LitKind kind);

}  // namespace eyebrow::scene
