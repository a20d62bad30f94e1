// What the tests of wrong input share.
#pragma once
#include <gmock/gmock.h>

#include "cli/program.hpp"

namespace eyebrow::testing {

class InputFault : public ProgramTest {
 protected:
  const std::string model_ = read_file(model("two_valve_wedge"));

  /// Checks the faults of one run and gives them, one a line.
  std::vector<std::string> faults(const Outcome& outcome) const {
    EXPECT_EQ(outcome.status, 3);
    EXPECT_THAT(outcome.out, ::testing::IsEmpty());
    EXPECT_THAT(names(), ::testing::Not(::testing::Contains("out.json")));
    const std::vector<std::string> lines = lines_of(outcome.err);
    EXPECT_FALSE(lines.empty());
    return lines;
  }
};

}  // namespace eyebrow::testing
