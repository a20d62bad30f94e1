// STEP export (ISO 10303-21, application protocol 214).
#include <APIHeaderSection_MakeHeader.hxx>
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
#include <gp_Trsf.hxx>
#include <sstream>

#include <fmt/format.h>

#include "eyebrow/parts.hpp"
#include "solid/quiet.hpp"
#include "solid/solids.hpp"
#include "solid/whole_file.hpp"

namespace eyebrow {
namespace {

// The same engine must give the same bytes, so the header carries a fixed date instead of the clock's.
constexpr const char* kTimeStamp = "1970-01-01T00:00:00";

struct Part {
  std::string name;
  TopoDS_Shape shape;  // in its own frame
  Frame place;         // of that frame in the block frame
};

TopoDS_Shape placed(const Part& part) {
  gp_Trsf move;
  move.SetTransformation(gp_Ax3(to_ax2(part.place)), gp_Ax3(gp::XOY()));
  return BRepBuilderAPI_Transform(part.shape, move, true).Shape();
}

std::vector<Part> parts_at(const Engine& engine, const Solids& solids, const Placing& placing) {
  const Vec3 deck{0, 0, engine.gasket.thickness};  // the head frame's origin in the block frame
  Frame crown;
  crown.origin = deck + Vec3{0, 0, placing.height};
  std::vector<Part> parts{
      {"crown", solids.crown.solid, crown}, {"block", solids.block, Frame{}}, {"gasket", solids.gasket, Frame{}}};
  for (std::size_t i = 0; i < engine.valves.size(); ++i) {
    const Valve& valve = engine.valves[i];
    const Vec3 up = up_axis(engine, valve);
    parts.push_back({"valve " + valve.name, solids.valves.at(i),
                     frame_about(deck + closed_place(engine, valve) - placing.lifts.at(i) * up, up)});
  }
  return parts;
}

TCollection_ExtendedString text(const std::string& name) {
  return {name.c_str(), true};
}

/// One assembly with a named part for each solid. Returns the moved crown, whose faces are named afterwards.
TopoDS_Shape fill(const Handle(TDocStd_Document) & document, const std::string& name, const std::vector<Part>& parts) {
  const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  const TDF_Label assembly = shapes->NewShape();
  TDataStd_Name::Set(assembly, text(name));
  TopoDS_Shape crown;
  for (const Part& part : parts) {
    const TopoDS_Shape shape = placed(part);
    if (crown.IsNull()) crown = shape;
    const TDF_Label label = shapes->AddShape(shape, false);
    TDataStd_Name::Set(label, text(part.name));
    TDataStd_Name::Set(shapes->AddComponent(assembly, label, TopLoc_Location()), text(part.name));
  }
  shapes->UpdateAssemblies();
  return crown;
}

void name_faces(STEPCAFControl_Writer& writer, const TopoDS_Shape& crown, const std::vector<Face>& faces) {
  const Handle(Transfer_FinderProcess) finder = writer.ChangeWriter().WS()->TransferWriter()->FinderProcess();
  std::size_t i = 0;
  for (TopExp_Explorer each(crown, TopAbs_FACE); each.More() && i < faces.size(); each.Next(), ++i) {
    const Handle(StepRepr_RepresentationItem) item = STEPConstruct::FindEntity(finder, each.Current());
    if (!item.IsNull()) item->SetName(new TCollection_HAsciiString(faces[i].name.c_str()));
  }
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

std::string step_text(const std::string& name, const std::vector<Part>& parts, const std::vector<Face>& crown_faces) {
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  const Handle(XCAFApp_Application) application = XCAFApp_Application::GetApplication();
  Handle(TDocStd_Document) document;
  application->NewDocument("MDTV-XCAF", document);
  const TopoDS_Shape crown = fill(document, name, parts);

  STEPCAFControl_Writer writer;
  const bool transferred = writer.Transfer(document, STEPControl_AsIs);
  application->Close(document);
  if (!transferred) throw MachineError("the modeller could not turn the solids into STEP");
  name_faces(writer, crown, crown_faces);

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
  return out.str();
}

}  // namespace

void export_step(const Engine& engine, const Parts& parts, const Placing& placing, const std::string& path) {
  if (!parts.solids) throw MachineError("there are no solids to export");
  if (placing.lifts.size() != engine.valves.size()) {
    throw MachineError(fmt::format("to export, one lift a valve is needed: {} given for {} valves",
                                   placing.lifts.size(), engine.valves.size()));
  }
  silence_modeller();
  try {
    write_whole(path, step_text(engine.name, parts_at(engine, *parts.solids, placing), parts.solids->crown_faces));
  } catch (const Standard_Failure& failure) {
    throw MachineError(fmt::format("{}: the modeller failed: {}", path, failure.GetMessageString()));
  }
}

}  // namespace eyebrow
