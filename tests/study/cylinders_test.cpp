// Which of several cylinders is the worst; and that parts which same_parts lets pass give the same check.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <tuple>

#include "eyebrow/report.hpp"
#include "eyebrow/spec.hpp"
#include "study/disc_engine.hpp"

namespace eyebrow::study {
namespace {

AskedRow row(double margin) {
  AskedRow made;
  made.what = "travel";
  made.required = 1;
  made.found = 1 + margin;
  made.margin = margin;
  made.holds = margin >= 0;
  return made;
}

AskedRow without_number(bool holds) {
  AskedRow made;
  made.what = "radial";
  made.required = 1;
  made.holds = holds;
  return made;
}

CheckResult result(Verdict verdict, const std::vector<AskedRow>& rows) {
  CheckResult made;
  made.verdict = verdict;
  made.asked = rows;
  return made;
}

constexpr Verdict kHolds = Verdict::holds, kShort = Verdict::short_, kContact = Verdict::contact;

TEST(TightestRow, HasTheLeastMargin) {
  const CheckResult made = result(kShort, {row(0.5), without_number(true), row(-0.2), row(-0.2), row(0.1)});
  EXPECT_EQ(tightest_row(made), &made.asked[2]) << "of equals the first";
}

TEST(TightestRow, MissingAndNotHeldComesBeforeAnyMargin) {
  const CheckResult made = result(kShort, {row(-9), without_number(false)});
  EXPECT_EQ(tightest_row(made), &made.asked[1]);
}

TEST(TightestRow, IsNoneWhereNothingHasAMargin) {
  EXPECT_EQ(tightest_row(result(kHolds, {})), nullptr);
  EXPECT_EQ(tightest_row(result(kHolds, {without_number(true)})), nullptr);
}

TEST(WorstOf, VerdictComesBeforeMargin) {
  EXPECT_EQ(worst_of({result(kHolds, {row(0.1)})}), 0u);
  EXPECT_EQ(worst_of({result(kShort, {row(-5)}), result(kContact, {row(-0.1)}), result(kHolds, {row(0)})}), 1u);
  // Parts may touch where nothing was asked.
  EXPECT_EQ(worst_of({result(kShort, {row(-5)}), result(kHolds, {row(0)}), result(kContact, {row(0.3)})}), 2u);
  EXPECT_EQ(worst_of({result(kHolds, {row(0)}), result(kShort, {row(-0.001)})}), 1u);
}

TEST(WorstOf, LeastMarginOfAnyRowDecidesBetweenEqualVerdicts) {
  EXPECT_EQ(worst_of({result(kHolds, {row(0.3), row(0.2)}), result(kHolds, {row(0.9), row(0.1)})}), 1u);
  EXPECT_EQ(worst_of({result(kShort, {row(-5)}), result(kShort, {without_number(false)})}), 1u);
  EXPECT_EQ(worst_of({result(kHolds, {without_number(true)}), result(kHolds, {row(7)})}), 1u);
  EXPECT_EQ(worst_of({result(kHolds, {row(0.1)}), result(kHolds, {row(0.1)})}), 0u) << "of equals the first";
}

TEST(WorstOf, NothingHasNoWorst) {
  EXPECT_THROW(worst_of({}), Error);
}

// Against the least of (verdict turned round, margin, place) in the order of tuples.
TEST(WorstOf, IsTheFirstInOrderOfAnyResults) {
  std::mt19937 random(7);
  for (int run = 0; run < 500; ++run) {
    std::vector<CheckResult> results;
    std::vector<std::tuple<int, double, std::size_t>> order;
    const std::size_t count = 1 + random() % 12;
    for (std::size_t i = 0; i < count; ++i) {
      const Verdict verdict = std::array{kHolds, kShort, kContact}[random() % 3];
      std::vector<AskedRow> rows;
      double least = INFINITY;
      for (std::size_t j = 0; j < 1 + random() % 4; ++j) {
        rows.push_back(row(static_cast<int>(random() % 9) - 4));
        least = std::min(least, rows.back().margin);
      }
      results.push_back(result(verdict, rows));
      order.emplace_back(verdict == kContact ? 0 : verdict == kShort ? 1 : 2, least, i);
    }
    EXPECT_EQ(worst_of(results), std::get<2>(*std::min_element(order.begin(), order.end())));
  }
}

// The deck clearance tells the parts only how far down the block is drawn: to the last byte nothing is read off there.
TEST(SameParts, AnotherDeckClearanceGivesTheSameCheckAsPartsOfItsOwn) {
  const EngineFile file = read_engine(EYEBROW_MODELS "/two_valve_wedge.toml");
  const Parts parts = build_parts(file.engine, file.origins);
  for (const double deck : {-0.4, 0.9}) {
    Engine other = file.engine;
    other.cylinder.deck_clearance += deck;
    ASSERT_TRUE(same_parts(file.engine, other));
    const CheckOptions options = stepping(10 * kDegree);
    EXPECT_EQ(check_json(run_check(other, parts, options)),
              check_json(run_check(other, build_parts(other, file.origins), options)))
        << deck;
  }
}

}  // namespace
}  // namespace eyebrow::study
