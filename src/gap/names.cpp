#include "eyebrow/crown.hpp"
#include "eyebrow/gap.hpp"
#include "eyebrow/profile.hpp"

namespace eyebrow {

const char* to_string(Group group) {
  switch (group) {
    case Group::flat:
      return "crown flat";
    case Group::dish_floor:
      return "dish floor";
    case Group::dish_corner:
      return "dish corner";
    case Group::dish_wall:
      return "dish wall";
    case Group::dome:
      return "dome";
    case Group::top_chamfer:
      return "top chamfer";
    case Group::side:
      return "side";
    case Group::underside:
      return "underside";
    case Group::floor:
      return "floor";
    case Group::corner:
      return "corner";
    case Group::wall:
      return "wall";
    case Group::mouth:
      return "mouth";
    case Group::bore:
      return "bore";
    case Group::gasket:
      return "gasket";
  }
  return "?";
}

const char* to_string(ValvePart part) {
  switch (part) {
    case ValvePart::face:
      return "valve face";
    case ValvePart::rim_edge:
      return "rim edge";
    case ValvePart::margin:
      return "rim";
    case ValvePart::seat:
      return "seat";
    case ValvePart::underhead:
      return "underhead";
    case ValvePart::stem:
      return "stem";
  }
  return "?";
}

const char* to_string(GapKind kind) {
  switch (kind) {
    case GapKind::travel:
      return "travel";
    case GapKind::face:
      return "face";
    case GapKind::radial:
      return "radial";
    case GapKind::closest:
      return "closest";
  }
  return "?";
}

}  // namespace eyebrow
