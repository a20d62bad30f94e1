#include "solid/step_in.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <BRep_Builder.hxx>
#include <Interface_Static.hxx>
#include <OSD_Signal.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_ErrorHandler.hxx>
#include <Standard_Failure.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>
#include <mutex>
#include <sstream>

#include <fmt/format.h>

#include "solid/faults.hpp"
#include "solid/occt.hpp"
#include "solid/quiet.hpp"
#include "solid/signals_caught.hpp"
#include "solid/step_mend.hpp"
#include "solid/step_text.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

/// A crown with its pockets has 10 to 40 faces, a whole piston some 300. More are a mesh or a part full of slivers,
/// which would take hours.
constexpr int kMostFaces = 1000;
/// Assemblies within assemblies: a file that names itself as its own part must end somewhere.
constexpr int kMostDepth = 32;
constexpr std::size_t kMostSolids = 1000;

/// The modeller's STEP session is one for the whole program.
std::mutex& step_session() {
  static std::mutex session;
  return session;
}

[[noreturn]] void refuse(const Origins& origins, const std::string& key, std::string message) {
  throw InputError({fault_at(origins, key, std::move(message))});
}

/// The modeller's own words, of one line; where it crashed they would be an address.
std::string words_of(const Standard_Failure& failure) {
  const std::string words = failure.GetMessageString();
  if (words.empty() || failure.IsKind(STANDARD_TYPE(OSD_Signal))) return "the file is broken inside";
  return words.substr(0, words.find('\n'));
}

struct Found {
  std::string name;
  StepSolid read;
};

std::string name_of(const TDF_Label& label) {
  Handle(TDataStd_Name) name;
  if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return "";
  const TCollection_AsciiString text(name->Get());
  return text.ToCString();
}

/// Names of the file's faces, which the modeller keeps beside what it made of them.
class FaceNames {
 public:
  explicit FaceNames(const Handle(XSControl_WorkSession) & session) : reader_(session->TransferReader()) {}
  std::string operator()(const TopoDS_Shape& face) const {
    if (reader_.IsNull()) return "";
    const auto item =
        Handle(StepRepr_RepresentationItem)::DownCast(reader_->EntityFromShapeResult(face.Located({}), 1));
    if (item.IsNull() || item->Name().IsNull()) return "";
    const std::string name = item->Name()->ToCString();
    return name == "NONE" ? "" : name;
  }

 private:
  Handle(XSControl_TransferReader) reader_;
};

/// What a file holds: its solids, and the faces that belong to none.
struct Held {
  std::vector<Found> solids;
  StepSolid loose;
};

void add_faces(StepSolid& to, const TopoDS_Shape& shape, const TopLoc_Location& at, const FaceNames& names) {
  for (TopExp_Explorer each(shape, TopAbs_FACE, TopAbs_SOLID); each.More(); each.Next()) {
    if (to.solid.IsNull()) {
      TopoDS_Compound all;
      BRep_Builder().MakeCompound(all);
      to.solid = all;
    }
    BRep_Builder().Add(to.solid, each.Current().Moved(at));
    to.face_names.push_back(names(each.Current()));
  }
}

void gather(const TDF_Label& label, const TopLoc_Location& at, const FaceNames& names, int depth, Held& held) {
  if (depth > kMostDepth || held.solids.size() > kMostSolids) return;
  if (XCAFDoc_ShapeTool::IsReference(label)) {
    TDF_Label of;
    if (XCAFDoc_ShapeTool::GetReferredShape(label, of))
      gather(of, at * XCAFDoc_ShapeTool::GetLocation(label), names, depth + 1, held);
    return;
  }
  if (XCAFDoc_ShapeTool::IsAssembly(label)) {
    TDF_LabelSequence parts;
    XCAFDoc_ShapeTool::GetComponents(label, parts);
    for (const TDF_Label& part : parts) gather(part, at, names, depth + 1, held);
    return;
  }
  const TopoDS_Shape shape = XCAFDoc_ShapeTool::GetShape(label);
  if (shape.IsNull()) return;
  add_faces(held.loose, shape, at, names);
  for (TopExp_Explorer each(shape, TopAbs_SOLID); each.More(); each.Next()) {
    Found one{name_of(label), {each.Current().Moved(at), {}}};
    for (TopExp_Explorer face(each.Current(), TopAbs_FACE); face.More(); face.Next())
      one.read.face_names.push_back(names(face.Current()));
    held.solids.push_back(std::move(one));
  }
}

Held held_by(const StepSource& source, const Origins& origins) {
  const std::string key = source.key + ".file";
  const char* const cut_short = source.text.find("END-ISO-10303-21") == std::string::npos
                                    ? "; it does not end as such a file does, and may have been cut short"
                                    : "";
  if (const std::string trouble = step_trouble(source.text); !trouble.empty())
    refuse(origins, key, fmt::format("{}: not a STEP file that can be read: {}{}", source.file, trouble, cut_short));
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("xstep.cascade.unit", "MM");
  Interface_Static::SetIVal("read.precision.mode", 0);
  STEPCAFControl_Reader reader;
  reader.SetColorMode(false);
  reader.SetLayerMode(false);
  std::istringstream text(source.text);
  if (reader.ChangeReader().ReadStream(source.file.c_str(), text) != IFSelect_RetDone)
    refuse(origins, key,
           fmt::format("{}: not a STEP file that can be read (ISO 10303-21, as AP203, AP214 or AP242){}", source.file,
                       cut_short));
  const Handle(XCAFApp_Application) application = XCAFApp_Application::GetApplication();
  Handle(TDocStd_Document) document;
  application->NewDocument("MDTV-XCAF", document);
  Held held;
  const bool transferred = reader.Transfer(document);
  if (transferred) {
    TDF_LabelSequence roots;
    XCAFDoc_DocumentTool::ShapeTool(document->Main())->GetFreeShapes(roots);
    const FaceNames names(reader.ChangeReader().WS());
    for (const TDF_Label& root : roots) gather(root, {}, names, 0, held);
  }
  application->Close(document);
  if (held.solids.empty() && held.loose.solid.IsNull())
    refuse(origins, key, fmt::format("{}: holds no solid", source.file));
  return held;
}

/// Its name, else its number: what the key `solid` may be.
std::string handle_of(const Found& one, std::size_t number) {
  return one.name.empty() ? fmt::format("{}", number) : fmt::format("\"{}\"", one.name);
}

/// Of one shape, wherever they stand.
bool alike(const TopoDS_Shape& one, const TopoDS_Shape& other) {
  constexpr double kAlike = 1e-7;
  if (count_faces(one) != count_faces(other)) return false;
  const double a = volume_of(one), b = volume_of(other);
  if (!(std::fabs(a - b) <= kAlike * std::fabs(a))) return false;
  TopExp_Explorer here(one, TopAbs_FACE), there(other, TopAbs_FACE);
  for (; here.More(); here.Next(), there.Next()) {
    const double area = area_of(TopoDS::Face(here.Current()));
    if (!(std::fabs(area - area_of(TopoDS::Face(there.Current()))) <= kAlike * area)) return false;
  }
  return true;
}

/// The one that fits; null where it is not clear.
Found* fitting(std::vector<Found>& found, const StepSource& source, const Origins& origins,
               std::vector<Fault>& warnings) {
  Found* match = nullptr;
  int matches = 0;
  for (Found& one : found) {
    if (!source.fits || !source.fits(one.read.solid)) continue;
    ++matches;
    if (match != nullptr && !(source.alike_will_do && alike(match->read.solid, one.read.solid))) return nullptr;
    if (match == nullptr) match = &one;
  }
  if (match == nullptr) return nullptr;
  const auto number = static_cast<std::size_t>(match - found.data()) + 1;
  warnings.push_back(
      fault_at(origins, source.key + ".file",
               fmt::format("{}: of its {} solids {} was taken for {}, {}; if that is so, say solid = {}", source.file,
                           found.size(), handle_of(*match, number), source.what,
                           matches == 1 ? "as no other fits" : fmt::format("as the first of {} of that shape", matches),
                           match->name.empty() ? fmt::format("\"{}\"", number) : handle_of(*match, number))));
  return match;
}

/// Why none may be it, where that is so.
std::string none_fits(const std::vector<Found>& found, const StepSource& source, const StepSolid& loose) {
  if (!source.fits) return "";
  for (const Found& one : found)
    if (source.fits(one.read.solid)) return "";
  std::string why = fmt::format(". None has the diameters that are stated of {}: is the unit right?", source.what);
  if (!loose.solid.IsNull())
    why += fmt::format(" Beside them are {} faces that do not close into a solid", count_faces(loose.solid));
  return why;
}

StepSolid chosen(std::vector<Found> found, const StepSolid& loose, const StepSource& source, const Origins& origins,
                 std::vector<Fault>& warnings) {
  std::string all;
  for (std::size_t i = 0; i < found.size() && i < 12; ++i) all += (i == 0 ? "" : ", ") + handle_of(found[i], i + 1);
  if (found.size() > 12) all += fmt::format(" and {} more", found.size() - 12);
  if (source.solid.empty()) {
    if (found.size() == 1) return std::move(found.front().read);
    if (Found* const fits = fitting(found, source, origins, warnings)) return std::move(fits->read);
    refuse(origins, source.key + ".file",
           fmt::format("{}: holds {} solids: {}; say which is {}: solid = \"...\", its name or its number{}",
                       source.file, found.size(), all, source.what, none_fits(found, source, loose)));
  }
  Found* match = nullptr;
  int matches = 0;
  for (Found& one : found)
    if (one.name == source.solid) match = &one, ++matches;
  for (std::size_t i = 0; i < found.size() && matches == 0; ++i)
    if (source.solid == fmt::format("{}", i + 1)) match = &found[i], matches = 1;
  if (matches == 1) return std::move(match->read);
  refuse(origins, source.key + ".solid",
         matches == 0 ? fmt::format("{}: holds no solid \"{}\": {}", source.file, source.solid, all)
                      : fmt::format("{}: holds {} solids named \"{}\": say its number, 1 to {}", source.file, matches,
                                    source.solid, found.size()));
}

void refuse_many(const StepSolid& read, const StepSource& source, const Origins& origins) {
  const int faces = count_faces(read.solid);
  if (faces <= kMostFaces) return;
  refuse(origins, source.key + ".file",
         fmt::format("{}: the solid has {} faces; at most {} can be checked. A mesh is not taken; export {} "
                     "alone",
                     source.file, faces, kMostFaces, source.what));
}

/// The faces joined, where the user lets us. `trouble`: why they have to be; `else_do`: what would settle it otherwise.
StepSolid mend(const StepSolid& read, const std::string& trouble, const std::string& else_do, const StepSource& source,
               const Origins& origins, std::vector<Fault>& warnings) {
  const double within = source.mend.value_or(0);
  if (within > 0) {
    if (std::optional<StepSolid> whole = mended(read, within)) {
      warnings.push_back(fault_at(
          origins, source.key + ".mend",
          fmt::format(
              "{}: {}; it was mended: edges were moved by up to {:.2g} mm{}", source.file, trouble, whole->moved,
              whole->moved > kSameSurface ? ". Gaps are told from the lower end of what that leaves open" : "")));
      return std::move(*whole);
    }
  }
  std::string offer;
  if (const std::optional<double> enough = source.mend ? mends_within(read) : std::nullopt)
    offer = fmt::format(", or let faces that are so little apart be joined: mend = \"{} mm\"", *enough);
  refuse(origins, source.key + (within > 0 ? ".mend" : ".file"),
         fmt::format("{}: {}{}; {}{}", source.file, trouble,
                     within > 0 ? fmt::format(", and joining faces up to {} mm apart does not mend it", within) : "",
                     else_do, offer));
}

/// Turns a solid that is inside out; mends one that is not sound, where it may.
void make_sound(StepSolid& read, const StepSource& source, const Origins& origins, std::vector<Fault>& warnings) {
  refuse_many(read, source, origins);
  const std::string key = source.key + ".file";
  if (!BRepCheck_Analyzer(read.solid).IsValid()) {
    read = mend(read,
                "the solid is not sound: its faces do not close it without gaps or crossings, at the accuracy that the "
                "file states",
                "repair it in the program that it is from", source, origins, warnings);
  } else if (source.mend.value_or(0) > 0 && read.moved == 0) {
    warnings.push_back(
        fault_at(origins, source.key + ".mend", fmt::format("{}: is sound as it is; nothing was mended", source.file)));
  }
  const double volume = volume_of(read.solid);
  if (!(std::fabs(volume) > 0)) refuse(origins, key, fmt::format("{}: the solid has no volume", source.file));
  if (volume < 0) {
    read.solid.Reverse();
    warnings.push_back(fault_at(origins, key,
                                fmt::format("{}: the solid is inside out in the file (its volume is negative); its "
                                            "faces were turned",
                                            source.file)));
  }
}

StepSolid one_solid(Held held, const StepSource& source, const Origins& origins, std::vector<Fault>& warnings) {
  if (!held.solids.empty()) return chosen(std::move(held.solids), held.loose, source, origins, warnings);
  refuse_many(held.loose, source, origins);
  return mend(held.loose, "holds surfaces and no solid: they are not closed into one",
              fmt::format("export {} as a solid", source.what), source, origins, warnings);
}

}  // namespace

StepSolid read_step(const StepSource& source, const Origins& origins, std::vector<Fault>& warnings) {
  const std::lock_guard<std::mutex> alone(step_session());
  silence_modeller();
  const SignalsCaught signals;
  try {
    OCC_CATCH_SIGNALS
    StepSolid read = one_solid(held_by(source, origins), source, origins, warnings);
    make_sound(read, source, origins, warnings);
    return read;
  } catch (const Standard_Failure& failure) {
    refuse(origins, source.key + ".file",
           fmt::format("{}: the modeller cannot make a solid of it: {}", source.file, words_of(failure)));
  }
}

}  // namespace eyebrow
