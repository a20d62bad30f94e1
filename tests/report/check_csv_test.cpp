// The series as comma-separated values.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "eyebrow/report.hpp"
#include "report/sample.hpp"

namespace eyebrow {
namespace {

using testing::sample_result;

std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out{""};
  for (const char c : line)
    if (c == ',')
      out.emplace_back();
    else
      out.back() += c;
  return out;
}

TEST(CheckCsv, Golden) {
  EXPECT_EQ(check_csv(sample_result(), {LengthUnit::inch, -1}),
            "valve,crank_deg,lift_in,piston_depth_in,travel_in,face_in,radial_in,closest_in,entry_in,"
            "travel_from_seat_in,greatest_lift_in\n"
            "intake,-1,0.150,0.000,0.130,0.121,,0.066,-0.003,0.280,0.200\n"
            "intake,0,0.155,0.000,0.128,0.119,0.070,0.065,0.000,0.283,0.203\n"
            "intake,1,0.160,0.000,0.126,0.117,0.069,0.064,0.003,0.286,\n");
}

TEST(CheckCsv, ReadsBackWithinItsDecimals) {
  const CheckResult result = sample_result();
  const Series& series = result.valves[0].series;
  std::istringstream text(check_csv(result, {LengthUnit::mm, 5}));
  std::string line;
  ASSERT_TRUE(std::getline(text, line));
  EXPECT_EQ(cells(line).at(2), "lift_mm");
  const std::vector<const std::vector<double>*> columns = {&series.lift,  &series.piston_depth, &series.travel,
                                                           &series.face,  &series.radial,       &series.closest,
                                                           &series.entry, &series.drop_travel,  &series.greatest_lift};
  for (std::size_t row = 0; row < series.crank.size(); ++row) {
    ASSERT_TRUE(std::getline(text, line));
    const std::vector<std::string> read = cells(line);
    ASSERT_EQ(read.size(), 11u) << line;
    EXPECT_NEAR(std::stod(read[1]) * kDegree, series.crank[row], 1e-12);
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const double exact = (*columns[i])[row];
      if (std::isnan(exact))
        EXPECT_EQ(read[i + 2], "");
      else
        EXPECT_NEAR(std::stod(read[i + 2]), exact, 1e-5);
    }
  }
  EXPECT_FALSE(std::getline(text, line));
}

TEST(CheckCsv, LeavesCellsEmptyWhereNoDropTableWasMade) {
  CheckResult result = sample_result();
  result.valves[0].series.drop_travel.clear();
  result.valves[0].series.greatest_lift.clear();
  EXPECT_THAT(check_csv(result, {LengthUnit::inch, -1}), ::testing::HasSubstr("0.064,0.003,,\n"));
}

// RFC 4180, section 2, rules 6 and 7.
TEST(CheckCsv, QuotesNames) {
  CheckResult result = sample_result();
  result.valves[0].name = "the \"long\", front";
  EXPECT_THAT(check_csv(result, {LengthUnit::inch, -1}), ::testing::HasSubstr("\n\"the \"\"long\"\", front\",-1,"));
}

}  // namespace
}  // namespace eyebrow
