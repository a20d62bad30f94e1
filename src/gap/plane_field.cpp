#include "plane_field.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "tolerances.hpp"

namespace eyebrow::gap {
namespace {

constexpr int kNoAxis = -1;

double mean(const double (&v)[4]) {
  return 0.25 * (v[0] + v[1] + v[2] + v[3]);
}

}  // namespace

class PlaneField::Maker {
 public:
  Maker(PlaneField& field, const FieldSource& source, const std::vector<PlaneBox>& region,
        const FieldAccuracy& accuracy)
      : field_(field), source_(source), region_(region), accuracy_(accuracy) {}

  void make(int node) {
    const PlaneBox box = field_.nodes_[static_cast<std::size_t>(node)].box;
    const bool wanted = std::ranges::any_of(region_, [&](const PlaneBox& part) { return part.meets(box); });
    Cell cell;
    if (!wanted) {
      cell.status = FieldStatus::outside;
      return leaf(node, cell, INFINITY, -INFINITY);
    }
    for (std::size_t k = 0; k < 4; ++k) {
      const FieldSample at = sample(box.x[k & 1], box.y[k >> 1]);
      cell.value[k] = at.value;
      cell.low[k] = at.low;
    }
    const double middle = sample(0.5 * (box.x[0] + box.x[1]), 0.5 * (box.y[0] + box.y[1])).value;
    const bool enough = source_.low ? bounded(box, cell, middle) : near_enough(box, cell, middle);
    const double lowest = std::min(middle, *std::min_element(cell.value, cell.value + 4));
    // Where nothing was found, though there may be something, its bound tells how much it matters.
    const int axis = enough ? kNoAxis : axis_to_halve(box, cell, finest(std::isinf(lowest) ? cell.least : lowest));
    if (axis == kNoAxis) {
      if (source_.low && !enough) close(box, cell, middle);
      const double high = cell.status == FieldStatus::smooth ? *std::max_element(cell.value, cell.value + 4) : INFINITY;
      return leaf(node, cell, cell.least, high);
    }
    const int child = static_cast<int>(field_.nodes_.size());
    field_.nodes_.resize(field_.nodes_.size() + 2);
    for (int k : {0, 1}) {
      PlaneBox part = box;
      double(&range)[2] = axis == 0 ? part.x : part.y;
      range[1 - k] = 0.5 * (range[0] + range[1]);
      field_.nodes_[static_cast<std::size_t>(child + k)].box = part;
    }
    make(child);
    make(child + 1);
    Node& parent = field_.nodes_[static_cast<std::size_t>(node)];
    const Node& first = field_.nodes_[static_cast<std::size_t>(child)];
    const Node& second = field_.nodes_[static_cast<std::size_t>(child + 1)];
    parent.child = child;
    parent.axis = axis;
    parent.low = std::min(first.low, second.low);
    parent.high = std::max(first.high, second.high);
  }

 private:
  double tolerance(double value) const {
    if (value < 0) return accuracy_.tolerance - kCoarserDeep * value;
    return accuracy_.tolerance + kCoarser * std::max(0.0, value - accuracy_.upto);
  }
  double finest(double value) const {
    if (value < 0) return accuracy_.finest - kCoarserCell * value;
    return accuracy_.finest + kCoarserCell * std::max(0.0, value - accuracy_.upto);
  }

  /// Across which a cell is to be halved: a function that bends or jumps in one direction alone needs cells that are
  /// narrow in that one only. A kink that runs along an axis is followed down to a fraction of the finest.
  int axis_to_halve(const PlaneBox& box, const Cell& cell, double finest) {
    const double size[2] = {box.width(), box.height()};
    const int longer = size[0] >= size[1] ? 0 : 1;
    double off[2] = {0, 0};
    if (source_.low) {
      const double x = 0.5 * (box.x[0] + box.x[1]), y = 0.5 * (box.y[0] + box.y[1]);
      const double(&v)[4] = cell.value;
      off[0] =
          std::max(off_line(v[0], sample(x, box.y[0]).value, v[1]), off_line(v[2], sample(x, box.y[1]).value, v[3]));
      off[1] =
          std::max(off_line(v[0], sample(box.x[0], y).value, v[2]), off_line(v[1], sample(box.x[1], y).value, v[3]));
    }
    const int more = off[0] == off[1] ? longer : off[0] > off[1] ? 0 : 1;
    for (const int axis : {more, 1 - more}) {
      if (size[axis] > finest) return axis;
      if (axis == more && std::isfinite(off[axis]) && off[axis] > off[1 - axis] && size[axis] > kKinkCell * finest &&
          size[1 - axis] > kKinkLength * finest)
        return axis;
    }
    return kNoAxis;
  }

  static double off_line(double a, double middle, double b) {
    if (std::isinf(a) && std::isinf(middle) && std::isinf(b)) return 0;
    return std::fabs(middle - 0.5 * (a + b));
  }

  FieldSample sample(double x, double y) {
    const auto [at, is_new] = known_.try_emplace({x, y});
    if (is_new) at->second = source_.at(x, y);
    return at->second;
  }

  void leaf(int node, const Cell& cell, double low, double high) {
    Node& of = field_.nodes_[static_cast<std::size_t>(node)];
    of.child = ~static_cast<int>(field_.cells_.size());
    of.low = low;
    of.high = high;
    field_.cells_.push_back(cell);
  }

  /// A distance: sets its bounds, and says whether it is known well enough.
  bool near_enough(const PlaneBox& box, Cell& cell, double middle) const {
    const double lowest = *std::min_element(cell.low, cell.low + 4);
    const double clear = lowest - 0.5 * box.diagonal();  // every place is no further than that from a corner
    cell.status = FieldStatus::smooth;
    cell.bend = INFINITY;
    if (clear > 0) cell.bend = (box.width() * box.width() + box.height() * box.height()) / (8 * clear);
    cell.least = std::max(clear, lowest - cell.bend);
    const double allowed = tolerance(std::min(middle, lowest));
    return std::min(cell.bend, 0.5 * box.diagonal()) <= allowed && std::fabs(middle - mean(cell.value)) <= allowed;
  }

  /// Any other function.
  bool bounded(const PlaneBox& box, Cell& cell, double middle) {
    const auto [low, high] = std::minmax_element(cell.value, cell.value + 4);
    const double lowest = std::min(*low, middle);
    cell.bend = INFINITY;
    const double off = std::fabs(middle - mean(cell.value));
    if (std::isfinite(lowest) && !(std::isfinite(*high) && off <= tolerance(lowest))) return false;
    cell.least = source_.low(box);
    cell.status = cell.least < INFINITY ? FieldStatus::smooth : FieldStatus::none;
    if (std::isinf(lowest)) return cell.status == FieldStatus::none;
    return cell.least >= lowest - kFieldJump - kCoarser * std::max(0.0, lowest - accuracy_.upto);
  }

  /// A cell that is as fine as cells become and still not known well: a kink, or a jump.
  void close(const PlaneBox& box, Cell& cell, double middle) const {
    const auto [low, high] = std::minmax_element(cell.value, cell.value + 4);
    double lowest = std::min(*low, middle);
    cell.least = source_.low(box);
    cell.status = FieldStatus::none;
    if (cell.least == INFINITY) return;
    const bool kink = std::isfinite(*high) && std::fabs(middle - mean(cell.value)) <= kKink;
    cell.status = kink && cell.least >= lowest - kFieldJump ? FieldStatus::smooth : FieldStatus::jump;
    if (cell.status == FieldStatus::smooth) return;
    if (std::isinf(lowest)) lowest = cell.least;
    std::fill(cell.value, cell.value + 4, lowest);
  }

  PlaneField& field_;
  const FieldSource& source_;
  const std::vector<PlaneBox>& region_;
  const FieldAccuracy& accuracy_;
  std::map<std::pair<double, double>, FieldSample> known_;
};

PlaneField::PlaneField(const FieldSource& source, const std::vector<PlaneBox>& region, const FieldAccuracy& accuracy)
    : distance_(!source.low) {
  if (region.empty()) return;
  Node root;
  root.box = region.front();
  for (const PlaneBox& part : region)
    root.box = {{std::min(root.box.x[0], part.x[0]), std::max(root.box.x[1], part.x[1])},
                {std::min(root.box.y[0], part.y[0]), std::max(root.box.y[1], part.y[1])}};
  nodes_.push_back(root);
  Maker(*this, source, region, accuracy).make(0);
}

FieldGap PlaneField::at(double x, double y) const {
  FieldGap gap;
  gap.status = FieldStatus::outside;
  gap.value = NAN;
  gap.low = -INFINITY;
  if (nodes_.empty() || !nodes_.front().box.holds(x, y)) return gap;
  const Node* node = &nodes_.front();
  while (node->child >= 0) {
    const Node& second = nodes_[static_cast<std::size_t>(node->child) + 1];
    const bool beyond = node->axis == 0 ? x >= second.box.x[0] : y >= second.box.y[0];
    node = beyond ? &second : &second - 1;
  }
  const Cell& cell = cells_[static_cast<std::size_t>(~node->child)];
  gap.status = cell.status;
  if (cell.status == FieldStatus::outside) return gap;
  const PlaneBox& box = node->box;
  const double s = box.width() > 0 ? (x - box.x[0]) / box.width() : 0;
  const double t = box.height() > 0 ? (y - box.y[0]) / box.height() : 0;
  const auto between = [&](const double(&v)[4]) {
    return (1 - t) * ((1 - s) * v[0] + s * v[1]) + t * ((1 - s) * v[2] + s * v[3]);
  };
  gap.low = cell.least;
  if (cell.status == FieldStatus::none) {
    gap.value = INFINITY;
  } else if (cell.status == FieldStatus::jump) {
    gap.value = cell.value[0];
  } else {
    gap.value = between(cell.value);
    if (distance_) gap.low = std::max(gap.low, between(cell.low) - cell.bend);
  }
  return gap;
}

FieldRange PlaneField::within(const PlaneBox& box) const {
  FieldRange range;
  if (nodes_.empty()) return range;
  int stack[128];  // two for every halving
  int size = 0;
  stack[size++] = 0;
  while (size > 0) {
    const Node& node = nodes_[static_cast<std::size_t>(stack[--size])];
    if ((node.low >= range.low && node.high <= range.high) || !node.box.meets(box)) continue;
    if (node.child < 0) {
      range.low = std::min(range.low, node.low);
      range.high = std::max(range.high, node.high);
      continue;
    }
    stack[size++] = node.child + 1;
    stack[size++] = node.child;
  }
  return range;
}

}  // namespace eyebrow::gap
