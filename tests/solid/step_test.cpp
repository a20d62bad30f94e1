// STEP out, read back by the modeller's own reader.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>
#include <BRepBndLib.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <STEPControl_Reader.hxx>
#include <TopExp_Explorer.hxx>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "eyebrow/parts.hpp"
#include "solid/engines.hpp"
#include "solid/outline_volume.hpp"

namespace eyebrow {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

class Step : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("eyebrow_step_" + std::to_string(::getpid()));
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }

  static std::string read(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
  }
  static double volume(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties, 1e-9);
    return properties.Mass();
  }

  fs::path folder_;
};

TEST_F(Step, VolumesAndPlacesSurviveTheRoundTrip) {
  const Engine e = test::wedge();
  const Parts parts = build_parts(e, {}, 0.01);
  Placing placing;
  placing.height = -e.gasket.thickness - 5;  // the crown flat 5 below the block's deck
  placing.lifts = {3, 2};
  const fs::path path = folder_ / "wedge.step";
  testing::internal::CaptureStdout();
  export_step(e, parts, placing, path.string());
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");

  STEPControl_Reader reader;
  ASSERT_EQ(reader.ReadFile(path.c_str()), IFSelect_RetDone);
  reader.TransferRoots();
  std::vector<TopoDS_Shape> solids;
  for (TopExp_Explorer each(reader.OneShape(), TopAbs_SOLID); each.More(); each.Next())
    solids.push_back(each.Current());
  ASSERT_EQ(solids.size(), 5u);  // crown, block, gasket, two valves, in this order
  EXPECT_NEAR(volume(solids[0]), parts.crown.volume, 1e-6 * parts.crown.volume);
  EXPECT_NEAR(volume(solids[1]) + volume(solids[2]), parts.bore.volume, 1e-6 * parts.bore.volume);
  for (std::size_t i = 0; i < 2; ++i) {
    const double expected = outline_volume(parts.profiles[i]);
    EXPECT_NEAR(volume(solids[3 + i]), expected, 1e-6 * expected);
  }

  Bnd_Box box;
  BRepBndLib::AddOptimal(solids[0], box, false, false);
  EXPECT_NEAR(box.CornerMax().Z(), -5, 1e-5);
  EXPECT_NEAR(box.CornerMin().Z(), -5 - 0.420 * kInch, 1e-5);
  // Closed form: the lowest point of a tilted disc is its centre's height less R sin(tilt).
  Bnd_Box valve;
  BRepBndLib::AddOptimal(solids[3], valve, false, false);
  const double g = 23 * kDegree;
  const double lowest = e.gasket.thickness + 0.560 * kInch - 3 * std::cos(g) - 1.010 * kInch * std::sin(g);
  EXPECT_NEAR(valve.CornerMin().Z(), lowest, 1e-4);
}

TEST_F(Step, NamesPartsAndFacesAndStatesItsSchema) {
  const Engine e = test::pent_roof();
  const Parts parts = build_parts(e, {}, 0.01);
  const fs::path path = folder_ / "roof.step";
  export_step(e, parts, {-20, {1, 1, 1, 1}}, path.string());
  const std::string text = read(path);
  // ISO 10303-21: the file's first words; AP214's schema name.
  EXPECT_THAT(text, testing::StartsWith("ISO-10303-21;"));
  EXPECT_THAT(text, HasSubstr("AUTOMOTIVE_DESIGN"));
  EXPECT_THAT(text, HasSubstr("PRODUCT('crown'"));
  EXPECT_THAT(text, HasSubstr("PRODUCT('gasket'"));
  EXPECT_THAT(text, HasSubstr("PRODUCT('valve exhaust rear'"));
  EXPECT_THAT(text, HasSubstr("ADVANCED_FACE('intake front pocket floor'"));
  EXPECT_THAT(text, HasSubstr("ADVANCED_FACE('dome plane 3'"));
  EXPECT_THAT(text, HasSubstr("SI_UNIT(.MILLI.,.METRE.)"));
}

TEST_F(Step, SameEngineSameBytes) {
  const Engine e = test::wedge();
  for (const char* name : {"first.step", "second.step"}) {
    export_step(e, build_parts(e, {}, 0.01), {-10, {0, 1}}, (folder_ / name).string());
  }
  EXPECT_EQ(read(folder_ / "first.step"), read(folder_ / "second.step"));
}

TEST_F(Step, WritesWholeOrNotAtAll) {
  const Engine e = test::wedge();
  const Parts parts = build_parts(e, {}, 0.01);
  EXPECT_THROW(export_step(e, parts, {-10, {0, 0}}, (folder_ / "no" / "such" / "folder.step").string()), MachineError);
  EXPECT_THROW(export_step(e, parts, {-10, {0, 0}}, folder_.string()), MachineError);
  EXPECT_THROW(export_step(e, parts, {-10, {0, 0}}, ""), MachineError);
  EXPECT_THROW(export_step(e, parts, {-10, {0}}, (folder_ / "lifts.step").string()), MachineError);
  EXPECT_TRUE(fs::is_empty(folder_));
  // An older file stays as it was until the new one is whole.
  export_step(e, parts, {-10, {0, 0}}, (folder_ / "old.step").string());
  const std::string before = read(folder_ / "old.step");
  export_step(e, parts, {-12, {0, 0}}, (folder_ / "old.step").string());
  EXPECT_NE(read(folder_ / "old.step"), before);
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 1);
}

}  // namespace
}  // namespace eyebrow
