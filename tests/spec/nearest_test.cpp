#include "spec/nearest.hpp"

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

// Memory: the textbook examples of edit distance (kitten / sitting 3, Saturday / Sunday 3); a swap counts one.
TEST(Nearest, EditDistanceOfTheTextbooks) {
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3);
  EXPECT_EQ(edit_distance("saturday", "sunday"), 3);
  EXPECT_EQ(edit_distance("bore", "boer"), 1);
  EXPECT_EQ(edit_distance("", "abc"), 3);
  EXPECT_EQ(edit_distance("abc", "abc"), 0);
}

TEST(Nearest, CaseAndDashesDoNotCount) {
  EXPECT_EQ(edit_distance("Rod-Length", "rod_length"), 0);
  EXPECT_EQ(edit_distance("rod length", "rod_length"), 0);
}

TEST(Nearest, OffersWhatIsNearAndListsOtherwise) {
  const std::vector<std::string> keys = {"bore", "stroke", "rod_length"};
  EXPECT_EQ(nearest("bor", keys), "bore");
  EXPECT_EQ(nearest("strok", keys), "stroke");
  EXPECT_EQ(nearest("rodlength", keys), "rod_length");
  EXPECT_EQ(nearest("gasket", keys), "");
  EXPECT_EQ(did_you_mean("bor", keys), ": did you mean \"bore\"?");
  EXPECT_EQ(did_you_mean("gasket", keys), ": allowed are bore, stroke, rod_length");
  EXPECT_EQ(did_you_mean("gasket", {"x"}), ": allowed is x");
  EXPECT_EQ(did_you_mean("gasket", {}), "");
}

TEST(Nearest, TwoLettersAreNotNearEverything) {
  EXPECT_EQ(nearest("zz", {"x", "y", "ab"}), "");
}

TEST(Nearest, AVeryLongWordIsNotCompared) {
  EXPECT_EQ(nearest(std::string(1000000, 'a'), {"bore"}), "");
}

}  // namespace
}  // namespace eyebrow::testing
