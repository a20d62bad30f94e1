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
using gap::SlideFrame;

FieldSource source_of(const ValveToPiston& query, const SlideFrame& frame, GapKind kind, double reach) {
  const GapRequest request{false, kind == GapKind::face, kind == GapKind::radial, kind == GapKind::closest, false,
                           reach};
  FieldSource source;
  source.at = [=](double along, double aside) -> FieldSample {
    const Gap gap = query.gaps(frame.pose({along, aside}), request)[kind];
    if (!gap.measured()) return {};
    return {gap.value, gap.low};
  };
  if (kind != GapKind::closest)
    source.low = [=](const PlaneBox& box) {
      const Pose deepest = frame.pose({box.x[1], 0.5 * (box.y[0] + box.y[1])});
      const Gap gap = query.least_within(deepest, request, gap::kPoseBall, 0.5 * box.height(), box.width())[kind];
      return gap.measured() ? gap.low : INFINITY;
    };
  return source;
}

std::vector<PlaneBox> boxes_of(const std::vector<SlideBox>& region) {
  std::vector<PlaneBox> boxes;
  for (const SlideBox& part : region) boxes.push_back(gap::box_of(part));
  return boxes;
}

}  // namespace

Slide slide_of(const ValvePlace& place, const Pose& pose) {
  return SlideFrame(place).slide(pose);
}

struct GapField::Inner {
  SlideFrame frame;
  PlaneField field;
};

GapField::GapField(const ValveToPiston& query, GapKind kind, double reach, const std::vector<SlideBox>& region,
                   const FieldAccuracy& accuracy) {
  const SlideFrame frame(query.place());
  inner_ = std::make_shared<const Inner>(
      Inner{frame, PlaneField(source_of(query, frame, kind, reach), boxes_of(region), accuracy)});
}

FieldGap GapField::at(const Pose& pose) const {
  const Slide at = inner_->frame.slide(pose);
  return inner_->field.at(at.along, at.aside);
}
FieldRange GapField::within(const SlideBox& box) const {
  return inner_->field.within(gap::box_of(box));
}
std::size_t GapField::cells() const {
  return inner_->field.cells();
}

}  // namespace eyebrow
