// Engines that ask more of the window: a new one, four valves, measured cylinders, none at all.
#include <gmock/gmock.h>

#include <QComboBox>
#include <QLabel>
#include <QPushButton>

#include "eyebrow/edit.hpp"
#include "window/shown_window.hpp"

namespace eyebrow::window {
namespace {

class FourValves : public ShownWindow {
 protected:
  FourValves() : ShownWindow(model_text("four_valve_pent_roof")) {}
};

TEST_F(FourValves, HaveAPanelEach) {
  EXPECT_EQ(part<GapPlot>().panels(), 4U);
  keep_picture("four_valves");
  int below = 0;
  for (const QLabel* label : part<VerdictBar>().findChildren<QLabel*>()) {
    if (label->x() < 100) continue;  // the verdict's word stands beside the lines
    EXPECT_GE(label->y(), below) << "no line of the verdict stands on another: " << plain(label->text());
    below = label->y() + label->height();
  }
  EXPECT_GT(below, 0);
  EXPECT_LE(below, part<VerdictBar>().height());
  part<GapPlot>().show_valve(2);
  EXPECT_EQ(part<GapPlot>().panels(), 1U);
  const int pair = row_called("intake_front / exhaust_front");
  ASSERT_GE(pair, 0);
  window_.jump_to_row(pair);
  EXPECT_DOUBLE_EQ(
      window_.cursor().crank(),
      *crank_of(*window_.checked()->result, window_.checked()->result->asked[static_cast<std::size_t>(pair)]));
  // What a table takes over from another is not stated there, and gets its own number when it is.
  EXPECT_EQ(part<NumberForm>().row("valve.intake_rear.margin"), nullptr);
  window_.document().set_value("valve.intake_rear.margin", "1.2");
  ASSERT_NE(part<NumberForm>().row("valve.intake_rear.margin"), nullptr);
  ASSERT_TRUE(wait_until([&] { return !window_.result().stale; }));
  EXPECT_EQ(window_.result().ready->engine()->valves[1].margin, 1.2);
}

class MeasuredCylinders : public ShownWindow {
 protected:
  MeasuredCylinders()
      : ShownWindow(
            model_text("two_valve_wedge") +
            "\n[each_cylinder]\nnames = [\"left\", \"right\"]\n\"cylinder.deck_clearance\" = [0.005, 0.002]\n") {}
};

TEST_F(MeasuredCylinders, ShowTheWorstAndAnyOther) {
  const CylindersResult& all = window_.checked()->all;
  ASSERT_EQ(all.each.size(), 2U);
  EXPECT_EQ(all.worst, 1U) << "its piston stands higher";
  EXPECT_EQ(window_.checked()->shown, all.worst);
  EXPECT_EQ(row("cylinder.deck_clearance").note(), "cylinder right: 0.002 in") << "beside the file's own number";
  EXPECT_THAT(plain(part<VerdictBar>().conditions()),
              ::testing::HasSubstr("cylinder " + all.each[all.worst].conditions.cylinder));
  QComboBox* cylinders = nullptr;
  for (QComboBox* each : window_.findChildren<QComboBox*>())
    if (each->count() > 0 && each->itemText(0) == "the worst cylinder") cylinders = each;
  ASSERT_NE(cylinders, nullptr);
  ASSERT_EQ(cylinders->count(), static_cast<int>(all.each.size()) + 1);
  const std::size_t other = all.worst == 0 ? 1 : 0;
  const std::string worst = all.each[all.worst].conditions.cylinder;
  cylinders->setCurrentIndex(static_cast<int>(other) + 1);
  Q_EMIT cylinders->activated(static_cast<int>(other) + 1);
  EXPECT_FALSE(window_.checker().busy()) << "all are checked already";
  EXPECT_EQ(window_.checked()->shown, other);
  EXPECT_EQ(row("cylinder.deck_clearance").note(), "cylinder left: 0.005 in");
  for (const FormRow* each : part<NumberForm>().findChildren<FormRow*>())
    if (each->entry().key != "cylinder.deck_clearance") {
      EXPECT_EQ(each->note(), "") << each->entry().key << " was measured of none";
    }
  EXPECT_THAT(plain(part<VerdictBar>().sentence()), ::testing::HasSubstr("Cylinder " + worst))
      << "the verdict is the worst one's whichever is shown";
}

class MovingCam : public ShownWindow {
 protected:
  MovingCam() : ShownWindow(with_stops()) {}
  static std::string with_stops() {
    std::string text = model_text("two_valve_wedge");
    return text.replace(text.find("advance = 0 "), 12, "advance = 0\nstops = [-3, 5] ");
  }
};

TEST_F(MovingCam, IsShownWhereTheGapIsLeast) {
  const int travel = row_called("intake, travel");
  window_.jump_to_row(travel);
  const Minimum& least = window_.checked()->result->valves[0].minimum.at(GapKind::travel);
  EXPECT_NEAR(*least.advance, 5 * kDegree, 1e-9) << "the earliest";
  EXPECT_NEAR(window_.result().ready->engine()->cams[0].advance, 5 * kDegree, 1e-9);
  EXPECT_NEAR(window_.result().ready->gaps(0, window_.cursor().crank()).travel.value, least.gap.value, 1e-6);
  window_.jump_to_row(row_called("piston to head"));
  EXPECT_EQ(window_.result().ready->engine()->cams[0].advance, 0);
}

TEST(NewEngine, BeginsWithTheStarterFile) {
  MainWindow window;
  window.show();
  EXPECT_EQ(window.findChild<VerdictBar*>()->word(), "NO ENGINE");
  window.begin_new();
  ASSERT_TRUE(wait_until([&] { return window.checked() && !window.checker().busy(); }));
  EXPECT_EQ(window.document().text(), starter_file());
  EXPECT_TRUE(window.document().changed()) << "it is nowhere on the disk";
}

class BigValve : public ShownWindow {
 protected:
  BigValve() : ShownWindow(model_text("inline_six_big_valve")) {}
};

// The head swap: the row, the crank and the parts are where the rim is too near to its pocket's wall.
TEST_F(BigValve, OpensAtTheShortRadialGap) {
  const ResultTable& table = part<ResultTable>();
  EXPECT_EQ(cell(table.currentRow(), ResultTable::what), "intake, radial");
  EXPECT_EQ(cell(table.currentRow(), ResultTable::found), "0.021");
  EXPECT_EQ(part<VerdictBar>().word(), "SHORT");
  // The number that is judged stands out beside what else its card leaves: README.md has both from the report.
  const int travel = row_called("intake, travel");
  EXPECT_EQ(cell(travel, ResultTable::found), "0.111");
  EXPECT_EQ(cell(travel, ResultTable::up_to), "0.117");
  EXPECT_FALSE(table.isColumnHidden(ResultTable::up_to));
  EXPECT_TRUE(table.item(travel, ResultTable::found)->font().bold());
  EXPECT_FALSE(table.item(travel, ResultTable::up_to)->font().bold());
  keep_picture("big_valve");
}

/// The row of a table whose first cell has these words; -1: none.
int row_with(const QTableWidget& table, const QString& words) {
  for (int row = 0; row < table.rowCount(); ++row)
    if (table.item(row, 0) && table.item(row, 0)->text().contains(words)) return row;
  return -1;
}

// The numbers are those that README.md has from `eyebrow check`.
TEST_F(BigValve, TellsWhatWouldRestoreAGapAndPutsItIntoTheFile) {
  ResultTabs& tabs = part<ResultTabs>();
  const std::string before = window_.document().text();
  tabs.setCurrentIndex(ResultTabs::kReserve);
  const ReserveTable& reserve = part<ReserveTable>();
  ASSERT_EQ(reserve.rowCount(), 2);
  EXPECT_EQ(reserve.item(0, ReserveTable::until)->text(), "more short");
  EXPECT_EQ(reserve.item(0, ReserveTable::earlier)->text(), "5.8");
  EXPECT_EQ(reserve.item(0, ReserveTable::earlier_gap)->text(), "intake.travel");
  EXPECT_EQ(reserve.item(1, ReserveTable::later)->text(), "28.4");
  keep_picture("reserve");

  EXPECT_FALSE(tabs.busy()) << "what takes long waits until it is looked at";
  tabs.setCurrentIndex(ResultTabs::kRemedies);
  EXPECT_TRUE(tabs.busy());
  // An edit gives that up, and takes what it would have told away.
  type("gasket.thickness", "0.041");
  EXPECT_FALSE(tabs.busy());
  EXPECT_EQ(tabs.said(ResultTabs::kRemedies), "Of the numbers before: wait for the check.");
  window_.document().undo_stack().undo();
  ASSERT_TRUE(checked());
  ASSERT_TRUE(wait_until([&] { return !tabs.busy(); }, 240000));
  RemedyTable& remedies = part<RemedyTable>();
  EXPECT_GE(row_with(remedies, "intake.radial: 0.021 of 0.050 in"), 0);
  const int wider = row_with(remedies, "pocket.intake.diameter\n= 1.9975 in");
  ASSERT_GE(wider, 0);
  EXPECT_TRUE(remedies.item(wider, RemedyTable::effect)->text().startsWith("widens the pocket by 0.0575 in"));
  EXPECT_GE(row_with(remedies, "These won't do it alone"), 0);
  remedies.setCurrentCell(wider, 0);
  keep_picture("remedies");

  QPushButton* put = nullptr;
  for (QPushButton* button : tabs.findChildren<QPushButton*>())
    if (button->text() == "Put into the file") put = button;
  ASSERT_TRUE(put && put->isEnabled());
  put->click();
  EXPECT_EQ(window_.document().text(), edited_text(before, "pocket.intake.diameter", "1.9975"));
  EXPECT_FALSE(put->isEnabled());
  ASSERT_TRUE(checked());
  FormRow& changed = row("pocket.intake.diameter");
  EXPECT_EQ(changed.typed(), "1.9975");
  EXPECT_FALSE(changed.visibleRegion().isEmpty()) << "the number that was changed is in sight";
  EXPECT_EQ(part<VerdictBar>().word(), "HOLDS");
  EXPECT_EQ(tabs.said(ResultTabs::kRemedies), "Every asked gap holds: there is nothing to restore.");
  window_.document().undo_stack().undo();
  EXPECT_EQ(window_.document().text(), before);
}

// A millimetre of gasket is a millimetre between piston and head: closed form.
TEST_F(BigValve, TellsWhatEachNumberDoes) {
  ResultTabs& tabs = part<ResultTabs>();
  tabs.setCurrentIndex(ResultTabs::kInfluence);
  ASSERT_TRUE(wait_until([&] { return !tabs.busy(); }, 240000));
  const InfluenceTable& influence = part<InfluenceTable>();
  const int head = row_with(influence, "piston.head");
  ASSERT_GE(head, 0);
  EXPECT_EQ(influence.item(head + 1, 0)->text(), "gasket.thickness");
  EXPECT_EQ(influence.item(head + 1, 1)->text(), "0.001 in");
  EXPECT_EQ(influence.item(head + 1, 2)->text(), "+0.00100");
  keep_picture("influence");
}

}  // namespace
}  // namespace eyebrow::window
