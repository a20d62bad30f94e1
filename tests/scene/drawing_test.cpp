// The pictures themselves, brought down to few pixels and compared with those that were looked at and found good. With
// EYEBROW_NEW_GOLDENS set the good ones are written anew: then look at them.
#include <gtest/gtest.h>
#include <vtkCamera.h>
#include <vtkImageResize.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>
#include <vtkPNGWriter.h>
#include <vtkRenderer.h>

#include <cstdlib>

#include "eyebrow/group_color.hpp"
#include "scene/drawn.hpp"
#include "scene/gl_window.hpp"
#include "scene/nearest_gaps.hpp"
#include "scene/palette.hpp"

namespace eyebrow::scene {
namespace {

// Another driver draws edges a little otherwise; a part out of place, or of another colour, is far beyond.
constexpr double kMeanOff = 2.5, kMostOff = 70;  // of 255
constexpr int kAcross = 80, kHigh = 50;

void compare(Drawn& drawn, const std::string& name) {
  vtkNew<vtkImageResize> small;
  small->SetInputData(drawn.image());
  small->SetOutputDimensions(kAcross, kHigh, 1);
  small->Update();
  const std::string path = std::string(EYEBROW_GOLDENS) + "/" + name + ".png";
  if (std::getenv("EYEBROW_NEW_GOLDENS") != nullptr) {
    vtkNew<vtkPNGWriter> writer;
    writer->SetInputConnection(small->GetOutputPort());
    writer->SetFileName(path.c_str());
    writer->Write();
  }
  vtkNew<vtkPNGReader> reader;
  reader->SetFileName(path.c_str());
  reader->Update();
  ASSERT_EQ(reader->GetOutput()->GetDimensions()[0], kAcross) << path;
  ASSERT_EQ(reader->GetOutput()->GetDimensions()[1], kHigh) << path;
  double sum = 0, most = 0;
  for (int y = 0; y < kHigh; ++y)
    for (int x = 0; x < kAcross; ++x)
      for (int i = 0; i < 3; ++i) {
        const double off = std::fabs(small->GetOutput()->GetScalarComponentAsDouble(x, y, 0, i) -
                                     reader->GetOutput()->GetScalarComponentAsDouble(x, y, 0, i));
        sum += off;
        most = std::max(most, off);
      }
  EXPECT_LT(sum / (3 * kAcross * kHigh), kMeanOff) << name;
  EXPECT_LT(most, kMostOff) << name;
}

int of_kind(vtkImageData* image, LitKind kind) {
  const Color color = lit_style(kind).color;
  return pixels_of(image, color.red, color.green, color.blue);
}

TEST(Drawing, TheTightestPlaceIsSeen) {
  Drawn drawn("inline_six_big_valve", true);
  drawn.place_at(0, GapKind::radial);
  drawn.scene.view(View::best);
  compare(drawn, "radial");
  const auto image = drawn.image();
  for (const GapKind kind : kGapKinds) EXPECT_GT(of_kind(image, lit_kind(kind)), 20) << to_string(kind);

  Look look = drawn.scene.look();
  look.lit = {LitKind::face};
  drawn.scene.look(look);
  const auto less = drawn.image();
  EXPECT_GT(of_kind(less, LitKind::face), 20);
  EXPECT_EQ(of_kind(less, LitKind::radial), 0);
  EXPECT_EQ(of_kind(less, LitKind::travel), 0);

  drawn.place_at(0, GapKind::radial, through(0));
  drawn.scene.view(View::square);
  compare(drawn, "section");
}

TEST(Drawing, AnOverlapIsASolidOfItsOwn) {
  Drawn drawn("two_valve_wedge", false, {{"gasket.thickness", "0.5 mm"}, {"cam.advance", "14"}});
  drawn.scene.place(9.3 * kDegree);
  // Of the best views there are two as good, and rounding decides.
  drawn.scene.view(View::right);
  compare(drawn, "overlap");
  const int with = pixels_of(drawn.image(), 0.63, 0.31, 0.45, 24);
  Look look = drawn.scene.look();
  look.overlaps = false;
  drawn.scene.look(look);
  EXPECT_LT(pixels_of(drawn.image(), 0.63, 0.31, 0.45, 24), with / 2) << "of " << with;
  look.overlaps = true;
  look.section = through(0);
  drawn.scene.look(look);
  drawn.scene.view(View::square);
  compare(drawn, "overlap_section");
}

TEST(Drawing, TheCrownIsColoured) {
  Drawn drawn("inline_six_big_valve", false);
  Look look = drawn.scene.look();
  look.hidden = {"valve intake", "valve exhaust"};
  look.lit.clear();
  look.coloring = Coloring::least;
  drawn.scene.look(look);
  drawn.scene.view(View::above);
  const Color third = bands_in(LengthUnit::inch).colors[3];
  const int scale_only = pixels_of(drawn.image(), third.red, third.green, third.blue, 14);
  drawn.scene.set_least(nearest_over_cycle(drawn.shown));
  compare(drawn, "least");
  EXPECT_GT(pixels_of(drawn.image(), third.red, third.green, third.blue, 14), scale_only + 50);
}

TEST(Drawing, FacesAreColouredByTheirGroups) {
  Drawn drawn("inline_six_big_valve", false);
  Look look = drawn.scene.look();
  look.hidden = {"valve intake", "valve exhaust"};
  look.lit.clear();
  drawn.scene.look(look);
  drawn.scene.view(View::above);
  const auto counted = [&](Group group) {
    const Rgb color = group_color(group);
    return pixels_of(drawn.image(), color.red, color.green, color.blue, 30);
  };
  const int floor = counted(Group::floor), flat = counted(Group::flat);
  look.coloring = Coloring::groups;
  drawn.scene.look(look);
  EXPECT_GT(counted(Group::floor), floor + 2500);
  EXPECT_GT(counted(Group::flat), 4000);
  EXPECT_GT(flat, 4000);
  look.coloring = Coloring::gap;
  drawn.scene.look(look);
  EXPECT_LT(counted(Group::floor), floor + 2000) << "colours of distances, not of groups";
  look.coloring = Coloring::plain;
  drawn.scene.look(look);
  EXPECT_EQ(counted(Group::floor), floor);
}

// A window shows the same parts with other numbers: nothing of the engine before may be left.
TEST(Drawing, AnotherEngineOfTheSamePartsIsDrawnAnew) {
  Drawn drawn("two_valve_wedge", false);
  Look look = drawn.scene.look();
  look.coloring = Coloring::gap;
  drawn.scene.look(look);
  drawn.scene.place(6 * kDegree);
  drawn.scene.view(View::right);
  const auto before = png_of(drawn.window);
  Shown other = drawn.shown;
  auto engine = std::make_shared<Engine>(*drawn.shown.engine);
  engine->cams[0].advance += 6 * kDegree;
  other.engine = engine;
  drawn.scene.show(other);
  const auto advanced = png_of(drawn.window);
  EXPECT_FALSE(before == advanced);
  Drawn fresh("two_valve_wedge", false, {{"cam.advance", "6"}});
  fresh.scene.renderer()->GetActiveCamera()->DeepCopy(drawn.scene.renderer()->GetActiveCamera());
  fresh.scene.look(look);
  fresh.scene.place(6 * kDegree);
  EXPECT_TRUE(advanced == png_of(fresh.window));
  drawn.scene.show(drawn.shown);
  EXPECT_TRUE(before == png_of(drawn.window));
}

TEST(Drawing, FourValvesFromTheFront) {
  Drawn drawn("four_valve_pent_roof", false);
  Look look = drawn.scene.look();
  look.transparent = {"valve intake_front"};
  look.coloring = Coloring::gap;
  drawn.scene.look(look);
  drawn.scene.place(12 * kDegree);
  drawn.scene.view(View::front);
  compare(drawn, "front");
  look.section.through = Section::Through::plane;
  drawn.scene.look(look);
  drawn.scene.view(View::square);
  compare(drawn, "plane");
}

/// The views that one begins with, of each of the example engines.
class EachModel : public ::testing::TestWithParam<const char*> {};

TEST_P(EachModel, FromItsMainViews) {
  const std::string model = GetParam();
  Drawn drawn(model, false);
  drawn.scene.place(12 * kDegree);
  drawn.scene.view(View::best);
  compare(drawn, model + "_best");

  Look look = drawn.scene.look();
  for (const std::string& part : drawn.scene.part_names())
    if (part.starts_with("valve ")) look.hidden.insert(part);
  look.coloring = Coloring::gap;
  drawn.scene.look(look);
  drawn.scene.view(View::above);
  compare(drawn, model + "_above");

  look.hidden.clear();
  look.coloring = Coloring::plain;
  look.section = through(0);
  drawn.scene.look(look);
  drawn.scene.view(View::square);
  compare(drawn, model + "_section");
}

INSTANTIATE_TEST_SUITE_P(Models, EachModel,
                         ::testing::Values("canted_valve", "four_valve_pent_roof", "four_valve_pent_roof_phased",
                                           "inline_six_big_valve", "inline_six_stock", "two_valve_wedge",
                                           "two_valve_wedge_at_speed"),
                         [](const auto& model) { return std::string(model.param); });

TEST(Drawing, ToldFacesAreThoseThatAreSeen) {
  Drawn drawn("two_valve_wedge", false);
  drawn.scene.view(View::above);
  drawn.image();
  EXPECT_EQ(drawn.scene.seen_at(1, 1).face, "");
  Look look = drawn.scene.look();
  look.hidden = {"valve intake", "valve exhaust"};
  drawn.scene.look(look);
  drawn.image();
  const SeenFace flat = drawn.scene.seen_at(400, 255);
  EXPECT_EQ(flat.part + ": " + flat.face, "crown: crown flat") << "the middle of the bore";
  EXPECT_NEAR(flat.place.z, 0, 1e-6) << "in the piston frame";
  look.hidden = {"valve exhaust"};
  drawn.scene.look(look);
  drawn.image();
  EXPECT_EQ(drawn.scene.seen_at(420, 340).part, "valve intake");
}

}  // namespace
}  // namespace eyebrow::scene
