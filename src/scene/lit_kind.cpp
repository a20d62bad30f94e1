#include "scene/lit_kind.hpp"

namespace eyebrow::scene {

const char* to_string(LitKind kind) {
  switch (kind) {
    case LitKind::pair:
      return "valve to valve";
    case LitKind::bore:
      return "valve to bore";
    case LitKind::head:
      return "piston to head";
    default:
      return to_string(*gap_kind(kind));
  }
}

std::optional<LitKind> lit_kind(const std::string& what) {
  for (const LitKind kind : kLitKinds)
    if (what == to_string(kind)) return kind;
  return std::nullopt;
}

LitKind lit_kind(GapKind kind) {
  return static_cast<LitKind>(kind);
}

std::optional<GapKind> gap_kind(LitKind kind) {
  return kind <= LitKind::closest ? std::optional(static_cast<GapKind>(kind)) : std::nullopt;
}

}  // namespace eyebrow::scene
