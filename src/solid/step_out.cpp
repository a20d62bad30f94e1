// STEP export (ISO 10303-21, application protocol 214).
#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <Interface_Protocol.hxx>
#include <Interface_Static.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPConstruct.hxx>
#include <STEPControl_Controller.hxx>
#include <Standard_Failure.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_TransferWriter.hxx>
#include <XSControl_WorkSession.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Trsf.hxx>
#include <sstream>

#include <fmt/format.h>

#include "eyebrow/group_color.hpp"
#include "eyebrow/parts.hpp"
#include "solid/occt.hpp"
#include "solid/quiet.hpp"
#include "solid/solids.hpp"
#include "solid/step_colors.hpp"
#include "solid/tolerances.hpp"
#include "solid/whole_file.hpp"

namespace eyebrow {
namespace {

// The same engine must give the same bytes, so the header carries a fixed date instead of the clock's.
constexpr const char* kTimeStamp = "1970-01-01T00:00:00";

constexpr Rgb kIntakeValve{0.60, 0.71, 0.82}, kExhaustValve{0.79, 0.66, 0.54}, kLine{0.75, 0.05, 0.15};

struct PartFace {
  std::string name;  // empty = none
  Rgb color;
};

struct Part {
  std::string name;
  TopoDS_Shape shape;           // in its own frame
  Frame place;                  // of that frame in the block frame
  Rgb color;                    // of faces that have none of their own
  std::vector<PartFace> faces;  // in the modeller's order; empty = nothing is said of them
  TopoDS_Shape placed = {};
};

TopoDS_Shape placed(const Part& part) {
  gp_Trsf move;
  move.SetTransformation(gp_Ax3(to_ax2(part.place)), gp_Ax3(gp::XOY()));
  return BRepBuilderAPI_Transform(part.shape, move, true).Shape();
}

std::vector<PartFace> crown_faces(const Solids& solids) {
  std::vector<PartFace> faces;
  for (std::size_t i = 0; i < solids.crown_faces.size(); ++i) {
    const Face& face = solids.crown_faces[i];
    const bool named_there = i < solids.file_names.size() && !solids.file_names[i].empty();
    faces.push_back({named_there ? solids.file_names[i] : face.name, group_color(face.group)});
  }
  return faces;
}

double off_element(const ProfileElement& e, Point2 p) {
  if (e.radius > 0) return std::fabs(std::hypot(p.r - e.centre.r, p.w - e.centre.w) - e.radius);
  const double dr = e.to.r - e.from.r, dw = e.to.w - e.from.w;
  const double t = std::clamp(((p.r - e.from.r) * dr + (p.w - e.from.w) * dw) / (dr * dr + dw * dw), 0.0, 1.0);
  return std::hypot(e.from.r + t * dr - p.r, e.from.w + t * dw - p.w);
}

/// Named after the piece of the outline that sweeps them.
std::vector<PartFace> valve_faces(const TopoDS_Shape& valve, const Profile& profile, Rgb color) {
  std::vector<PartFace> faces;
  for (TopExp_Explorer each(valve, TopAbs_FACE); each.More(); each.Next()) {
    const Vec3 inside = point_inside(TopoDS::Face(each.Current()));
    const Point2 at{std::hypot(inside.x, inside.y), inside.z};
    const auto of = std::min_element(
        profile.elements.begin(), profile.elements.end(),
        [&](const ProfileElement& a, const ProfileElement& b) { return off_element(a, at) < off_element(b, at); });
    faces.push_back({to_string(of->part), color});
  }
  return faces;
}

TopoDS_Shape line_of(const NamedLine& line) {
  return BRepBuilderAPI_MakeEdge(to_pnt(line.from), to_pnt(line.to)).Edge();
}

std::vector<Part> parts_at(const Engine& engine, const Parts& built, const Placing& placing,
                           const std::vector<NamedLine>& lines) {
  const Solids& solids = *built.solids;
  const Vec3 deck{0, 0, engine.gasket.thickness};  // the head frame's origin in the block frame
  Frame crown;
  crown.origin = deck + Vec3{0, 0, placing.height};
  std::vector<Part> parts{{"crown", solids.crown.solid, crown, group_color(Group::flat), crown_faces(solids)},
                          {"block", solids.block, Frame{}, group_color(Group::bore), {}},
                          {"gasket", solids.gasket, Frame{}, group_color(Group::gasket), {}}};
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    const Valve& valve = engine.valves[i];
    const Vec3 up = up_axis(engine, valve);
    const Rgb color = valve.role == Role::intake ? kIntakeValve : kExhaustValve;
    parts.push_back({"valve " + valve.name, solids.valves.at(i),
                     frame_about(deck + closed_place(engine, valve) - placing.lifts.at(i) * up, up), color,
                     valve_faces(solids.valves[i], built.profiles.at(i), color)});
  }
  for (Part& part : parts) part.placed = placed(part);
  for (const NamedLine& line : lines)
    if (norm(line.to - line.from) > kLeastPiece) parts.push_back({line.name, {}, {}, kLine, {}, line_of(line)});
  return parts;
}

TCollection_ExtendedString text(const std::string& name) {
  return {name.c_str(), true};
}

/// One assembly with a named part for each.
void fill(const Handle(TDocStd_Document) & document, const std::string& name, const std::vector<Part>& parts) {
  const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  const TDF_Label assembly = shapes->NewShape();
  TDataStd_Name::Set(assembly, text(name));
  for (const Part& part : parts) {
    const TDF_Label label = shapes->AddShape(part.placed, false);
    TDataStd_Name::Set(label, text(part.name));
    TDataStd_Name::Set(shapes->AddComponent(assembly, label, TopLoc_Location()), text(part.name));
  }
  shapes->UpdateAssemblies();
}

void name_faces(const Handle(XSControl_WorkSession) & session, const Part& part) {
  const Handle(Transfer_FinderProcess) finder = session->TransferWriter()->FinderProcess();
  std::size_t i = 0;
  for (TopExp_Explorer each(part.placed, TopAbs_FACE); each.More() && i < part.faces.size(); each.Next(), ++i) {
    const Handle(StepRepr_RepresentationItem) item = STEPConstruct::FindEntity(finder, each.Current());
    if (!item.IsNull()) item->SetName(new TCollection_HAsciiString(part.faces[i].name.c_str()));
  }
}

void color_part(const Handle(XSControl_WorkSession) & session, const Part& part) {
  std::vector<ColoredFace> differ;
  std::size_t i = 0;
  for (TopExp_Explorer each(part.placed, TopAbs_FACE); each.More() && i < part.faces.size(); each.Next(), ++i)
    if (part.faces[i].color != part.color) differ.push_back({each.Current(), part.faces[i].color});
  color_in_step(session, part.placed, part.color, differ);
}

/// ISO 10303-21 has ASCII alone, other characters as \X2\0000\X0\ (UTF-16): the modeller writes names as they are, and
/// may break a line within a character.
std::string in_ascii(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const auto byte = static_cast<unsigned char>(text[i++]);
    if (byte < 0x80) {
      out += static_cast<char>(byte);
      continue;
    }
    int more = byte >= 0xF0 ? 3 : byte >= 0xE0 ? 2 : byte >= 0xC0 ? 1 : 0;
    std::uint32_t code = more == 0 ? '?' : byte & (0x3Fu >> more);
    bool broken = false;
    for (; more > 0 && i < text.size(); ++i) {
      if (text[i] == '\n') {
        broken = true;
        continue;
      }
      code = code << 6 | (static_cast<unsigned char>(text[i]) & 0x3Fu);
      --more;
    }
    out += code < 0x10000 ? fmt::format("\\X2\\{:04X}\\X0\\", code) : fmt::format("\\X4\\{:08X}\\X0\\", code);
    if (broken) out += '\n';
  }
  return out;
}

/// The modeller counts the parts of assemblies on from one export to the next: count anew, for the same bytes each
/// time.
void number_occurrences(const Handle(StepData_StepModel) & model) {
  int number = 0;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const auto use = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(model->Value(i));
    if (!use.IsNull()) use->SetId(new TCollection_HAsciiString(fmt::format("{}", ++number).c_str()));
  }
}

std::string step_text(const std::string& name, const std::vector<Part>& parts) {
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  const Handle(XCAFApp_Application) application = XCAFApp_Application::GetApplication();
  Handle(TDocStd_Document) document;
  application->NewDocument("MDTV-XCAF", document);
  fill(document, name, parts);

  STEPCAFControl_Writer writer;
  writer.SetColorMode(false);
  const bool transferred = writer.Transfer(document, STEPControl_AsIs);
  application->Close(document);
  if (!transferred) throw MachineError("the modeller could not turn the solids into STEP");
  const Handle(XSControl_WorkSession) session = writer.ChangeWriter().WS();
  for (const Part& part : parts) name_faces(session, part);
  for (const Part& part : parts) color_part(session, part);

  const Handle(StepData_StepModel) model = writer.ChangeWriter().Model();
  APIHeaderSection_MakeHeader header(model);
  header.SetName(new TCollection_HAsciiString(name.c_str()));
  header.SetTimeStamp(new TCollection_HAsciiString(kTimeStamp));
  header.SetOriginatingSystem(new TCollection_HAsciiString("eyebrow"));
  header.SetAuthorValue(1, new TCollection_HAsciiString(""));
  header.SetOrganizationValue(1, new TCollection_HAsciiString(""));
  header.SetAuthorisation(new TCollection_HAsciiString(""));
  header.SetDescriptionValue(1, new TCollection_HAsciiString("crown, valves, block and gasket"));
  number_occurrences(model);

  StepData_StepWriter text_writer(model);
  text_writer.SendModel(Handle(StepData_Protocol)::DownCast(model->Protocol()));
  std::ostringstream out;
  text_writer.Print(out);
  return in_ascii(out.str());
}

}  // namespace

void export_step(const Engine& engine, const Parts& parts, const Placing& placing, const std::string& path,
                 const std::vector<NamedLine>& lines) {
  if (!parts.solids) throw MachineError("there are no solids to export");
  if (placing.lifts.size() != engine.valves.size()) {
    throw MachineError(fmt::format("to export, one lift a valve is needed: {} given for {} valves",
                                   placing.lifts.size(), engine.valves.size()));
  }
  silence_modeller();
  try {
    write_whole(path, step_text(engine.name, parts_at(engine, parts, placing, lines)));
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("{}: the modeller failed: {}", path, failure.GetMessageString()));
  }
}

}  // namespace eyebrow
