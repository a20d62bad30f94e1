#include "sheet_set.hpp"

#include <algorithm>
#include <cmath>

namespace eyebrow::gap {
namespace {

constexpr double kEdgeAngle = kPi / 10;  // of an arc's pieces
constexpr double kEdgeLength = 12;       // mm, of a straight edge's
constexpr double kFaceAngle = kPi / 8;   // of a face's pieces
constexpr double kFaceLength = 16;       // mm

}  // namespace

const SheetForm& SheetSet::turned(SheetForm form) {
  form.origin = into(form.origin);
  form.x = into(form.x);
  form.y = into(form.y);
  form.z = into(form.z);
  forms_.push_back(form);
  return forms_.back();
}

void SheetSet::add(const SheetForm& form, const Trim::Range& range, double step_u, double step_v) {
  const auto pieces = [](double from, double to, double step) {
    return std::max(1, static_cast<int>(std::ceil((to - from) / step - 1e-9)));
  };
  const int nu = pieces(range.s0, range.s1, step_u), nv = pieces(range.t0, range.t1, step_v);
  for (int i = 0; i < nu; ++i)
    for (int k = 0; k < nv; ++k) {
      const auto part = [](double from, double to, int at, int of) { return Turn(from + (to - from) * at / of); };
      Sheet sheet(form, part(range.s0, range.s1, i, nu), part(range.s0, range.s1, i + 1, nu),
                  part(range.t0, range.t1, k, nv), part(range.t0, range.t1, k + 1, nv));
      sheet.whole = !form.trimmed;
      if (keep(sheet)) sheets_.push_back(sheet);
    }
}

void SheetSet::add(const Arc& arc, int face, bool circles) {
  const Trim::Range along{-arc.half, arc.half, 0, 0}, rising{0, 0, -arc.half, arc.half};
  SheetForm form = form_of(arc, face);
  form.circles = circles;
  add(turned(form), arc.straight ? rising : along, kEdgeAngle, kEdgeLength);
}

void SheetSet::add(const Face& face, int number, const Trim& trim, bool trimmed) {
  SheetForm form;
  if (!form_of(face, form)) return;
  form.face = number;
  form.trimmed = trimmed;
  if (trims_.size() <= static_cast<std::size_t>(number)) trims_.resize(static_cast<std::size_t>(number) + 1);
  trims_[static_cast<std::size_t>(number)] = &trim;
  add(turned(form), trim.range(), kFaceAngle, form.tube > 0 ? kFaceAngle : kFaceLength);
}

bool SheetSet::keep(Sheet& sheet) const {
  if (sheet.whole) return true;
  const Trim& trim = *trims_[static_cast<std::size_t>(sheet.form->face)];
  const Trim::Box box = trim.box(sheet.u[0].angle, sheet.u[1].angle, sheet.v[0].angle, sheet.v[1].angle);
  sheet.whole = box == Trim::Box::on;
  return box != Trim::Box::off;
}

void SheetSet::finish() {
  nodes_.clear();
  if (!sheets_.empty()) build(0, static_cast<int>(sheets_.size()));
}

int SheetSet::build(int first, int count) {
  Vec3 low{1e300, 1e300, 1e300}, high{-1e300, -1e300, -1e300};
  for (int i = first; i < first + count; ++i) {
    const Sheet& s = sheet(i);
    low = {std::min(low.x, s.centre.x - s.radius), std::min(low.y, s.centre.y - s.radius),
           std::min(low.z, s.centre.z - s.radius)};
    high = {std::max(high.x, s.centre.x + s.radius), std::max(high.y, s.centre.y + s.radius),
            std::max(high.z, s.centre.z + s.radius)};
  }
  Node node;
  node.centre = 0.5 * (low + high);
  for (int i = first; i < first + count; ++i)
    node.radius = std::max(node.radius, norm(sheet(i).centre - node.centre) + sheet(i).radius);
  const int id = static_cast<int>(nodes_.size());
  nodes_.push_back(node);
  if (count == 1) {
    nodes_.back().centre = sheet(first).centre;
    nodes_.back().radius = sheet(first).radius;
    nodes_.back().sheet = first;
    return id;
  }
  const Vec3 size = high - low;
  const auto along = [&](const Sheet& s) {
    return size.x >= size.y && size.x >= size.z ? s.centre.x : size.y >= size.z ? s.centre.y : s.centre.z;
  };
  std::stable_sort(sheets_.begin() + first, sheets_.begin() + first + count,
                   [&](const Sheet& a, const Sheet& b) { return along(a) < along(b); });
  const int left = build(first, count / 2), right = build(first + count / 2, count - count / 2);
  nodes_[static_cast<std::size_t>(id)].left = left;
  nodes_[static_cast<std::size_t>(id)].right = right;
  return id;
}

}  // namespace eyebrow::gap
