// Scales and ticks.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "report/plot_axis.hpp"
#include "report/plot_frame.hpp"

namespace eyebrow::plot {
namespace {

using ::testing::DoubleNear;
using ::testing::ElementsAre;

TEST(PlotAxis, MapsThereAndBack) {
  const Axis axis{-40, 40, 84, 668};
  EXPECT_DOUBLE_EQ(axis.place(-40), 84);
  EXPECT_DOUBLE_EQ(axis.place(0), 376);
  EXPECT_DOUBLE_EQ(axis.place(40), 668);
  const Axis up{0, 0.25, 500, 100};  // pages count down, gaps up
  EXPECT_DOUBLE_EQ(up.place(0.25), 100);
  for (const double value : {-100.0, -0.3, 0.0, 7.25, 400.0}) {
    EXPECT_NEAR(axis.value(axis.place(value)), value, 1e-12);
    EXPECT_NEAR(up.value(up.place(value)), value, 1e-12);
  }
}

TEST(PlotAxis, StepsAreOneTwoOrFiveTimesAPowerOfTen) {
  EXPECT_DOUBLE_EQ(tick_step(10, 10), 1);
  EXPECT_DOUBLE_EQ(tick_step(10, 9), 2);
  EXPECT_DOUBLE_EQ(tick_step(10, 4), 5);
  EXPECT_DOUBLE_EQ(tick_step(10, 1), 10);
  EXPECT_DOUBLE_EQ(tick_step(0.25, 9), 0.05);
  for (double range = 1e-8; range < 1e12; range *= 1.7)
    for (const int most : {1, 2, 5, 9, 12}) {
      const double step = tick_step(range, most);
      EXPECT_LE(range / step, most * (1 + 1e-5));
      const double lead = step / std::pow(10.0, std::floor(std::log10(step) + 1e-9));
      EXPECT_TRUE(std::fabs(lead - 1) < 1e-9 || std::fabs(lead - 2) < 1e-9 || std::fabs(lead - 5) < 1e-9) << step;
      EXPECT_GT(range / step, most / 2.6 - 1) << "no coarser than it has to be";
    }
}

TEST(PlotAxis, TicksAreTheMultiplesWithin) {
  EXPECT_THAT(ticks({-3, 7.6}, 2), ElementsAre(-2, 0, 2, 4, 6));
  EXPECT_THAT(ticks({0.1, 0.3}, 0.1),
              ElementsAre(DoubleNear(0.1, 1e-12), DoubleNear(0.2, 1e-12), DoubleNear(0.3, 1e-12)));
  EXPECT_FALSE(std::signbit(ticks({-1, 1}, 1)[1])) << "no -0";
}

TEST(PlotAxis, TickTextsHaveTheDecimalsOfTheStep) {
  EXPECT_EQ(tick_text(0.05, 0.05), "0.05");
  EXPECT_EQ(tick_text(0.1, 0.05), "0.10");
  EXPECT_EQ(tick_text(-20, 5), "-20");
  EXPECT_EQ(tick_text(-0.0, 0.5), "0.0");
  EXPECT_EQ(tick_text(3e-8, 1e-8), "3e-08");
  EXPECT_EQ(tick_text(4e9, 1e9), "4e+09");
  EXPECT_EQ(crank_tick_text(-20, 10), "20 BTDC");
  EXPECT_EQ(crank_tick_text(0, 10), "TDC");
  EXPECT_EQ(crank_tick_text(2.5, 0.5), "2.5 ATDC");
}

TEST(PlotAxis, RangesLeaveOutWhatIsNoNumber) {
  EXPECT_EQ(range_of({NAN, 3, -1, INFINITY, 1e300}, {7, 8}).from, -1);
  EXPECT_EQ(range_of({NAN, 3, -1, INFINITY, 1e300}, {7, 8}).to, 3);
  EXPECT_EQ(range_of({NAN}, {7, 8}).from, 7);
  for (const double value : {0.0, 2.0, -1e-7, 1e9}) {
    const Range range = widened({value, value});
    EXPECT_LT(range.from, value);
    EXPECT_GT(range.to, value);
  }
  EXPECT_EQ(widened({1, 2}).to, 2);
}

// Relative luminance and contrast as WCAG 2.1 defines them (memory): white 1, black 0, contrast (a + 0.05) / (b +
// 0.05).
TEST(PlotLook, LineColoursDifferInGreyToo) {
  EXPECT_DOUBLE_EQ(luminance({1, 1, 1}), 1);
  EXPECT_DOUBLE_EQ(luminance({0, 0, 0}), 0);
  for (const LineStyle& style : kLineStyles)
    EXPECT_GE(1.05 / (luminance(style.ink) + 0.05), 3) << "what WCAG 2.1 asks of lines in 1.4.11 (memory)";
  for (std::size_t a = 0; a < 4; ++a)
    for (std::size_t b = a + 1; b < 4; ++b) {
      const double one = luminance(kLineStyles[a].ink) + 0.05, other = luminance(kLineStyles[b].ink) + 0.05;
      EXPECT_GE(std::fmax(one, other) / std::fmin(one, other), 1.3) << a << ' ' << b;
      EXPECT_NE(kLineStyles[a].dash, kLineStyles[b].dash);
      EXPECT_NE(kLineStyles[a].shape, kLineStyles[b].shape);
    }
}

}  // namespace
}  // namespace eyebrow::plot
