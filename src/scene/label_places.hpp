// Where labels stand: none on another, none over what must be seen. Pixels, y up.
#pragma once
#include <vector>

namespace eyebrow::scene {

struct Spot2 {
  double x = 0, y = 0;
};

struct Area {
  double left = 0, bottom = 0, right = 0, top = 0;
  bool meets(const Area& other) const {
    return left < other.right && other.left < right && bottom < other.top && other.bottom < top;
  }
  bool holds(const Area& other) const {
    return other.left >= left && other.right <= right && other.bottom >= bottom && other.top <= top;
  }
  Spot2 middle() const { return {(left + right) / 2, (bottom + top) / 2}; }
};

struct LabelWish {
  Spot2 at;                      ///< what it belongs to
  double width = 0, height = 0;  ///< its own size
};

/// One area a wish, all within `page` where that is large enough: near its place, on no other label, and off
/// `keep_free` if there is a free place. Where the page is full labels go on below one another outside it rather than
/// on each other.
std::vector<Area> place_labels(const std::vector<LabelWish>& wishes, const std::vector<Area>& keep_free,
                               const Area& page);

}  // namespace eyebrow::scene
