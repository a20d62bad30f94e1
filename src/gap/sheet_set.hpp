// Sheets of a crown in a valve's axes under one hierarchy, so that a pose only moves them.
#pragma once
#include <deque>
#include <vector>

#include "sheet.hpp"
#include "trim.hpp"

namespace eyebrow::gap {

class SheetSet {
 public:
  /// `axes`: directions of the valve's axes in the crown's frame.
  explicit SheetSet(const Frame& axes) : axes_(axes) {}
  SheetSet(SheetSet&&) = default;
  SheetSet& operator=(SheetSet&&) = default;
  SheetSet(const SheetSet&) = delete;

  /// `circles`: it goes round the face's axis.
  void add(const Arc& arc, int face, bool circles = false);
  /// Nothing for a plane or free-form face. The trim has to outlive this. `trimmed`: only the face itself; else its
  /// surface over all that the face spans.
  void add(const Face& face, int number, const Trim& trim, bool trimmed);
  void finish();
  bool empty() const { return nodes_.empty(); }

  struct Node {
    Vec3 centre;
    double radius = 0;
    int left = -1, right = -1, sheet = -1;
  };
  const std::vector<Node>& nodes() const { return nodes_; }
  const Sheet& sheet(int index) const { return sheets_[static_cast<std::size_t>(index)]; }

  /// Is a point of the sheet's surface, in the valve's axes, on its face?
  bool on_face(const Sheet& sheet, Vec3 p) const {
    return sheet.whole || trims_[static_cast<std::size_t>(sheet.form->face)]->within(out(p));
  }
  /// Marks a part that is whole; false where it is off the face.
  bool keep(Sheet& sheet) const;

 private:
  Vec3 into(Vec3 v) const { return {dot(v, axes_.x), dot(v, axes_.y), dot(v, axes_.z)}; }
  Vec3 out(Vec3 v) const { return v.x * axes_.x + v.y * axes_.y + v.z * axes_.z; }
  const SheetForm& turned(SheetForm form);
  void add(const SheetForm& form, const Trim::Range& range, double step_u, double step_v);
  int build(int first, int count);

  Frame axes_;
  std::deque<SheetForm> forms_;  // a deque: sheets point to them
  std::vector<const Trim*> trims_;
  std::vector<Sheet> sheets_;
  std::vector<Node> nodes_;
};

}  // namespace eyebrow::gap
