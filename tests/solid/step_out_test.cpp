// What is exported beside the solids: curves, names, colours; and whether the file is one by its standard.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TCollection_AsciiString.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

#include <BRepAdaptor_Curve.hxx>
#include <algorithm>
#include <fstream>

#include "eyebrow/group_color.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/spec.hpp"
#include "solid/engines.hpp"
#include "solid/occt.hpp"
#include "solid/outline_volume.hpp"
#include "solid/part21.hpp"
#include "solid/step_files.hpp"

namespace eyebrow {
namespace {

using test::Part21File;
using testing::Contains;
using testing::HasSubstr;
using testing::UnorderedElementsAre;

const std::vector<NamedLine> kGapLines{{"intake.travel 2.500 mm", {1, 2, 3}, {1, 2, 5.5}},
                                       {"exhaust.radial 0.700 mm", {-10, 4, 0}, {-10.7, 4, 0}},
                                       {"no length", {1, 1, 1}, {1, 1, 1}}};

std::string exported_with_lines(const Engine& engine, const Parts& parts, const std::string& name) {
  const std::filesystem::path path = test::scratch_file(name + ".step");
  export_step(engine, parts, {-3, std::vector<double>(engine.valves.size(), 2.0)}, path.string(), kGapLines);
  std::string text = test::text_of(path);
  std::filesystem::remove(path);
  return text;
}

struct ReadPart {
  std::string name;
  TopoDS_Shape shape;
};

/// The assembly by the modeller's reader, its colours asked face by face.
class ReadAssembly {
 public:
  explicit ReadAssembly(const std::string& text) {
    XCAFApp_Application::GetApplication()->NewDocument("MDTV-XCAF", document_);
    STEPCAFControl_Reader reader;
    reader.SetColorMode(true);
    reader.SetNameMode(true);
    std::istringstream stream(text);
    EXPECT_EQ(reader.ChangeReader().ReadStream("assembly", stream), IFSelect_RetDone);
    EXPECT_TRUE(reader.Transfer(document_));
    TDF_LabelSequence roots, each;
    shapes_ = XCAFDoc_DocumentTool::ShapeTool(document_->Main());
    colors_ = XCAFDoc_DocumentTool::ColorTool(document_->Main());
    shapes_->GetFreeShapes(roots);
    EXPECT_EQ(roots.Length(), 1);
    XCAFDoc_ShapeTool::GetComponents(roots.First(), each);
    for (const TDF_Label& use : each) {
      TDF_Label of;
      XCAFDoc_ShapeTool::GetReferredShape(use, of);
      Handle(TDataStd_Name) name;
      EXPECT_TRUE(of.FindAttribute(TDataStd_Name::GetID(), name));
      parts.push_back({TCollection_AsciiString(name->Get()).ToCString(), XCAFDoc_ShapeTool::GetShape(of)});
    }
  }
  ~ReadAssembly() { XCAFApp_Application::GetApplication()->Close(document_); }

  /// "" = none.
  std::string color_of(const TopoDS_Shape& shape, XCAFDoc_ColorType type) const {
    Quantity_Color color;
    if (!colors_->GetColor(shape, type, color)) return "";
    double r = 0, g = 0, b = 0;
    color.Values(r, g, b, Quantity_TOC_sRGB);
    return fmt::format("{:.2f} {:.2f} {:.2f}", r, g, b);
  }
  const ReadPart& part(const std::string& name) const {
    return *std::find_if(parts.begin(), parts.end(), [&](const ReadPart& one) { return one.name == name; });
  }

  std::vector<ReadPart> parts;

 private:
  Handle(TDocStd_Document) document_;
  Handle(XCAFDoc_ShapeTool) shapes_;
  Handle(XCAFDoc_ColorTool) colors_;
};

std::string words_of(Rgb color) {
  return fmt::format("{:.2f} {:.2f} {:.2f}", color.red, color.green, color.blue);
}

TEST(StepOut, IsAFileByItsStandardWithEverythingNamed) {
  for (const char* model : {"two_valve_wedge", "four_valve_pent_roof", "canted_valve", "inline_six_stock"}) {
    SCOPED_TRACE(model);
    const Engine e = read_engine(std::string(EYEBROW_MODELS "/") + model + ".toml").engine;
    const Parts parts = build_parts(e, {}, test::kCoarse);
    const std::string text = exported_with_lines(e, parts, model);
    const Part21File file(text);
    EXPECT_THAT(file.header.at("FILE_SCHEMA"), HasSubstr("AUTOMOTIVE_DESIGN"));
    EXPECT_EQ(file.all("MANIFOLD_SOLID_BREP").size(), 3 + e.valves.size());
    const auto products = file.names("PRODUCT");
    for (const char* name : {"crown", "block", "gasket", "intake.travel 2.500 mm", "exhaust.radial 0.700 mm"})
      EXPECT_EQ(products.count(name), 1u) << name;
    EXPECT_EQ(products.count("no length"), 0u);
    for (const Valve& valve : e.valves) EXPECT_EQ(products.count("valve " + valve.name), 1u);
    const auto faces = file.names("ADVANCED_FACE");
    for (const Face& face : parts.crown.faces) EXPECT_EQ(faces.count(face.name), 1u) << face.name;
    for (const char* name : {"valve face", "seat", "underhead"}) EXPECT_EQ(faces.count(name), e.valves.size()) << name;
    // The stems' cylinders and the heads' by the file's own numbers.
    std::vector<double> radii;
    for (const auto* cylinder : file.all("CYLINDRICAL_SURFACE")) radii.push_back(cylinder->reals.back());
    for (const Valve& valve : e.valves)
      for (const double diameter : {valve.head_diameter, valve.stem_diameter})
        EXPECT_THAT(radii, Contains(testing::DoubleNear(diameter / 2, 1e-9)));
  }
}

TEST(StepOut, KeepsNamesOutsideTheBasicAlphabetReadable) {
  Engine e = test::wedge();
  e.name =
      "Motor \xC3\xBC"
      "1'2 \\ (invented)";
  e.valves[0].name = "Einla\xC3\x9F";
  e.lobes[0].name = e.valves[0].lobe = "intake";
  const std::string text = exported_with_lines(e, build_parts(e, {}, test::kCoarse), "alphabet");
  EXPECT_NO_THROW(Part21File{text});
  const ReadAssembly read(text);
  EXPECT_EQ(std::count_if(read.parts.begin(), read.parts.end(),
                          [&](const ReadPart& one) { return one.name == "valve " + e.valves[0].name; }),
            1);
}

TEST(StepOut, IsReadWithVolumesCurvesAndColours) {
  const Engine e = test::pent_roof();
  const Parts parts = build_parts(e, {}, test::kCoarse);
  const ReadAssembly read(exported_with_lines(e, parts, "colours"));
  ASSERT_EQ(read.parts.size(), 3 + e.valves.size() + 2);
  EXPECT_NEAR(volume_of(read.part("crown").shape), parts.crown.volume, 1e-6 * parts.crown.volume);
  for (std::size_t i = 0; i < e.valves.size(); ++i) {
    const double expected = outline_volume(parts.profiles[i]);
    EXPECT_NEAR(volume_of(read.part("valve " + e.valves[i].name).shape), expected, 1e-6 * expected);
  }

  std::multiset<std::string> colors, expected;
  for (TopExp_Explorer each(read.part("crown").shape, TopAbs_FACE); each.More(); each.Next()) {
    const std::string own = read.color_of(each.Current(), XCAFDoc_ColorSurf);
    colors.insert(own.empty() ? words_of(group_color(Group::flat)) : own);
  }
  for (const Face& face : parts.crown.faces) expected.insert(words_of(group_color(face.group)));
  EXPECT_EQ(colors, expected);
  EXPECT_GE(std::set<std::string>(colors.begin(), colors.end()).size(), 4u);

  for (const NamedLine& line : {kGapLines[0], kGapLines[1]}) {
    const TopoDS_Shape& shape = read.part(line.name).shape;
    TopExp_Explorer edge(shape, TopAbs_EDGE);
    ASSERT_TRUE(edge.More()) << line.name;
    EXPECT_EQ(read.color_of(shape, XCAFDoc_ColorCurv), "0.75 0.05 0.15") << line.name;
    const BRepAdaptor_Curve curve(TopoDS::Edge(edge.Current()));
    EXPECT_NEAR(norm(to_vec(curve.Value(curve.FirstParameter())) - line.from), 0, 1e-9);
    EXPECT_NEAR(norm(to_vec(curve.Value(curve.LastParameter())) - line.to), 0, 1e-9);
    edge.Next();
    EXPECT_FALSE(edge.More());
  }
}

}  // namespace
}  // namespace eyebrow
