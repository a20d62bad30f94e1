#include "scene/part_view.hpp"

#include <vtkActor.h>
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkContourTriangulator.h>
#include <vtkFloatArray.h>
#include <vtkImageData.h>
#include <vtkIntArray.h>
#include <vtkLookupTable.h>
#include <vtkMatrix4x4.h>
#include <vtkPlane.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>
#include <vtkTexture.h>
#include <vtkUnsignedCharArray.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/group_color.hpp"
#include "scene/section_cut.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kHatchPeriod = 2.2;  // mm, square to the lines
constexpr int kHatchPixels = 64;
constexpr double kSamePlane = 1e-9;
// Light from everywhere; more where colours have to be told from each other.
constexpr double kAmbient = 0.38, kAmbientColored = 0.62, kSpecular = 0.12;
/// What stands behind a section is pale and flat: metal that is cut stands out from a wall that is only seen.
constexpr double kAmbientBehind = 0.75, kPaleBehind = 0.6;
constexpr int kTableColors = 2048;
constexpr const char* kGroupColors = "group color";

/// Parallel lines, pale on white: multiplied with the part's colour. It repeats without a seam.
vtkSmartPointer<vtkTexture> hatch_texture(Color color, int way) {
  vtkNew<vtkImageData> image;
  image->SetDimensions(kHatchPixels, kHatchPixels, 1);
  image->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
  for (int y = 0; y < kHatchPixels; ++y)
    for (int x = 0; x < kHatchPixels; ++x) {
      const int across = ((x + way * y) % kHatchPixels + kHatchPixels) % kHatchPixels;
      const double dark = across < kHatchPixels / 9 ? 0.62 : 1;
      auto* const pixel = static_cast<unsigned char*>(image->GetScalarPointer(x, y, 0));
      const double rgb[] = {color.red, color.green, color.blue};
      for (int i = 0; i < 3; ++i) pixel[i] = static_cast<unsigned char>(std::lround(255 * dark * rgb[i]));
    }
  auto texture = vtkSmartPointer<vtkTexture>::New();
  texture->SetInputData(image);
  texture->RepeatOn();
  texture->InterpolateOn();
  texture->MipmapOn();
  return texture;
}

Vec3 into(const Frame& frame, Vec3 direction) {
  return {dot(direction, frame.x), dot(direction, frame.y), dot(direction, frame.z)};
}

/// Same for all places of the same plane, whatever its origin is.
Plane plane_in(const Frame& frame, const Plane& plane) {
  const Vec3 normal = into(frame, plane.normal);
  return {dot(into(frame, plane.origin - frame.origin), normal) * normal, normal};
}

bool same(const std::optional<Plane>& a, const Plane& b) {
  return a && norm(a->origin - b.origin) < kSamePlane && norm(a->normal - b.normal) < kSamePlane;
}

/// Each band in one colour; what has no distance in the part's own.
vtkSmartPointer<vtkLookupTable> table_of(const Bands& bands, const double* own) {
  const double step = (bands.bounds.back() - bands.bounds.front()) / (kTableColors - 4);
  const double low = bands.bounds.front() - 2 * step;
  auto table = vtkSmartPointer<vtkLookupTable>::New();
  table->SetNumberOfTableValues(kTableColors);
  table->SetTableRange(low, low + kTableColors * step);
  for (int i = 0; i < kTableColors; ++i) {
    const Color color = bands.colors[band_of(bands, low + (i + 0.5) * step)];
    table->SetTableValue(i, color.red, color.green, color.blue);
  }
  table->SetNanColor(own[0], own[1], own[2], 1);
  return table;
}

Color darker(Color color, double by) {
  return {color.red * by, color.green * by, color.blue * by};
}

Color paler(Color color, double by) {
  const auto toward = [&](double own, double paper) { return own + by * (paper - own); };
  return {toward(color.red, kPaper.red), toward(color.green, kPaper.green), toward(color.blue, kPaper.blue)};
}

void set_color(vtkActor* actor, Color color) {
  actor->GetProperty()->SetColor(color.red, color.green, color.blue);
}

}  // namespace

struct PartView::Actors {
  vtkNew<vtkActor> surface, edges, cap, rim;
  vtkNew<vtkPolyDataMapper> surface_mapper, edge_mapper, cap_mapper, rim_mapper;
  vtkSmartPointer<vtkPolyData> faces, finer;  ///< finer: null until it is coloured
  vtkNew<vtkPolyData> cap_data, rim_data;
};

PartView::PartView(std::string name, std::shared_ptr<const Crown> solid, const ChosenFaces& shown, Color color,
                   int hatch)
    : name_(std::move(name)),
      solid_(std::move(solid)),
      shown_(shown),
      color_(color),
      actors_(std::make_unique<Actors>()) {
  Actors& a = *actors_;
  a.faces = surface_data(*solid_, shown);
  a.surface_mapper->SetInputData(a.faces);
  a.surface_mapper->ScalarVisibilityOff();
  a.surface->SetMapper(a.surface_mapper);
  set_color(a.surface, color);
  set_light(kAmbient, kSpecular);
  a.surface->GetProperty()->SetSpecularPower(18);

  a.edge_mapper->SetInputData(edge_data(*solid_, shown));
  a.edges->SetMapper(a.edge_mapper);
  a.cap_mapper->SetInputData(a.cap_data);
  a.cap->SetMapper(a.cap_mapper);
  a.cap->SetTexture(hatch_texture(color, hatch));
  a.rim_mapper->SetInputData(a.rim_data);
  a.rim->SetMapper(a.rim_mapper);
  for (vtkActor* const lines : {a.edges.Get(), a.rim.Get()}) {
    set_color(lines, darker(color, 0.28));
    lines->GetProperty()->LightingOff();
    lines->GetMapper()->SetResolveCoincidentTopologyToPolygonOffset();
    lines->GetMapper()->SetRelativeCoincidentTopologyLineOffsetParameters(0, -6);
    lines->PickableOff();
  }
  a.cap->GetProperty()->LightingOff();
  a.cap->PickableOff();
}

PartView::~PartView() = default;

void PartView::add_to(vtkRenderer* renderer) {
  for (vtkActor* const each : {actors_->surface.Get(), actors_->edges.Get(), actors_->cap.Get(), actors_->rim.Get()})
    renderer->AddActor(each);
}

void PartView::remove_from(vtkRenderer* renderer) {
  for (vtkActor* const each : {actors_->surface.Get(), actors_->edges.Get(), actors_->cap.Get(), actors_->rim.Get()})
    renderer->RemoveActor(each);
}

void PartView::set_place(const Frame& frame, const std::optional<Plane>& cut) {
  frame_ = frame;
  cut_ = cut;
  const vtkSmartPointer<vtkMatrix4x4> matrix = matrix_of(frame);
  for (vtkActor* const each : {actors_->surface.Get(), actors_->edges.Get(), actors_->cap.Get(), actors_->rim.Get()})
    each->SetUserMatrix(matrix);
  set_color(actors_->surface, cut ? paler(color_, kPaleBehind) : color_);
  if (actors_->surface_mapper->GetScalarVisibility() == 0) set_plain();
  update_planes();
  update_cap();
  set_visible(visible_);
}

void PartView::set_band(const HeightBand& band) {
  band_ = band;
  update_planes();
}

void PartView::set_visible(bool visible) {
  visible_ = visible;
  // The graphics leave specks of what is cut away as a whole.
  const bool drawn = visible && !cut_away();
  actors_->surface->SetVisibility(drawn);
  actors_->edges->SetVisibility(drawn);
  actors_->cap->SetVisibility(drawn && cut_.has_value());
  actors_->rim->SetVisibility(drawn && cut_.has_value());
}

bool PartView::cut_away() const {
  if (!cut_) return false;
  const Plane plane = plane_in(frame_, *cut_);
  return std::ranges::all_of(solid_->points, [&](Vec3 p) { return dot(p - plane.origin, plane.normal) > 0; });
}

void PartView::set_opacity(double opacity) {
  opacity_ = opacity;
  actors_->surface->GetProperty()->SetOpacity(opacity);
  actors_->cap->GetProperty()->SetOpacity(opacity < 1 ? 0.5 : 1);
}

void PartView::set_line_width(double width) {
  actors_->edges->GetProperty()->SetLineWidth(static_cast<float>(width));
  actors_->rim->GetProperty()->SetLineWidth(static_cast<float>(1.6 * width));
}

void PartView::cull_backs() {
  actors_->surface->GetProperty()->BackfaceCullingOn();
}

void PartView::draw_before(double units) {
  for (vtkPolyDataMapper* const mapper : {actors_->surface_mapper.Get(), actors_->cap_mapper.Get()}) {
    mapper->SetResolveCoincidentTopologyToPolygonOffset();
    mapper->SetRelativeCoincidentTopologyPolygonOffsetParameters(-units, -units);
  }
}

void PartView::set_distances(const Crown& finer, const std::vector<float>& distances, const Bands& bands) {
  if (!actors_->finer) actors_->finer = surface_data(finer, shown_);
  const auto* const points = vtkIntArray::SafeDownCast(actors_->finer->GetPointData()->GetArray("point"));
  vtkNew<vtkFloatArray> values;
  for (vtkIdType i = 0; i < points->GetNumberOfValues(); ++i)
    values->InsertNextValue(distances.at(static_cast<std::size_t>(points->GetValue(i))));
  actors_->finer->GetPointData()->SetScalars(values);
  actors_->finer->Modified();
  vtkPolyDataMapper* const mapper = actors_->surface_mapper;
  mapper->SetInputData(actors_->finer);
  mapper->SetScalarModeToUsePointData();
  mapper->SetLookupTable(table_of(bands, actors_->surface->GetProperty()->GetColor()));
  mapper->SetColorModeToMapScalars();
  mapper->UseLookupTableScalarRangeOn();
  mapper->InterpolateScalarsBeforeMappingOn();
  mapper->ScalarVisibilityOn();
  set_light(kAmbientColored, 0);
}

void PartView::set_groups() {
  const auto* const faces = vtkIntArray::SafeDownCast(actors_->faces->GetCellData()->GetArray("face"));
  if (actors_->faces->GetCellData()->GetArray(kGroupColors) == nullptr) {
    vtkNew<vtkUnsignedCharArray> colors;
    colors->SetName(kGroupColors);
    colors->SetNumberOfComponents(3);
    for (vtkIdType i = 0; i < faces->GetNumberOfValues(); ++i) {
      const Rgb color = group_color(solid_->faces.at(static_cast<std::size_t>(faces->GetValue(i))).group);
      for (const double part : {color.red, color.green, color.blue})
        colors->InsertNextValue(static_cast<unsigned char>(std::lround(255 * part)));
    }
    actors_->faces->GetCellData()->AddArray(colors);
  }
  vtkPolyDataMapper* const mapper = actors_->surface_mapper;
  mapper->SetInputData(actors_->faces);
  mapper->SetScalarModeToUseCellFieldData();
  mapper->SelectColorArray(kGroupColors);
  mapper->SetColorModeToDirectScalars();
  mapper->ScalarVisibilityOn();
  set_light(kAmbientColored, 0);
}

void PartView::set_plain() {
  actors_->surface_mapper->SetInputData(actors_->faces);
  actors_->surface_mapper->ScalarVisibilityOff();
  if (cut_)
    set_light(kAmbientBehind, 0);
  else
    set_light(kAmbient, kSpecular);
}

void PartView::set_light(double ambient, double specular) {
  vtkProperty* const property = actors_->surface->GetProperty();
  property->SetAmbient(ambient);
  property->SetDiffuse(1 - ambient);
  property->SetSpecular(specular);
}

vtkActor* PartView::surface() const {
  return actors_->surface;
}

std::string PartView::face_of_cell(long cell) const {
  vtkPolyData* const drawn = actors_->surface_mapper->GetInput();
  const auto* const faces = vtkIntArray::SafeDownCast(drawn->GetCellData()->GetArray("face"));
  if (cell < 0 || cell >= faces->GetNumberOfValues()) return "";
  return solid_->faces[static_cast<std::size_t>(faces->GetValue(cell))].name;
}

void PartView::update_planes() {
  const auto plane = [](Vec3 origin, Vec3 kept) {
    vtkNew<vtkPlane> out;
    out->SetOrigin(origin.x, origin.y, origin.z);
    out->SetNormal(kept.x, kept.y, kept.z);
    return vtkSmartPointer<vtkPlane>(out);
  };
  for (vtkPolyDataMapper* const mapper : {actors_->surface_mapper.Get(), actors_->edge_mapper.Get(),
                                          actors_->cap_mapper.Get(), actors_->rim_mapper.Get()}) {
    mapper->RemoveAllClippingPlanes();
    const bool on_the_plane = mapper == actors_->cap_mapper || mapper == actors_->rim_mapper;
    if (cut_ && !on_the_plane) mapper->AddClippingPlane(plane(cut_->origin, -cut_->normal));
    if (std::isfinite(band_.low)) mapper->AddClippingPlane(plane({0, 0, band_.low}, {0, 0, 1}));
    if (std::isfinite(band_.high)) mapper->AddClippingPlane(plane({0, 0, band_.high}, {0, 0, -1}));
  }
}

void PartView::update_cap() {
  if (!cut_) return;
  const Plane plane = plane_in(frame_, *cut_);
  if (same(cap_of_, plane)) return;
  cap_of_ = plane;
  const Cut cut = cut_by(*solid_, plane);
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const Vec3 p : cut.points) points->InsertNextPoint(p.x, p.y, p.z);
  vtkNew<vtkCellArray> lines;
  for (const Cut::Line& line : cut.lines) lines->InsertNextCell({line.ends[0], line.ends[1]});
  actors_->rim_data->SetPoints(points);
  actors_->rim_data->SetLines(lines);
  actors_->rim_data->Modified();

  vtkNew<vtkContourTriangulator> triangulator;
  triangulator->SetInputData(actors_->rim_data);
  triangulator->Update();
  actors_->cap_data->ShallowCopy(triangulator->GetOutput());
  actors_->cap_data->SetLines(nullptr);
  // Lines at 45 degrees to the level, whatever way the plane stands.
  const Vec3 level = cross(into(frame_, {0, 0, 1}), plane.normal);
  Frame across = frame_about(plane.origin, plane.normal);
  if (norm(level) > 1e-6) across.x = unit(level), across.y = cross(plane.normal, across.x);
  vtkNew<vtkFloatArray> places;
  places->SetNumberOfComponents(2);
  const double scale = 1 / (kHatchPeriod * std::sqrt(2.0));
  for (vtkIdType i = 0; i < actors_->cap_data->GetNumberOfPoints(); ++i) {
    double p[3];
    actors_->cap_data->GetPoint(i, p);
    const Vec3 at{p[0], p[1], p[2]};
    places->InsertNextTuple2(dot(at, across.x) * scale, dot(at, across.y) * scale);
  }
  actors_->cap_data->GetPointData()->SetTCoords(places);
  actors_->cap_data->Modified();
}

}  // namespace eyebrow::scene
