// Engines that ask more of the window: a new one, four valves, measured cylinders, none at all.
#include <gmock/gmock.h>

#include <QComboBox>

#include "window/shown_window.hpp"

namespace eyebrow::window {
namespace {

class FourValves : public ShownWindow {
 protected:
  FourValves() : ShownWindow("four_valve_pent_roof") {}
};

TEST_F(FourValves, HaveAPanelEach) {
  EXPECT_EQ(part<GapPlot>().panels(), 4U);
  keep_picture("four_valves");
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
  MeasuredCylinders() : ShownWindow("inline_six_measured") {}
};

TEST_F(MeasuredCylinders, ShowTheWorstAndAnyOther) {
  const CylindersResult& all = window_.checked()->all;
  ASSERT_GT(all.each.size(), 1U);
  EXPECT_EQ(window_.checked()->shown, all.worst);
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
  EXPECT_THAT(plain(part<VerdictBar>().sentence()), ::testing::HasSubstr("Cylinder " + worst))
      << "the verdict is the worst one's whichever is shown";
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

}  // namespace
}  // namespace eyebrow::window
