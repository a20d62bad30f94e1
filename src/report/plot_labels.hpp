// Places for labels that do not run into each other.
#pragma once
#include <optional>
#include <vector>

#include "plot_page.hpp"

namespace eyebrow::plot {

class Labels {
 public:
  /// All labels are to lie within the frame.
  explicit Labels(Box frame) : frame_(frame) {}
  /// Nothing may be here.
  void keep_off(const Box& box) { taken_.push_back(box); }
  /// No label may be here, but a leader may cross.
  void keep_labels_off(const Box& box) { crossed_.push_back(box); }
  /// Better not on this line: some points of it under a label are as bad as `price` steps down a list of candidates.
  void avoid(const std::vector<Place>& line, double price = 2);

  /// One of the boxes, which is then taken: of those that are free the best, earlier ones first but for the lines
  /// within. Nothing where none is free.
  std::optional<Box> take(const std::vector<Box>& candidates);
  /// The same around a place, nearest first, for a label that a leader joins to the place. The leader, too, crosses
  /// nothing that is taken, but for `own`, a box around the place.
  std::optional<Box> take_around(Place place, double width, double height, const Box& own);

 private:
  bool free(const Box& box) const;
  double price(const Box& box) const;

  Box frame_;
  std::vector<Box> taken_, crossed_;
  struct Piece {
    Place at;
    double price;
  };
  std::vector<Piece> lines_;
};

/// Where a leader from the place meets the box.
Place nearest_in(const Box& box, Place place);

}  // namespace eyebrow::plot
