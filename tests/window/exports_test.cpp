// Files that the window writes.
#include <gmock/gmock.h>

#include <QDir>
#include <QImage>

#include "eyebrow/plot.hpp"
#include "window/exports.hpp"
#include "window/shown_window.hpp"

namespace eyebrow::window {
namespace {

TEST_F(SharedWindow, ExportsWhatTheProgramPrints) {
  const auto exported = [&](const QString& name) {
    export_report(folder_.filePath(name), *window_.checked(), window_.format());
    return read(folder_.filePath(name));
  };
  const CheckResult& result = *window_.checked()->result;
  EXPECT_EQ(exported("a.txt"), check_text(result, window_.format()));
  EXPECT_EQ(exported("a.json"), check_json(result));
  EXPECT_EQ(exported("a.csv"), check_csv(result, window_.format()));
  EXPECT_EQ(exported("a.svg"), plot_curves(result, "", PlotFile::svg, window_.format()));
  EXPECT_FALSE(std::isnan(result.valves[0].series.greatest_lift.front())) << "the table's drop columns are filled";
  EXPECT_THROW(exported("a.doc"), InputError);
  EXPECT_FALSE(QFile::exists(folder_.filePath("a.doc")));
  EXPECT_THROW(export_report("/no/such/folder/a.txt", *window_.checked(), window_.format()), MachineError);
}

TEST_F(SharedWindow, PicturesHaveTheEngineInThem) {
  const QImage image = QImage::fromData(QByteArray::fromStdString(part<SceneView>().picture()));
  ASSERT_FALSE(image.isNull());
  // Bare ground has one colour; solids with lit gaps have hundreds.
  std::set<QRgb> colors;
  for (int y = 0; y < image.height(); y += 3)
    for (int x = 0; x < image.width(); x += 3) colors.insert(image.pixel(x, y));
  EXPECT_GT(colors.size(), 100U);
  image.save(EYEBROW_SCREENSHOTS "/picture.png");
}

TEST(Frames, AreNumberedAndStopWhenAsked) {
  const QTemporaryDir folder;
  const auto picture = [](int frame) { return "picture " + std::to_string(frame); };
  EXPECT_TRUE(export_frames(folder.path(), 3, picture, [](int) { return true; }));
  EXPECT_EQ(QDir(folder.path()).entryList({"*.png"}),
            (QStringList{"frame_0001.png", "frame_0002.png", "frame_0003.png"}));
  EXPECT_EQ(read(folder.filePath("frame_0002.png")), "picture 1");
  const QTemporaryDir stopped;
  EXPECT_FALSE(export_frames(stopped.path(), 9, picture, [](int done) { return done < 2; }));
  EXPECT_EQ(QDir(stopped.path()).entryList({"*.png"}).size(), 2);
}

}  // namespace
}  // namespace eyebrow::window
