#include "solid/step_colors.hpp"

#include <Quantity_Color.hxx>
#include <STEPConstruct.hxx>
#include <STEPConstruct_Styles.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_RepresentationContext.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <StepVisual_Colour.hxx>
#include <StepVisual_MechanicalDesignGeometricPresentationRepresentation.hxx>
#include <StepVisual_PresentationStyleAssignment.hxx>
#include <StepVisual_StyledItem.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XSControl_TransferWriter.hxx>

namespace eyebrow {
namespace {

Handle(StepVisual_PresentationStyleAssignment)
    styled(const STEPConstruct_Styles& styles, const Handle(StepRepr_RepresentationItem) & item, Rgb color,
           bool is_curve) {
  const Handle(StepVisual_Colour) step =
      STEPConstruct_Styles::EncodeColor(Quantity_Color(color.red, color.green, color.blue, Quantity_TOC_sRGB));
  const Handle(StepVisual_Colour) none;
  return styles.MakeColorPSA(item, is_curve ? none : step, is_curve ? step : none, none, 0);
}

}  // namespace

void color_in_step(const Handle(XSControl_WorkSession) & session, const TopoDS_Shape& shape, Rgb color,
                   const std::vector<ColoredFace>& faces) {
  const Handle(Transfer_FinderProcess) finder = session->TransferWriter()->FinderProcess();
  const auto item_of = [&](const TopoDS_Shape& of) {
    return Handle(StepRepr_RepresentationItem)(STEPConstruct::FindEntity(finder, of));
  };
  STEPConstruct_Styles styles(session);
  const Handle(StepRepr_RepresentationItem) whole = item_of(shape);
  const Handle(StepRepr_RepresentationContext) context = styles.FindContext(shape);
  if (whole.IsNull() || context.IsNull()) return;
  const Handle(StepVisual_StyledItem) none;
  const bool is_curve = shape.ShapeType() == TopAbs_EDGE;
  const Handle(StepVisual_StyledItem) base = styles.AddStyle(whole, styled(styles, whole, color, is_curve), none);
  for (const ColoredFace& one : faces)
    if (const Handle(StepRepr_RepresentationItem) item = item_of(one.face); !item.IsNull())
      styles.AddStyle(item, styled(styles, item, one.color, false), base);
  Handle(StepVisual_MechanicalDesignGeometricPresentationRepresentation) all;
  if (styles.CreateMDGPR(context, all)) Handle(StepData_StepModel)::DownCast(session->Model())->AddWithRefs(all);
}

}  // namespace eyebrow
