#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <TCollection_ExtendedString.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopLoc_Location.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <gp_Trsf.hxx>

#include <fmt/format.h>

#include "eyebrow/parts.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"

namespace eyebrow {
namespace {

/// Frame of the solid to the block frame.
TopoDS_Shape placed(const TopoDS_Shape& shape, const Frame& frame) {
  gp_Trsf move;
  move.SetTransformation(gp_Ax3(to_pnt(frame.origin), to_dir(frame.z), to_dir(frame.x)), gp_Ax3());
  return shape.Moved(TopLoc_Location(move));
}

struct Document {
  Handle(TDocStd_Document) handle;

  Document() {
    const Handle(XCAFApp_Application) application = XCAFApp_Application::GetApplication();
    application->NewDocument("BinXCAF", handle);
  }
  Document(const Document&) = delete;
  Document& operator=(const Document&) = delete;
  ~Document() { XCAFApp_Application::GetApplication()->Close(handle); }

  void add(const TopoDS_Shape& shape, const std::string& name) const {
    const Handle(XCAFDoc_ShapeTool) tool = XCAFDoc_DocumentTool::ShapeTool(handle->Main());
    TDataStd_Name::Set(tool->AddShape(shape, false), TCollection_ExtendedString(name.c_str(), true));
  }
};

Handle(TCollection_HAsciiString) text(const char* words) { return new TCollection_HAsciiString(words); }

/// The file's own end is there: the disk did not fill up on the way.
bool ends_well(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  file.seekg(-64, std::ios::end);
  const std::string tail{std::istreambuf_iterator<char>(file), {}};
  return tail.find("END-ISO-10303-21;") != std::string::npos;
}

void write(const Document& document, const std::string& path) {
  Message::DefaultMessenger()->ChangePrinters().Clear();  // the writer would print a banner
  STEPCAFControl_Writer writer;
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", "MM");
  writer.SetNameMode(true);
  if (!writer.Transfer(document.handle)) throw MachineError("the solids could not be turned into STEP");
  // A fixed time stamp: the same engine gives the same bytes.
  APIHeaderSection_MakeHeader header(writer.ChangeWriter().Model());
  header.SetTimeStamp(text("2000-01-01T00:00:00"));
  header.SetName(text("engine"));
  header.SetOriginatingSystem(text("eyebrow"));
  if (writer.Write(path.c_str()) != IFSelect_RetDone || !ends_well(path))
    throw MachineError(fmt::format("{}: cannot be written", path));
}

}  // namespace

void export_step(const Engine& engine, const Parts& parts, const Placing& placing, const std::string& path) {
  const std::string unfinished = path + ".part";
  try {
    const double deck_to_head = engine.gasket.thickness;
    const Document document;
    document.add(placed(parts.solids->crown, {{0, 0, placing.height + deck_to_head}}), "crown");
    for (std::size_t i = 0; i < engine.valves.size(); ++i) {
      const Valve& valve = engine.valves[i];
      const Vec3 up = up_axis(valve);
      const Vec3 centre = closed_place(engine, valve) - placing.lifts.at(i) * up + Vec3{0, 0, deck_to_head};
      document.add(placed(parts.solids->valves[i], frame_about(centre, up)), "valve " + valve.name);
    }
    document.add(parts.solids->block, "block");
    document.add(parts.solids->gasket, "gasket");
    write(document, unfinished);
    std::filesystem::rename(unfinished, path);
  } catch (const Standard_Failure& failure) {
    std::remove(unfinished.c_str());
    throw MachineError(fmt::format("{}: the modeller failed: {}", path, failure.GetMessageString()));
  } catch (const std::filesystem::filesystem_error& error) {
    std::remove(unfinished.c_str());
    throw MachineError(fmt::format("{}: {}", path, error.code().message()));
  } catch (...) {
    std::remove(unfinished.c_str());
    throw;
  }
}

}  // namespace eyebrow
