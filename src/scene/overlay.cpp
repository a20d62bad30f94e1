#include "scene/overlay.hpp"

#include <vtkActor2D.h>
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkNew.h>
#include <vtkObjectFactory.h>
#include <vtkOpenGLPolyDataMapper2D.h>
#include <vtkOpenGLRenderWindow.h>
#include <vtkOpenGLState.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkProperty2D.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkSmartPointer.h>
#include <vtkTextActor.h>
#include <vtkTextProperty.h>
#include <vtkTextRenderer.h>
#include <vtkUnsignedCharArray.h>

#include <cmath>
#include <numbers>

namespace eyebrow::scene {
namespace {

constexpr double kPointsPerInch = 72;
constexpr int kCircleCorners = 28;
constexpr unsigned int kGlAlways = 0x0207;  // GL_ALWAYS

void set_up(vtkTextProperty* property, const Writing& writing, int dpi) {
  property->SetFontFamilyToArial();
  property->SetFontSize(static_cast<int>(std::lround(writing.size * kPointsPerInch / dpi)));
  property->SetBold(writing.bold);
  property->SetColor(writing.color.red, writing.color.green, writing.color.blue);
}

/// A regular polygon, or a circle.
std::vector<Spot2> corners_of(Spot2 at, double radius, const LitStyle& style) {
  const int count = style.corners == 0 ? kCircleCorners : style.corners;
  const double size = style.corners == 3 ? 1.35 * radius : style.corners == 4 ? 1.2 * radius : radius;
  std::vector<Spot2> out;
  for (int i = 0; i < count; ++i) {
    const double angle = style.turn + 2 * std::numbers::pi * i / count;
    out.push_back({at.x + size * std::cos(angle), at.y + size * std::sin(angle)});
  }
  return out;
}

/// VTK gives all that is flat one depth, and the first that comes to a place keeps it. Here the last does.
class PaintedMapper : public vtkOpenGLPolyDataMapper2D {
 public:
  static PaintedMapper* New();
  vtkTypeMacro(PaintedMapper, vtkOpenGLPolyDataMapper2D) void RenderOverlay(vtkViewport* viewport,
                                                                            vtkActor2D* actor) override {
    auto* const window = vtkOpenGLRenderWindow::SafeDownCast(viewport->GetVTKWindow());
    if (window == nullptr) return;
    const vtkOpenGLState::ScopedglDepthFunc kept(window->GetState());
    window->GetState()->vtkglDepthFunc(kGlAlways);
    vtkOpenGLPolyDataMapper2D::RenderOverlay(viewport, actor);
  }
};
vtkStandardNewMacro(PaintedMapper)

}  // namespace

struct Overlay::Inner {
  int dpi() const {
    vtkRenderWindow* const window = renderer->GetRenderWindow();
    return window == nullptr ? static_cast<int>(kPointsPerInch) : window->GetDPI();
  }

  vtkRenderer* renderer;
  vtkNew<vtkPoints> points;
  vtkNew<vtkCellArray> cells;
  vtkNew<vtkUnsignedCharArray> colors;
  vtkNew<vtkPolyData> data;
  vtkSmartPointer<vtkPolyDataMapper2D> mapper = vtkSmartPointer<PaintedMapper>::New();
  vtkNew<vtkActor2D> shapes;
  std::vector<vtkSmartPointer<vtkTextActor>> texts;  ///< more than are in use
  std::vector<Written> written;
};

Overlay::Overlay(vtkRenderer* renderer) : inner_(std::make_unique<Inner>()) {
  inner_->renderer = renderer;
  inner_->colors->SetNumberOfComponents(4);
  inner_->mapper->SetInputData(inner_->data);
  inner_->mapper->SetScalarModeToUseCellData();
  inner_->shapes->SetMapper(inner_->mapper);
  inner_->shapes->GetProperty()->SetDisplayLocationToBackground();
  inner_->shapes->SetLayerNumber(0);
  inner_->shapes->PickableOff();
  renderer->AddActor2D(inner_->shapes);
}

Overlay::~Overlay() {
  inner_->renderer->RemoveActor2D(inner_->shapes);
  for (const auto& each : inner_->texts) inner_->renderer->RemoveActor2D(each);
}

void Overlay::clear() {
  inner_->points->Reset();
  inner_->cells->Reset();
  inner_->colors->Reset();
  inner_->written.clear();
}

void Overlay::polygon(const std::vector<Spot2>& corners, Color color, double opacity) {
  inner_->cells->InsertNextCell(static_cast<vtkIdType>(corners.size()));
  for (const Spot2 p : corners) inner_->cells->InsertCellPoint(inner_->points->InsertNextPoint(p.x, p.y, 0));
  inner_->colors->InsertNextTuple4(std::lround(255 * color.red), std::lround(255 * color.green),
                                   std::lround(255 * color.blue), std::lround(255 * opacity));
}

void Overlay::area(const Area& area, Color color, double opacity) {
  polygon({{area.left, area.bottom}, {area.right, area.bottom}, {area.right, area.top}, {area.left, area.top}}, color,
          opacity);
}

void Overlay::line(Spot2 from, Spot2 to, double width, Color color, const std::vector<double>& dash) {
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0)) return;
  const double ux = (to.x - from.x) / length, uy = (to.y - from.y) / length, h = width / 2;
  const auto piece = [&](double a, double b) {
    const Spot2 p{from.x + a * ux, from.y + a * uy}, q{from.x + b * ux, from.y + b * uy};
    polygon({{p.x - h * uy, p.y + h * ux},
             {q.x - h * uy, q.y + h * ux},
             {q.x + h * uy, q.y - h * ux},
             {p.x + h * uy, p.y - h * ux}},
            color);
  };
  if (dash.empty()) return piece(0, length);
  double at = 0;
  for (std::size_t i = 0; at < length; i = (i + 1) % dash.size()) {
    const double end = at + dash[i] * width / 2;
    if (i % 2 == 0) piece(at, std::min(end, length));
    at = end;
  }
}

void Overlay::marker(Spot2 at, double radius, const LitStyle& style, bool hollow) {
  polygon(corners_of(at, 1.45 * radius, style), kPaper);
  polygon(corners_of(at, radius, style), style.color);
  if (hollow) polygon(corners_of(at, 0.5 * radius, style), kPaper);
}

void Overlay::arrow_head(Spot2 from, Spot2 tip, double size, Color color) {
  const double length = std::hypot(tip.x - from.x, tip.y - from.y);
  if (!(length > 0)) return;
  const double ux = (tip.x - from.x) / length, uy = (tip.y - from.y) / length, half = 0.36 * size;
  const Spot2 base{tip.x - size * ux, tip.y - size * uy};
  polygon({tip, {base.x - half * uy, base.y + half * ux}, {base.x + half * uy, base.y - half * ux}}, color);
}

void Overlay::text(const std::string& text, Spot2 at, const Writing& writing) {
  const std::size_t number = inner_->written.size();
  if (number == inner_->texts.size()) {
    inner_->texts.push_back(vtkSmartPointer<vtkTextActor>::New());
    vtkTextActor* const fresh = inner_->texts.back();
    fresh->GetPositionCoordinate()->SetCoordinateSystemToDisplay();
    fresh->SetLayerNumber(1);
    fresh->PickableOff();
    inner_->renderer->AddActor2D(fresh);
  }
  vtkTextActor* const actor = inner_->texts[number];
  set_up(actor->GetTextProperty(), writing, inner_->dpi());
  actor->SetInput(text.c_str());
  actor->SetPosition(std::round(at.x), std::round(at.y));
  inner_->written.push_back({text, at});
}

double Overlay::width_of(const std::string& text, const Writing& writing) const {
  if (text.empty()) return 0;
  vtkNew<vtkTextProperty> property;
  set_up(property, writing, inner_->dpi());
  int box[4] = {0, 0, 0, 0};
  vtkTextRenderer* const words = vtkTextRenderer::GetInstance();
  if (words == nullptr || !words->GetBoundingBox(property, text, box, inner_->dpi())) return 0;
  return box[1] - box[0] + 1;
}

void Overlay::finish() {
  inner_->data->SetPoints(inner_->points);
  inner_->data->SetPolys(inner_->cells);
  inner_->data->GetCellData()->SetScalars(inner_->colors);
  inner_->points->Modified();
  inner_->cells->Modified();
  inner_->colors->Modified();
  inner_->data->Modified();
  for (std::size_t i = 0; i < inner_->texts.size(); ++i) inner_->texts[i]->SetVisibility(i < inner_->written.size());
}

const std::vector<Overlay::Written>& Overlay::written() const {
  return inner_->written;
}

}  // namespace eyebrow::scene
