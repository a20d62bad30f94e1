// What one may choose of the 3-D view, and where the wheel and the labels leave it.
#include <gmock/gmock.h>
#include <vtkCallbackCommand.h>
#include <vtkCamera.h>
#include <vtkNew.h>
#include <vtkRenderer.h>

#include <QAction>
#include <QComboBox>
#include <QOpenGLWidget>
#include <QWheelEvent>

#include "window/shown_window.hpp"

namespace eyebrow::window {
namespace {

class ViewChoices : public SharedWindow {
 protected:
  SceneView& view() { return part<SceneView>(); }
  vtkCamera* camera() { return const_cast<scene::Scene&>(view().scene()).renderer()->GetActiveCamera(); }
  QWidget* canvas() { return view().findChild<QOpenGLWidget*>(); }
  /// As a person chooses a word of a list.
  void choose(const QString& word) {
    for (QComboBox* list : view().findChildren<QComboBox*>()) {
      const int index = list->findText(word);
      if (index < 0) continue;
      list->setCurrentIndex(index);
      Q_EMIT list->activated(index);
      Q_EMIT list->textActivated(word);
      QTest::qWait(50);
      return;
    }
    FAIL() << "no list has " << plain(word);
  }
  QString chosen(const QString& one_of_its_words) {
    for (const QComboBox* list : view().findChildren<QComboBox*>())
      if (list->findText(one_of_its_words) >= 0) return list->currentText();
    return "";
  }
  void turn_wheel(const QPoint& at, int notches) {
    QWheelEvent event(at, canvas()->mapToGlobal(at), {}, {0, 120 * notches}, Qt::NoButton, Qt::NoModifier,
                      Qt::NoScrollPhase, false);
    QApplication::sendEvent(canvas(), &event);
  }
};

TEST_F(ViewChoices, TheWheelKeepsWhatIsUnderThePointer) {
  choose("above");
  QTest::qWait(300);
  const QPoint at = canvas()->rect().center() + QPoint(60, -35);
  const auto place = [&] { return view().told_at(at).split('\n').last(); };
  const QString before = place();
  const double scale = camera()->GetParallelScale();
  turn_wheel(at, 3);
  QTest::qWait(300);
  EXPECT_LT(camera()->GetParallelScale(), 0.7 * scale);
  // Seen from above x and y are in the picture's plane: the same to a pixel, some hundredths of an inch.
  const QStringList was = before.split(' '), is = place().split(' ');
  ASSERT_GE(was.size(), 4) << plain(before);
  ASSERT_GE(is.size(), 4);
  const auto number = [](QString text) { return text.remove(',').toDouble(); };
  EXPECT_NEAR(number(is[1]), number(was[1]), 0.02);
  EXPECT_NEAR(number(is[3]), number(was[3]), 0.02);
  turn_wheel(at, -3);
  EXPECT_NEAR(camera()->GetParallelScale(), scale, 1e-9 * scale);
  choose("best");
}

TEST_F(ViewChoices, WhereOneLookedFromComesBackWithTheCutTakenAway) {
  choose("rear");
  choose("through intake");
  EXPECT_EQ(chosen("rear"), "square");
  choose("through exhaust");
  choose("nothing");
  EXPECT_EQ(chosen("rear"), "rear");
  choose("through intake");
  choose("left");  // chosen while it was cut: it stays
  choose("nothing");
  EXPECT_EQ(chosen("rear"), "left");
  choose("best");
}

TEST_F(ViewChoices, LabelsMayBeHidden) {
  QAction* labels = nullptr;
  for (QAction* action : window_.findChildren<QAction*>())
    if (action->shortcut() == QKeySequence("Ctrl+L")) labels = action;
  ASSERT_NE(labels, nullptr);
  window_.jump_to_row(row_called("intake, radial"));
  QTest::qWait(400);
  // The label's own paper: how much of the picture is plain white inside the crown's outline.
  const auto white = [&] {
    const QImage picture =
        static_cast<QOpenGLWidget*>(canvas())->grabFramebuffer().convertToFormat(QImage::Format_RGB32);
    int count = 0;
    for (int y = 0; y < picture.height(); ++y)
      for (int x = 0; x < picture.width(); ++x) count += picture.pixel(x, y) == qRgb(255, 255, 255);
    return count;
  };
  const int with = white();
  const std::vector<scene::LitGap> lit = view().scene().lit();
  labels->trigger();
  QTest::qWait(400);
  EXPECT_FALSE(view().scene().look().labels);
  EXPECT_LT(white(), with - 3000) << "four labels' paper is gone";
  EXPECT_EQ(view().scene().lit().size(), lit.size()) << "what is lit stays";
  labels->trigger();
  QTest::qWait(400);
  EXPECT_NEAR(white(), with, 50);
}

TEST_F(ViewChoices, TheTableTellsWhereEachGapIs) {
  const int radial = row_called("intake, radial");
  EXPECT_THAT(plain(cell(radial, ResultTable::where)),
              ::testing::AllOf(::testing::HasSubstr(" to intake pocket wall, "), ::testing::HasSubstr("o'clock")));
  EXPECT_EQ(cell(row_called("piston to head"), ResultTable::where), "");
}

/// However slow the drawing: what the plot marks is what the parts show.
TEST_F(ViewChoices, PartsAndPlotPlayInStep) {
  struct Drawn {
    const scene::Scene& scene;
    double crank = NAN;
  } drawn{view().scene()};
  vtkNew<vtkCallbackCommand> note;
  note->SetClientData(&drawn);
  note->SetCallback([](vtkObject*, unsigned long, void* data, void*) {
    auto& of = *static_cast<Drawn*>(data);
    of.crank = of.scene.crank();
  });
  vtkRenderer* const renderer = const_cast<scene::Scene&>(view().scene()).renderer();
  const unsigned long observer = renderer->AddObserver(vtkCommand::EndEvent, note);
  int frames = 0;
  const auto moved = QObject::connect(&window_.cursor(), &Cursor::moved, [&](double crank) {
    if (!window_.cursor().playing()) return;
    EXPECT_EQ(drawn.crank, crank);
    ++frames;
  });
  QTest::keyClick(&part<GapPlot>(), Qt::Key_Space);
  EXPECT_TRUE(wait_until([&] { return frames >= 5; }));
  QTest::keyClick(&part<GapPlot>(), Qt::Key_Space);
  EXPECT_FALSE(window_.cursor().playing());
  QObject::disconnect(moved);
  renderer->RemoveObserver(observer);
}

}  // namespace
}  // namespace eyebrow::window
