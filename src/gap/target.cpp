#include "target.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include "eyebrow/fault.hpp"

namespace eyebrow {
namespace {

constexpr int kLeaf = 2;

double part(const Vec3& v, int axis) {
  return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}

struct Builder {
  FaceTree& tree;
  struct Placed {
    double place;
    int number;  ///< of the piece, before they are sorted
  };
  std::vector<Placed> order = {};
  std::vector<Piece> before = {};

  Vec3 turn(Vec3 p) const { return {dot(p, tree.axes.x), dot(p, tree.axes.y), dot(p, tree.axes.z)}; }
  Vec3 middle(const Piece& piece) const {
    return turn((1.0 / 3.0) * (piece.corner[0] + piece.corner[1] + piece.corner[2]));
  }

  /// By their middles. Ties go to the earlier piece, so that the tree is the same everywhere.
  void sort(int first, int count, int axis) {
    order.clear();
    for (int i = first; i < first + count; ++i) order.push_back({part(middle(tree.pieces[i]), axis), i});
    std::ranges::sort(order, [](const Placed& a, const Placed& b) {
      return a.place < b.place || (a.place == b.place && a.number < b.number);
    });
    before.clear();
    for (const Placed& each : order) before.push_back(tree.pieces[each.number]);
    std::ranges::copy(before, tree.pieces.begin() + first);
  }

  int build(int first, int count) {
    Vec3 low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
    for (int i = first; i < first + count; ++i)
      for (const Vec3& corner : tree.pieces[i].corner) {
        const Vec3 p = turn(corner);
        low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
      }
    TreeNode node;
    const Vec3 middle_in_axes = 0.5 * (low + high);
    node.centre = middle_in_axes.x * tree.axes.x + middle_in_axes.y * tree.axes.y + middle_in_axes.z * tree.axes.z;
    node.half = 0.5 * (high - low);
    for (int i = first; i < first + count; ++i)
      for (const Vec3& corner : tree.pieces[i].corner) node.radius = std::max(node.radius, norm(corner - node.centre));
    node.first = first;
    node.count = count;
    const int id = static_cast<int>(tree.nodes.size());
    tree.nodes.push_back(node);
    if (count <= kLeaf) return id;
    const Vec3 size = high - low;
    const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    const int half = count / 2;
    sort(first, count, axis);
    const int left = build(first, half);
    const int right = build(first + half, count - half);
    tree.nodes[id].left = left;
    tree.nodes[id].right = right;
    return id;
  }
};

void build(FaceTree& tree) {
  if (!tree.pieces.empty()) Builder{tree}.build(0, static_cast<int>(tree.pieces.size()));
}

/// Sides of a face's triangles that no other of its triangles has, in the order of the triangles.
std::vector<Piece> sides_of(const Crown& crown, const std::vector<Piece>& triangles) {
  struct Use {
    int low, high;       ///< vertices
    std::size_t number;  ///< three sides a triangle, in their order
    bool same(const Use& other) const { return low == other.low && high == other.high; }
  };
  std::vector<Use> uses;
  uses.reserve(3 * triangles.size());
  const auto vertex = [&](const Piece& piece, int k) { return crown.triangles[piece.triangle].vertex[k % 3]; };
  for (const Piece& piece : triangles)
    for (int k = 0; k < 3; ++k) {
      const auto [low, high] = std::minmax({vertex(piece, k), vertex(piece, k + 1)});
      uses.push_back({low, high, uses.size()});
    }
  std::ranges::sort(uses, {}, [](const Use& use) { return std::tuple(use.low, use.high, use.number); });
  std::vector<std::size_t> once;
  for (std::size_t i = 0; i < uses.size(); ++i)
    if (!(i > 0 && uses[i].same(uses[i - 1])) && !(i + 1 < uses.size() && uses[i].same(uses[i + 1])))
      once.push_back(uses[i].number);
  std::ranges::sort(once);
  std::vector<Piece> sides;
  for (const std::size_t number : once) {
    const Piece& piece = triangles[number / 3];
    const std::size_t k = number % 3;
    sides.push_back({{piece.corner[k], piece.corner[(k + 1) % 3], piece.corner[(k + 1) % 3]}, piece.triangle});
  }
  return sides;
}

bool is_pocket_side(const Face& face, int pocket) {
  return face.pocket == pocket && (face.group == Group::wall || face.group == Group::mouth);
}

bool is_crown_top(const Face& face) {
  switch (face.group) {
    case Group::flat:
    case Group::dome:
    case Group::top_chamfer:
    case Group::dish_floor:
    case Group::dish_corner:
    case Group::dish_wall:
      return true;
    default:
      return false;
  }
}

}  // namespace

Target::Target(Crown crown) : crown_(std::move(crown)) {
  const int faces = static_cast<int>(crown_.faces.size());
  trees_.resize(crown_.faces.size());
  rims_.resize(crown_.faces.size());
  normals_.reserve(crown_.triangles.size());
  for (int i = 0; i < static_cast<int>(crown_.triangles.size()); ++i) {
    const Triangle& t = crown_.triangles[i];
    if (t.face < 0 || t.face >= faces) throw Error("a mesh triangle names a face that does not exist");
    const Vec3 a = crown_.points[t.vertex[0]], b = crown_.points[t.vertex[1]], c = crown_.points[t.vertex[2]];
    trees_[t.face].pieces.push_back({{a, b, c}, i});
    const Vec3 n = cross(b - a, c - a);
    const double length = norm(n);
    normals_.push_back(length > 0 ? (1.0 / length) * n : crown_.faces[t.face].frame.z);
  }
  for (int f = 0; f < faces; ++f) {
    trees_[f].face = rims_[f].face = f;
    trees_[f].axes = rims_[f].axes = crown_.faces[f].frame;
    rims_[f].pieces = sides_of(crown_, trees_[f].pieces);
    build(trees_[f]);
    build(rims_[f]);
  }
  if (!crown_.by_mesh && !crown_.edges.empty() && crown_.error > 0) {
    std::vector<gap::BorderSide> border;
    std::vector<std::vector<std::pair<Vec3, Vec3>>> sides(crown_.faces.size());
    trims_.reserve(crown_.faces.size());
    std::vector<std::size_t> missing(crown_.faces.size());  // sides of the border that no edge has
    for (int f = 0; f < faces; ++f) missing[f] = rims_[f].pieces.size();
    for (const Edge& edge : crown_.edges) {
      if (edge.faces[0] == edge.faces[1]) continue;  // a seam
      const std::vector<Vec3>& chain = edge.fine.empty() ? edge.points : edge.fine;
      for (int face : edge.faces)
        if (face >= 0) {
          for (std::size_t i = 0; i + 1 < chain.size(); ++i) sides[face].emplace_back(chain[i], chain[i + 1]);
          missing[face] -= edge.points.size() - 1;
        }
    }
    for (int f = 0; f < faces; ++f) {
      for (const Piece& side : rims_[f].pieces)
        border.push_back({side.corner[0], side.corner[1], f, normals_[side.triangle]});
      trims_.emplace_back(crown_.faces[f], sides[f]);
    }
    // A face whose border is not all edges is known by its mesh only, and so is the crown.
    if (std::ranges::all_of(missing, [](std::size_t count) { return count == 0; }))
      edges_ = gap::crown_edges(crown_, border);
    else
      trims_.clear();
  }
  int pockets = 0;
  for (const Face& face : crown_.faces) pockets = std::max(pockets, face.pocket + 1);
  mouths_.resize(pockets);
  for (const Edge& edge : crown_.edges) {
    if (edge.faces[0] < 0 || edge.faces[1] < 0) continue;
    for (int turn = 0; turn < 2; ++turn) {
      const Face& side = crown_.faces[edge.faces[turn]];
      const Face& top = crown_.faces[edge.faces[1 - turn]];
      if (side.pocket >= 0 && is_pocket_side(side, side.pocket) && is_crown_top(top))
        mouths_[side.pocket].insert(mouths_[side.pocket].end(), edge.points.begin(), edge.points.end());
    }
  }
}

Target::Normal Target::normal_at(int triangle, Vec3 point) const {
  const Face& face = crown_.faces[crown_.triangles[triangle].face];
  const Vec3 flat = normals_[triangle], off = point - face.frame.origin;
  if (face.kind != Surface::sphere && face.kind != Surface::cone) return {flat, 0};
  const double from_middle =
      face.kind == Surface::sphere ? norm(off) : norm(off - dot(off, face.frame.z) * face.frame.z);
  if (!(from_middle > 0)) return {flat, 0};
  const Vec3 exact = off_surface_gradient(face, point);
  return {dot(exact, flat) < 0 ? -exact : exact, 1 / from_middle};
}

Vec3 Target::exact_normal_at(int triangle, Vec3 point) const {
  const Face& face = crown_.faces[crown_.triangles[triangle].face];
  if (face.kind == Surface::free_form || crown_.error == 0) return normals_[triangle];
  const Vec3 exact = off_surface_gradient(face, point);
  return dot(exact, normals_[triangle]) < 0 ? -exact : exact;
}

std::shared_ptr<const Target> make_target(Crown crown) {
  return std::make_shared<const Target>(std::move(crown));
}

const Crown& crown_of(const Target& target) {
  return target.crown();
}

}  // namespace eyebrow
