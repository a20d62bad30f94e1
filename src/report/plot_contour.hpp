// Lines and regions of equal value over a grid.
#pragma once
#include <vector>

#include "plot_page.hpp"

namespace eyebrow::plot {

/// z[i + k * x.size()] stands at x[i], y[k]; x and y rise. Each cell of the grid is four triangles around its middle,
/// which has the mean of its corners, and is straight within each. A cell with a corner that is not a number is left
/// out.
struct Grid {
  std::vector<double> x, y, z;
  double at(std::size_t i, std::size_t k) const { return z[i + k * x.size()]; }
};

/// Where z is `level`: chains of places; of a closed one the first place is the last too.
std::vector<std::vector<Place>> contour(const Grid& grid, double level);

/// Where from <= z <= to: polygons that all turn the same way.
std::vector<Polygon> region(const Grid& grid, double from, double to);

/// What z is at a place by the same triangles; NaN outside, and in cells that are left out.
double value_at(const Grid& grid, Place place);

/// The corners of the cell whose lowest ones are i and k.
Polygon cell_of(const Grid& grid, std::size_t i, std::size_t k);

/// The cells that are left out.
std::vector<Polygon> left_out(const Grid& grid);

}  // namespace eyebrow::plot
