#include "eyebrow/group_color.hpp"

namespace eyebrow {

Rgb group_color(Group group) {
  switch (group) {
    case Group::flat:
      return {0.86, 0.86, 0.83};
    case Group::dish_floor:
      return {0.72, 0.80, 0.66};
    case Group::dish_corner:
      return {0.58, 0.68, 0.52};
    case Group::dish_wall:
      return {0.44, 0.56, 0.40};
    case Group::dome:
      return {0.93, 0.86, 0.62};
    case Group::top_chamfer:
      return {0.74, 0.70, 0.64};
    case Group::side:
      return {0.70, 0.71, 0.73};
    case Group::underside:
      return {0.54, 0.55, 0.58};
    case Group::floor:
      return {0.60, 0.78, 0.92};
    case Group::corner:
      return {0.25, 0.47, 0.74};
    case Group::wall:
      return {0.90, 0.60, 0.28};
    case Group::mouth:
      return {0.66, 0.16, 0.24};
    case Group::bore:
      return {0.87, 0.89, 0.91};
    case Group::gasket:
      return {0.62, 0.64, 0.67};
  }
  return {};
}

}  // namespace eyebrow
