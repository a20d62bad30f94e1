#include <vector>

#include "eyebrow/field.hpp"

#include "plane_field.hpp"
#include "slide.hpp"
#include "tolerances.hpp"

namespace eyebrow {
namespace {

using gap::FieldSample;
using gap::FieldSource;
using gap::PlaneBox;
using gap::PlaneField;
using gap::Slide;

FieldSource source_of(const ValveToPiston& query, const Slide& slide, GapKind kind, double reach) {
  const GapRequest request{false, kind == GapKind::face, kind == GapKind::radial, kind == GapKind::closest, false,
                           reach};
  FieldSource source;
  source.at = [=](double along, double aside) -> FieldSample {
    const Gap gap = query.gaps(slide.pose(along, aside), request)[kind];
    if (!gap.measured()) return {};
    return {gap.value, gap.low};
  };
  if (kind != GapKind::closest)
    source.low = [=](const PlaneBox& box) {
      const Pose deepest = slide.pose(box.x[1], 0.5 * (box.y[0] + box.y[1]));
      const Gap gap = query.least_within(deepest, request, gap::kPoseBall, 0.5 * box.height(), box.width())[kind];
      return gap.measured() ? gap.low : INFINITY;
    };
  return source;
}

std::vector<PlaneBox> boxes_of(const Slide& slide, const std::vector<PoseBox>& region) {
  std::vector<PlaneBox> boxes;
  for (const PoseBox& part : region) boxes.push_back(slide.box(part));
  return boxes;
}

}  // namespace

struct GapField::Inner {
  GapKind kind;
  Slide slide;
  PlaneField field;
};

GapField::GapField(const ValveToPiston& query, GapKind kind, double reach, const std::vector<PoseBox>& region,
                   const FieldAccuracy& accuracy) {
  const Slide slide(query.place());
  inner_ = std::make_shared<const Inner>(
      Inner{kind, slide, PlaneField(source_of(query, slide, kind, reach), boxes_of(slide, region), accuracy)});
}

FieldGap GapField::at(const Pose& pose) const {
  return inner_->field.at(inner_->slide.along(pose), inner_->slide.aside(pose));
}
double GapField::low_within(const PoseBox& box) const {
  return inner_->field.low_within(inner_->slide.box(box));
}
double GapField::high_within(const PoseBox& box) const {
  return inner_->field.high_within(inner_->slide.box(box));
}
GapKind GapField::kind() const {
  return inner_->kind;
}
std::size_t GapField::cells() const {
  return inner_->field.cells();
}
std::size_t GapField::queries() const {
  return inner_->field.samples();
}

}  // namespace eyebrow
