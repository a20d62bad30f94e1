// The window as a person uses it.
#include <gmock/gmock.h>

#include <QAbstractButton>
#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QFileInfo>
#include <QLabel>
#include <QMessageBox>
#include <QOpenGLWidget>
#include <QPlainTextEdit>
#include <QSettings>
#include <QTabWidget>
#include <QTimer>
#include <QToolTip>
#include <cmath>

#include "eyebrow/edit.hpp"
#include "report/verdict_text.hpp"
#include "window/shown_window.hpp"

namespace eyebrow::window {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

/// Answers the next question that the window asks; false: none came.
struct Answer {
  explicit Answer(QMessageBox::StandardButton button) {
    QObject::connect(&timer_, &QTimer::timeout, [this, button] {
      for (QWidget* widget : QApplication::topLevelWidgets())
        if (auto* box = qobject_cast<QMessageBox*>(widget); box && box->isVisible()) {
          text = box->text();
          given = true;
          timer_.stop();
          if (QAbstractButton* wanted = box->button(button))
            wanted->click();
          else
            box->close();
          return;
        }
    });
    timer_.start(20);
  }
  bool given = false;
  QString text;

 private:
  QTimer timer_;
};

// The colours of the whole cycle take seconds on a thread of their own; an edit gives them up, and they are found anew.
TEST_F(ShownWindow, ColoursTheCrownByTheLeastGap) {
  SceneView& view = part<SceneView>();
  view.color(scene::Coloring::gap);
  EXPECT_EQ(view.scene().look().coloring, scene::Coloring::gap);
  view.color(scene::Coloring::least);
  EXPECT_EQ(view.scene().look().coloring, scene::Coloring::plain) << "not known yet";
  EXPECT_TRUE(wait_until([&] { return view.scene().look().coloring == scene::Coloring::least; }));
  type("gasket.thickness", "0.045");
  EXPECT_TRUE(wait_until([&] { return view.scene().look().coloring == scene::Coloring::plain; }));
  EXPECT_TRUE(checked());
  EXPECT_TRUE(wait_until([&] { return view.scene().look().coloring == scene::Coloring::least; }));
  QTest::qWait(500);  // it is drawn soon after
  keep_picture("coloured");
}

TEST_F(ShownWindow, ShowsTheEngineWhereItIsTightest) {
  const CheckResult& result = *window_.checked()->result;
  ResultTable& table = part<ResultTable>();
  ASSERT_EQ(table.rowCount(), static_cast<int>(result.asked.size()));
  EXPECT_EQ(cell(table.currentRow(), ResultTable::what), "intake, radial") << "the least margin of an open valve";
  EXPECT_DOUBLE_EQ(window_.cursor().crank(), result.valves[0].minimum.at(GapKind::radial).crank);
  EXPECT_EQ(part<VerdictBar>().word(), "HOLDS");
  EXPECT_THAT(plain(part<VerdictBar>().conditions()), HasSubstr("zero lash, as on the bench"));
  EXPECT_EQ(part<VerdictBar>().caution(), kCaution) << "always in sight";
  // As `eyebrow check` prints them: tests/cli has the same numbers from the program.
  EXPECT_EQ(cell(row_called("intake, travel"), ResultTable::found), "0.089");
  EXPECT_EQ(cell(row_called("intake, travel"), ResultTable::asked), "0.080");
  EXPECT_EQ(cell(row_called("intake, travel"), ResultTable::crank), "9.6 ATDC");
  EXPECT_TRUE(part<SceneView>().has_parts());
  EXPECT_EQ(window_.windowTitle(), "engine.toml[*] - Eyebrow");
  EXPECT_FALSE(window_.isWindowModified());
  keep_picture("opened");
}

TEST_F(ShownWindow, FollowsAnEditAtOnceAndThenChecksIt) {
  const double before = part<GapPlot>().least_shown(0, GapKind::travel);
  const int row = row_called("intake, travel");
  // What it looks like when an edit is followed, each time.
  double followed = NAN;
  QString found, holds, word;
  QObject::connect(&window_.checker(), &Checker::followed, &window_, [&] {
    followed = part<GapPlot>().least_shown(0, GapKind::travel);
    found = cell(row, ResultTable::found);
    holds = cell(row, ResultTable::holds);
    word = part<VerdictBar>().word();
  });
  type("cam.advance", "6");
  EXPECT_FALSE(window_.checked()) << "the verdict is of other numbers now";
  EXPECT_EQ(part<VerdictBar>().word(), "CHECKING");
  ASSERT_TRUE(wait_until([&] { return !std::isnan(followed); }));
  EXPECT_LT(followed, before - 0.3) << "an earlier cam takes from the intake";
  EXPECT_EQ(word, "CHECKING");
  EXPECT_TRUE(found.startsWith(QString::fromUtf8("\u2248 "))) << plain(found);
  EXPECT_EQ(holds, "") << "samples are no verdict";
  ASSERT_TRUE(checked());
  EXPECT_EQ(part<VerdictBar>().word(), "SHORT");
  EXPECT_EQ(cell(row, ResultTable::holds), "SHORT");
  // The same engine from the command line's side.
  const EngineFile file = EngineText::of_file(plain(path_)).read({{"cam.advance", "6"}});
  const CheckResult expected = run_check(file.engine, build_parts(file.engine, file.origins));
  EXPECT_EQ(window_.checked()->result->asked[static_cast<std::size_t>(row)].found,
            expected.asked[static_cast<std::size_t>(row)].found);
  EXPECT_TRUE(window_.isWindowModified());
  keep_picture("edited");
}

TEST_F(ShownWindow, OnlyTheNewestEditIsTold) {
  std::vector<double> told;
  QObject::connect(&window_.checker(), &Checker::checked, &window_, [&](const std::shared_ptr<const Checked>& found) {
    told.push_back(found->result->conditions.gasket);
  });
  type("gasket.thickness", "0.060");
  for (int i = 0; i < 8; ++i) row("gasket.thickness").number()->stepBy(1);
  EXPECT_EQ(row("gasket.thickness").typed(), "0.068");
  ASSERT_TRUE(checked());
  ASSERT_FALSE(told.empty());
  EXPECT_NEAR(told.back(), 0.068 * 25.4, 1e-12);
  EXPECT_LE(told.size(), 1U) << "edits that come faster than a check takes leave no result of their own";
}

// What is drawn of other numbers than the newest, or not yet checked, says so all over.
TEST_F(ShownWindow, ThePartsAreMarkedUntilTheyCount) {
  const scene::Scene& scene = part<SceneView>().scene();
  EXPECT_EQ(scene.veil(), "");
  type("gasket.thickness", "0.045");
  EXPECT_EQ(scene.veil(), "CHECKING") << "at once";
  ASSERT_TRUE(wait_until([&] { return window_.result().certainty == Certainty::sampled; }));
  EXPECT_EQ(scene.veil(), "CHECKING") << "followed is not checked";
  keep_picture("checking");
  ASSERT_TRUE(checked());
  EXPECT_TRUE(wait_until([&] { return scene.veil().empty(); }, 5000));
  type("gasket.thickness", "thick");
  EXPECT_TRUE(wait_until([&] { return scene.veil() == "OLD NUMBERS"; }, 5000));
  keep_picture("old_numbers");
}

TEST_F(ShownWindow, CrankGoesAlongWithTheRowThatWasChosen) {
  window_.jump_to_row(row_called("intake, travel"));
  const double before = window_.cursor().crank();
  type("cam.advance", "4");
  ASSERT_TRUE(checked());
  const double after = window_.checked()->result->valves[0].minimum.at(GapKind::travel).crank;
  EXPECT_NE(after, before);
  EXPECT_DOUBLE_EQ(window_.cursor().crank(), after);
  EXPECT_EQ(cell(part<ResultTable>().currentRow(), ResultTable::what), "intake, travel");
  // Turned elsewhere by hand, it stays there.
  window_.cursor().set(30 * kDegree);
  type("cam.advance", "5");
  ASSERT_TRUE(checked());
  EXPECT_DOUBLE_EQ(window_.cursor().crank(), 30 * kDegree);
}

TEST_F(SharedWindow, CrankFollowsMouseAndKeys) {
  GapPlot& plot = part<GapPlot>();
  const double wanted = 12 * kDegree;
  QTest::mousePress(&plot, Qt::LeftButton, {}, plot.place_of(0, 0, 1).toPoint());
  EXPECT_NEAR(window_.cursor().crank(), 0, 0.3 * kDegree);
  QMouseEvent move(QEvent::MouseMove, plot.place_of(0, wanted, 1), Qt::NoButton, Qt::LeftButton, Qt::NoModifier);
  QApplication::sendEvent(&plot, &move);
  EXPECT_NEAR(window_.cursor().crank(), wanted, 0.3 * kDegree);
  EXPECT_NEAR(part<SceneView>().scene().crank(), window_.cursor().crank(), 1e-12);
  QTest::mouseRelease(&plot, Qt::LeftButton);
  window_.cursor().set(12.4 * kDegree);
  QTest::keyClick(&plot, Qt::Key_Right);
  EXPECT_NEAR(window_.cursor().crank(), 13 * kDegree, 1e-9);
  QTest::keyClick(&plot, Qt::Key_Left);
  QTest::keyClick(&plot, Qt::Key_Left);
  EXPECT_NEAR(window_.cursor().crank(), 11 * kDegree, 1e-9);
  QTest::keyClick(&plot, Qt::Key_Right, Qt::ShiftModifier);
  EXPECT_NEAR(window_.cursor().crank(), 21 * kDegree, 1e-9);
  // Beyond what is in sight the plot goes along.
  window_.cursor().set(-200 * kDegree);
  EXPECT_LE(plot.cranks().from, -200);
  EXPECT_GE(plot.cranks().to, -200);
  QTest::keyClick(&plot, Qt::Key_Home);
  EXPECT_EQ(window_.cursor().crank(), 0);
  QTest::keyClick(&plot, Qt::Key_Space);
  EXPECT_TRUE(window_.cursor().playing());
  ASSERT_TRUE(wait_until([&] { return window_.cursor().crank() != 0; }));
  QTest::keyClick(&plot, Qt::Key_Space);
  EXPECT_FALSE(window_.cursor().playing());
}

TEST_F(SharedWindow, RowsLeadToTheirPlaces) {
  const CheckResult& result = *window_.checked()->result;
  ResultTable& table = part<ResultTable>();
  const int row = row_called("exhaust, travel");
  QTest::mouseClick(table.viewport(), Qt::LeftButton, {}, table.visualItemRect(table.item(row, 0)).center());
  EXPECT_DOUBLE_EQ(window_.cursor().crank(), result.valves[1].minimum.at(GapKind::travel).crank);
  QTest::keyClick(&table, Qt::Key_Down);
  EXPECT_DOUBLE_EQ(window_.cursor().crank(), result.valves[1].minimum.at(GapKind::face).crank);
  for (int i = 0; i < table.rowCount(); ++i) {
    window_.jump(1);
    EXPECT_DOUBLE_EQ(window_.cursor().crank(),
                     *crank_of(result, result.asked[static_cast<std::size_t>(table.currentRow())]));
  }
  EXPECT_EQ(table.currentRow(), row + 1) << "once around";
  window_.jump(-1);
  EXPECT_EQ(table.currentRow(), row);
  // What the kernel says where the cursor stands is what the table says.
  const auto ready = *window_.result().ready;
  EXPECT_NEAR(ready.gaps(1, window_.cursor().crank()).travel.value,
              result.valves[1].minimum.at(GapKind::travel).gap.value, 1e-6);
}

// Two valves, a valve and the bore, piston and head: their rows lead to their points and light them.
TEST_F(SharedWindow, RowsOfOtherGapsLightThem) {
  const CheckResult& result = *window_.checked()->result;
  const scene::Scene& scene = part<SceneView>().scene();
  const auto lit = [&](scene::LitKind kind) {
    for (const scene::LitGap& each : scene.lit())
      if (each.kind == kind) return std::optional(each);
    return std::optional<scene::LitGap>();
  };
  window_.jump_to_row(row_called("intake / exhaust"));
  EXPECT_DOUBLE_EQ(window_.cursor().crank(), result.pairs[0].minimum.crank);
  ASSERT_TRUE(lit(scene::LitKind::pair));
  EXPECT_TRUE(lit(scene::LitKind::pair)->least);
  EXPECT_EQ(lit(scene::LitKind::pair)->gap.value, result.pairs[0].minimum.gap.value);
  EXPECT_FALSE(lit(scene::LitKind::travel));
  window_.jump_to_row(row_called("exhaust to bore"));
  ASSERT_TRUE(lit(scene::LitKind::bore));
  EXPECT_EQ(lit(scene::LitKind::bore)->gap.value, result.valves[1].bore.gap.value);
  EXPECT_TRUE(scene.look().transparent.contains("bore")) << "the wall that it is measured to is seen";
  keep_picture("bore");
  window_.jump_to_row(row_called("piston to head"));
  ASSERT_TRUE(lit(scene::LitKind::head));
  EXPECT_NEAR(lit(scene::LitKind::head)->gap.value, result.piston_to_head, 1e-9);
  window_.jump_to_row(row_called("intake, radial"));
  EXPECT_TRUE(lit(scene::LitKind::radial));
  EXPECT_FALSE(lit(scene::LitKind::head));
  EXPECT_TRUE(scene.look().hidden.contains("bore"));
}

TEST_F(EditedWindow, UndoGoesBackEditByEdit) {
  const std::string text = window_.document().text();
  type("gasket.thickness", "0.051");
  type("cylinder.deck_clearance", "0.005");
  QTest::keyClick(row("cylinder.deck_clearance").number(), Qt::Key_Z, Qt::ControlModifier);
  EXPECT_EQ(row("cylinder.deck_clearance").typed(), "0") << "all that was typed into a field at once";
  EXPECT_EQ(row("gasket.thickness").typed(), "0.051");
  QTest::keyClick(&part<GapPlot>(), Qt::Key_Z, Qt::ControlModifier);
  EXPECT_EQ(window_.document().text(), text);
  EXPECT_FALSE(window_.isWindowModified());
  QTest::keyClick(&part<GapPlot>(), Qt::Key_Y, Qt::ControlModifier);
  EXPECT_EQ(row("gasket.thickness").typed(), "0.051");
  EXPECT_TRUE(window_.isWindowModified());
  ASSERT_TRUE(checked());
  EXPECT_NEAR(window_.checked()->result->conditions.gasket, 0.051 * 25.4, 1e-12);
}

TEST_F(EditedWindow, SavesTheNumberAndKeepsTheComments) {
  const std::string before = read(path_);
  type("gasket.thickness", "0.051");
  QTest::keyClick(&window_, Qt::Key_S, Qt::ControlModifier);
  EXPECT_FALSE(window_.isWindowModified());
  const std::string after = read(path_);
  EXPECT_EQ(after, edited_text(before, "gasket.thickness", "0.051"));
  EXPECT_THAT(after, HasSubstr("thickness = 0.051           # compressed\n"));
  EXPECT_THAT(after, HasSubstr("# An invented engine"));
  // Our own writing is no news from the disk.
  Answer none(QMessageBox::No);
  QTest::qWait(400);
  EXPECT_FALSE(none.given);
}

TEST_F(EditedWindow, ReadsTheFileAgainWhenAnotherProgramChangesIt) {
  write(path_, edited_text(read(path_), "gasket.thickness", "0.055"));
  ASSERT_TRUE(wait_until([&] { return row("gasket.thickness").typed() == "0.055"; }, 5000));
  EXPECT_FALSE(window_.isWindowModified());
  // With changes of one's own it asks first.
  type("cylinder.deck_clearance", "0.010");
  Answer keep(QMessageBox::No);
  write(path_, edited_text(read(path_), "gasket.thickness", "0.056"));
  ASSERT_TRUE(wait_until([&] { return keep.given; }, 5000));
  EXPECT_THAT(plain(keep.text), HasSubstr("engine.toml has changed on the disk"));
  EXPECT_EQ(row("gasket.thickness").typed(), "0.055");
  EXPECT_EQ(row("cylinder.deck_clearance").typed(), "0.010");
  Answer take(QMessageBox::Yes);
  write(path_, edited_text(read(path_), "gasket.thickness", "0.057"));
  ASSERT_TRUE(wait_until([&] { return take.given && row("gasket.thickness").typed() == "0.057"; }, 5000));
  EXPECT_EQ(row("cylinder.deck_clearance").typed(), "0");
  window_.document().undo_stack().undo();
  EXPECT_EQ(row("cylinder.deck_clearance").typed(), "0.010") << "nothing is lost by it";
}

TEST_F(EditedWindow, TellsWhatIsWrongAtTheField) {
  type("gasket.thickness", "thick");
  ASSERT_TRUE(wait_until([&] { return !row("gasket.thickness").fault().isEmpty(); }));
  EXPECT_EQ(row("gasket.thickness").typed(), "thick") << "as typed";
  EXPECT_THAT(plain(row("gasket.thickness").fault()), HasSubstr("thick"));
  EXPECT_EQ(part<VerdictBar>().word(), "INPUT WRONG");
  EXPECT_FALSE(window_.checked());
  EXPECT_TRUE(window_.result().stale);
  type("cylinder.bore", "4030");
  ASSERT_TRUE(wait_until([&] { return !row("cylinder.bore").fault().isEmpty(); }));
  EXPECT_THAT(plain(row("cylinder.bore").fault()), HasSubstr("bores run from model engines"));
  EXPECT_FALSE(row("gasket.thickness").fault().isEmpty()) << "every fault at once";
  keep_picture("bad_input");
  type("cylinder.bore", "4.030");
  type("gasket.thickness", "1.04 mm");
  ASSERT_TRUE(checked());
  EXPECT_TRUE(row("cylinder.bore").fault().isEmpty());
  EXPECT_NEAR(window_.checked()->result->conditions.gasket, 1.04, 1e-12);
  EXPECT_EQ(part<VerdictBar>().word(), "HOLDS");
}

// Limits are told in the file's unit first; a unit is told once.
TEST_F(EditedWindow, UnitsOfAField) {
  const auto unit_beside = [&](const std::string& key) {
    QStringList out;
    for (QLabel* label : row(key).findChildren<QLabel*>())
      if (label->text() == "in" || label->text() == "mm" || label->text() == "deg") out << label->text();
    return out;
  };
  EXPECT_EQ(unit_beside("gasket.thickness"), QStringList{"in"});
  EXPECT_THAT(plain(row("gasket.thickness").toolTip()), HasSubstr(number_hint("gasket.thickness", true)));
  EXPECT_THAT(plain(row("gasket.thickness").toolTip()), Not(HasSubstr(number_hint("gasket.thickness", false))));
  type("gasket.thickness", "1.04 mm");
  EXPECT_EQ(unit_beside("gasket.thickness"), QStringList()) << "at once";
  const std::string tip = plain(row("gasket.thickness").toolTip());
  EXPECT_LT(tip.find(number_hint("gasket.thickness", true)), tip.find(number_hint("gasket.thickness", false)));
  EXPECT_NE(tip.find(number_hint("gasket.thickness", false)), std::string::npos);
  type("gasket.thickness", "41 thou");
  ASSERT_TRUE(checked());
  EXPECT_NEAR(window_.checked()->result->conditions.gasket, 0.041 * 25.4, 1e-12);
  EXPECT_EQ(unit_beside("gasket.thickness"), QStringList());
  type("gasket.thickness", "0.041");
  EXPECT_EQ(unit_beside("gasket.thickness"), QStringList{"in"});
}

TEST_F(EditedWindow, WhatNoEngineCanBeIsToldToo) {
  // The numbers are fine one by one; the solids cannot be: a pocket wider than the crown is far away.
  type("pocket.intake.y", "3.9");
  ASSERT_TRUE(wait_until([&] { return part<VerdictBar>().word() == "INPUT WRONG"; }));
  bool told = false;
  for (const std::string key : {"pocket.intake.x", "pocket.intake.y", "pocket.intake.diameter"})
    told = told || !row(key).fault().isEmpty();
  EXPECT_TRUE(told || !part<NumberForm>().loose_faults().isEmpty());
}

TEST_F(EditedWindow, CancelLeavesNoVerdict) {
  type("pocket.intake.depth", "0.16");
  EXPECT_TRUE(window_.checker().busy());
  QTest::keyClick(&window_, Qt::Key_Escape);
  EXPECT_FALSE(window_.checker().busy());
  EXPECT_EQ(part<VerdictBar>().word(), "CANCELLED");
  QTest::qWait(300);
  EXPECT_FALSE(window_.checked());
  EXPECT_EQ(part<VerdictBar>().word(), "CANCELLED");
  QTest::keyClick(&window_, Qt::Key_F5);
  ASSERT_TRUE(checked());
  EXPECT_EQ(part<VerdictBar>().word(), "HOLDS");
}

TEST_F(EditedWindow, TextByHandIsTheSameEngine) {
  part<QTabWidget>().setCurrentIndex(1);
  auto& text = part<QPlainTextEdit>();
  text.setFocus();
  QTextCursor at = text.document()->find("thickness = 0.041");
  ASSERT_FALSE(at.isNull());
  at.insertText("thickness = 0.051");
  EXPECT_EQ(row("gasket.thickness").typed(), "0.051");
  at = text.document()->find("[gasket]");
  at.insertText("[gasket");
  ASSERT_TRUE(wait_until([&] { return part<VerdictBar>().word() == "INPUT WRONG"; }));
  EXPECT_THAT(plain(part<NumberForm>().loose_faults()), HasSubstr("not valid TOML"));
  EXPECT_FALSE(row("gasket.thickness").isEnabled());
  QTest::keyClick(&text, Qt::Key_Z, Qt::ControlModifier);
  EXPECT_FALSE(window_.isWindowModified()) << "typing by hand is undone as one";
  ASSERT_TRUE(checked());
}

TEST_F(SharedWindow, AClickTellsTheFaceAndThePlaceOnIt) {
  auto& view = part<SceneView>();
  view.show_from(scene::View::above);
  QComboBox* parts = nullptr;
  for (QComboBox* choice : view.findChildren<QComboBox*>())
    if (choice->findText("no valves") >= 0) parts = choice;
  ASSERT_NE(parts, nullptr);
  const auto choose = [&](const QString& word) {
    parts->setCurrentText(word);
    Q_EMIT parts->activated(parts->currentIndex());
    QTest::qWait(600);
  };
  const QString before = parts->currentText();
  choose("no valves");
  auto* const canvas = view.findChild<QOpenGLWidget*>();
  ASSERT_NE(canvas, nullptr);
  const auto clicked = [&](const QPoint& at) {
    QToolTip::hideText();
    QTest::mouseClick(canvas, Qt::LeftButton, {}, at);
    QTest::qWait(50);
    return plain(QToolTip::text());
  };
  const QPoint middle = canvas->rect().center();
  EXPECT_THAT(clicked(middle), StartsWith("crown flat\nx "));
  EXPECT_THAT(clicked(middle), HasSubstr("z 0.000 in from where the bore axis meets the crown flat"));
  EXPECT_EQ(clicked({2, 2}), "") << "nothing is there";
  EXPECT_NE(clicked(middle + QPoint(6, 0)), clicked(middle)) << "another place";
  choose(before);
}

TEST_F(SharedWindow, NamesOfGapsAreNotCut) {
  const auto& table = part<ResultTable>();
  for (int i = 0; i < table.rowCount(); ++i)
    EXPECT_GE(table.columnWidth(ResultTable::what), table.fontMetrics().horizontalAdvance(cell(i, ResultTable::what)))
        << plain(cell(i, ResultTable::what));
}

TEST_F(SharedWindow, UnitsAreChosenAndKept) {
  for (QAction* action : window_.findChildren<QAction*>())
    if (action->text() == "Lengths in mm") action->trigger();
  EXPECT_EQ(cell(row_called("intake, travel"), ResultTable::found), "2.27");
  EXPECT_EQ(QSettings().value("units").toString(), "mm");
  for (QAction* action : window_.findChildren<QAction*>())
    if (action->text() == "Lengths as in the file") action->trigger();
  EXPECT_EQ(cell(row_called("intake, travel"), ResultTable::found), "0.089");
  EXPECT_EQ(QSettings().value("recent").toStringList().front(), QFileInfo(path_).absoluteFilePath());
}

TEST_F(SharedWindow, CopiesTheNumbersWithTheirCaution) {
  QTest::keyClick(&window_, Qt::Key_C, Qt::ControlModifier | Qt::ShiftModifier);
  const std::string copied = plain(QApplication::clipboard()->text());
  EXPECT_THAT(copied, HasSubstr("intake, travel\t0.089\t0.093\t0.080\t0.009\tholds\t9.6 ATDC"));
  EXPECT_THAT(copied, HasSubstr(kCaution));
  EXPECT_THAT(copied, HasSubstr("Conditions: parts cold"));
}

TEST_F(EditedWindow, AsksBeforeChangesAreLost) {
  type("gasket.thickness", "0.051");
  Answer stay(QMessageBox::Cancel);
  EXPECT_FALSE(window_.close());
  EXPECT_TRUE(stay.given);
  EXPECT_TRUE(window_.isVisible());
  Answer go(QMessageBox::Discard);
  EXPECT_TRUE(window_.close());
  EXPECT_TRUE(go.given);
  EXPECT_THAT(read(path_), Not(HasSubstr("0.051")));
  EXPECT_FALSE(QSettings().value("window/geometry").toByteArray().isEmpty());
}

TEST_F(SharedWindow, FitsASmallScreen) {
  EXPECT_LE(window_.minimumSizeHint().width(), 1366);
  EXPECT_LE(window_.minimumSizeHint().height(), 700);
  // The numbers of a row are in sight beside their units.
  FormRow& bore = row("cylinder.bore");
  EXPECT_LE(bore.mapTo(&part<NumberForm>(), QPoint(bore.width(), 0)).x(), part<NumberForm>().width());
}

}  // namespace
}  // namespace eyebrow::window
