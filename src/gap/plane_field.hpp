// A function of two coordinates, known at the corners of cells that are as fine as the function asks for.
#pragma once
#include <cmath>
#include <functional>
#include <vector>

#include "eyebrow/field.hpp"

namespace eyebrow::gap {

struct PlaneBox {
  double x[2], y[2];
  double width() const { return x[1] - x[0]; }
  double height() const { return y[1] - y[0]; }
  double diagonal() const { return std::hypot(width(), height()); }
  bool meets(const PlaneBox& other) const {
    return x[0] <= other.x[1] && other.x[0] <= x[1] && y[0] <= other.y[1] && other.y[0] <= y[1];
  }
  bool holds(double at_x, double at_y) const { return x[0] <= at_x && at_x <= x[1] && y[0] <= at_y && at_y <= y[1]; }
};

struct FieldSample {
  double value = INFINITY;  ///< infinite = none
  double low = INFINITY;    ///< within half a micrometre
};

struct FieldSource {
  std::function<FieldSample(double x, double y)> at;
  /// What no value of a box falls below; infinite = there is none. Null: the function is a distance over lengths x, y
  /// at right angles, 1-Lipschitz and, where positive, semiconcave; `low` of the samples then bounds it.
  std::function<double(const PlaneBox&)> low;
};

class PlaneField {
 public:
  PlaneField(const FieldSource& source, const std::vector<PlaneBox>& region, const FieldAccuracy& accuracy);
  FieldGap at(double x, double y) const;
  FieldRange within(const PlaneBox& box) const;
  std::size_t cells() const { return cells_.size(); }

 private:
  struct Cell {
    double value[4], low[4];  ///< at (x0, y0), (x1, y0), (x0, y1), (x1, y1); `low`: of distances
    double least;             ///< over the cell
    double bend;              ///< a distance lies this far under its corners, at most; infinite = not known
    FieldStatus status;
  };
  struct Node {
    PlaneBox box;
    double low, high;  ///< over all below it
    int child = -1;    ///< the first of two nodes; negative: ~child is a cell
    int axis = 0;
  };
  class Maker;

  bool distance_;
  std::vector<Node> nodes_;
  std::vector<Cell> cells_;
};

}  // namespace eyebrow::gap
