// [head] chamber_volume.
#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

std::string wedge_with_chamber(const std::string& volume) {
  return wedge_with("[head]", "[head]\nchamber_volume = " + volume);
}

TEST(Chamber, HasItsVolumeInAnyUnit) {
  for (const char* volume : {"\"64.5 cm3\"", "\"64.5 cc\"", "\"64500 mm3\"", "\"64.5 ml\""}) {
    const Engine engine = parsed(wedge_with_chamber(volume)).engine;
    ASSERT_TRUE(engine.head.chamber_volume) << volume;
    EXPECT_DOUBLE_EQ(*engine.head.chamber_volume, 64500) << volume;
  }
  EXPECT_DOUBLE_EQ(*parsed(wedge_with_chamber("\"4 in3\"")).engine.head.chamber_volume, 4 * 25.4 * 25.4 * 25.4);
  EXPECT_FALSE(parsed(wedge()).engine.head.chamber_volume);
}

TEST(Chamber, RefusesWhatIsNoVolume) {
  expect_one_fault(wedge_with_chamber("64.5"), "64.5",
                   {"head.chamber_volume is 64.5 with no unit", "mm3, cm3, cc, in3"});
  expect_one_fault(wedge_with_chamber("\"64.5 mm\""), "\"64.5 mm\"", {"head.chamber_volume must be a volume"});
  expect_one_fault(wedge_with_chamber("\"0.01 cm3\""), "\"0.01 cm3\"", {"head.chamber_volume is 0.01 cm3; allowed is"});
}

}  // namespace
}  // namespace eyebrow::testing
