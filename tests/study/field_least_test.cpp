// Least gaps from fields against separate checks of the same engines, and the fields against the kernel at poses that
// the engines pass.
#include "study/field_least.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <random>

#include "study/disc_engine.hpp"
#include "study/model.hpp"
#include "study/piston_gap.hpp"
#include "study/place.hpp"

namespace eyebrow::study {
namespace {

/// Every number that moves the parts and leaves the solids as they are, each by up to `size` of a plausible range.
Engine moved(const Engine& from, std::mt19937& random, double size) {
  std::uniform_real_distribution<double> unit(-size, size);
  Engine engine = from;
  engine.gasket.thickness += 0.4 * unit(random);
  engine.cylinder.deck_clearance += 0.3 * unit(random);
  engine.cylinder.stroke += 0.3 * unit(random);
  engine.cylinder.rod_length += 0.5 * unit(random);
  engine.cylinder.pin_offset += 0.3 * unit(random);
  engine.head.milled += 0.2 * (size + unit(random));
  engine.running_lash = unit(random) > 0;
  for (Cam& cam : engine.cams) cam.advance += 8 * kDegree * unit(random);
  for (Lobe& lobe : engine.lobes) lobe.centre += 3 * kDegree * unit(random);
  for (Valve& valve : engine.valves) {
    valve.lash += 0.1 * unit(random);
    valve.rocker_ratio *= 1 + 0.03 * unit(random);
    valve.sunk += 0.1 * (size + unit(random));
  }
  return engine;
}

/// What a check of that engine tells: at a jump the lower value.
Minimum checked(const Setup& setup, int valve, GapKind kind) {
  const PistonGap gap(setup, valve, kind);
  return piston_minimum(setup, valve, kind, least_over_cycle(gap.over_cycle()));
}

class LeastByField : public testing::TestWithParam<const char*> {};

TEST_P(LeastByField, EqualsASeparateCheckOfThatEngine) {
  const Model of(GetParam());
  std::mt19937 random(20250301);
  std::vector<Engine> engines;
  std::vector<Course> courses;
  for (int i = 0; i < 160; ++i) {
    engines.push_back(moved(of.file.engine, random, 1));
    courses.emplace_back(of.setup, engines.back());
  }
  const int last = static_cast<int>(of.setup.valves.size()) - 1;
  int smooth = 0, jumps = 0;
  double worst = 0;
  for (const int valve : {0, last}) {
    const FieldLeast fields(of.setup, valve, courses);
    for (std::size_t i = 0; i < engines.size(); i += 12) {
      const study::Setup other(of.setup, engines[i]);
      const auto screened = fields.screened(courses[i]);
      for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
        EXPECT_TRUE(screened[k].known) << i;
        const Least least = fields.least(courses[i], engines[i], screened[k], kGapKinds[k]);
        const Minimum minimum = checked(other, valve, kGapKinds[k]);
        ASSERT_EQ(least.found, minimum.gap.measured()) << to_string(kGapKinds[k]) << " of engine " << i;
        if (!least.found) continue;
        (minimum.gap.status == GapStatus::jump ? jumps : smooth) += 1;
        EXPECT_NEAR(least.value, minimum.gap.value, 3 * kMicrometre)
            << to_string(kGapKinds[k]) << " of valve " << valve << ", engine " << i << ", at " << least.crank / kDegree
            << " and " << minimum.crank / kDegree;
        EXPECT_GE(least.value, minimum.gap.low - 1e-4) << "nothing is below what was proven";
        worst = std::max(worst, std::fabs(least.value - minimum.gap.value));
      }
    }
  }
  std::printf("%s: %d smooth, %d at a jump, worst %.1e mm\n", GetParam(), smooth, jumps, worst);
  EXPECT_GT(smooth, 100);
}

TEST_P(LeastByField, FieldsBoundTheKernel) {
  const Model of(GetParam());
  std::mt19937 random(7);
  std::uniform_real_distribution<double> unit(0, 1);
  const ValveToPiston& query = of.setup.valves[0].to_piston;
  const double reach = of.setup.valves[0].asked.reach;
  // Where the parts are within 20 degrees of overlap TDC, some tenths of a millimetre around.
  std::vector<SlideBox> region;
  for (int degree = -20; degree < 20; ++degree) {
    SlideBox box = Course(of.setup).box(0, degree * kDegree, (degree + 1) * kDegree);
    box.along_low -= 0.3;
    box.along_high += 0.3;
    region.push_back(box);
  }
  const auto any_pose = [&] {
    const SlideBox& box = region[random() % region.size()];
    const double sine = slide_of(query.place(), {1, 0}).aside, cosine = query.place().up.z;
    const double along = box.along_low + unit(random) * (box.along_high - box.along_low);
    const double aside = box.aside_low + unit(random) * (box.aside_high - box.aside_low);
    const double height = sine > 0 ? aside / sine : -5;
    return Pose{height, along - cosine * height};
  };
  FieldAccuracy accuracy;
  accuracy.upto = 8;
  const ContactLift lift(query, region);
  for (const GapKind kind : kGapKinds) {
    std::optional<GapField> field;
    if (kind != GapKind::travel) field.emplace(query, kind, reach, region, accuracy);
    int smooth = 0, above = 0;
    double worst = 0;
    for (int i = 0; i < 1500; ++i) {
      const Pose pose = any_pose();
      const FieldGap at = field ? field->at(pose) : lift.travel(pose);
      if (at.status == FieldStatus::outside) continue;  // rounding of the region's border
      GapRequest request = request_for(kind, reach, false);
      const Gap gap = query.gaps(pose, request)[kind];
      const Gap least = query.least_within(pose, request, kPoseBall)[kind];
      if (least.measured()) {
        EXPECT_LE(at.low, least.low + 1e-4 + 2 * of.parts.crown.error) << to_string(kind);
      }
      if (at.status == FieldStatus::none) {
        EXPECT_FALSE(gap.measured()) << to_string(kind);
      }
      if (at.status != FieldStatus::smooth || !gap.measured() || gap.value > accuracy.upto || gap.value < 0) continue;
      ++smooth;
      above += at.value > gap.value + 0.6 * kMicrometre;
      worst = std::max(worst, std::fabs(at.value - gap.value));
    }
    std::printf("%s %s: %d smooth, worst %.1e mm, %d more than 0.6 um too large\n", GetParam(), to_string(kind), smooth,
                worst, above);
    EXPECT_GT(smooth, 300) << to_string(kind);
    EXPECT_LE(worst, 5 * kMicrometre) << to_string(kind);
    EXPECT_LE(above, smooth / 200) << "the tolerance is tried in the middle of every cell";
  }
}

INSTANTIATE_TEST_SUITE_P(Models, LeastByField,
                         testing::Values("two_valve_wedge", "four_valve_pent_roof", "canted_valve"),
                         [](const auto& of) { return std::string(of.param); });

// Closed form: a level disc over a flat crown, travel = face = closest = the height between them.
TEST(FieldLeast, OverAFlatCrownIsTheLeastHeight) {
  const Engine engine = disc_engine();
  const Parts parts = disc_parts(engine);
  const study::Setup setup(engine, parts);
  std::vector<Engine> engines;
  std::vector<Course> courses;
  for (int i = -10; i <= 10; ++i) {
    engines.push_back(engine);
    for (Cam& cam : engines.back().cams) cam.advance += i * kDegree;
    courses.emplace_back(setup, engines.back());
  }
  const FieldLeast fields(setup, 0, courses);
  for (std::size_t i = 0; i < engines.size(); ++i) {
    double exact = INFINITY;
    for (double crank = -40; crank <= 40; crank += 0.002) {
      const Pose at = courses[i].pose(0, crank * kDegree);
      exact = std::min(exact, engine.valves[0].rim_height - at.height - at.lift);
    }
    const auto screened = fields.screened(courses[i]);
    for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
      const Least least = fields.least(courses[i], engines[i], screened[k], kGapKinds[k]);
      if (kGapKinds[k] == GapKind::radial) {
        EXPECT_FALSE(least.found);
        continue;
      }
      ASSERT_TRUE(least.found);
      EXPECT_NEAR(least.value, exact, 0.2 * kMicrometre) << to_string(kGapKinds[k]);
      EXPECT_NEAR(screened[k].value(), exact, kMicrometre);
    }
  }
}

TEST(FieldLeast, OutsideItsRegionTheProvenSearchAnswers) {
  const Engine engine = disc_engine();
  const Parts parts = disc_parts(engine);
  const study::Setup setup(engine, parts);
  const std::vector<Course> here{Course(setup)};
  const FieldLeast fields(setup, 0, here);
  Engine far = engine;
  far.gasket.thickness += 0.5;
  const Course course(setup, far);
  const auto screened = fields.screened(course);
  EXPECT_FALSE(screened[0].known);
  const Least least = fields.least(course, far, screened[0], GapKind::travel);
  const study::Setup other(setup, far);
  EXPECT_EQ(least.value, least_over_cycle(PistonGap(other, 0, GapKind::travel).over_cycle()).value);
  EXPECT_FALSE(std::isnan(least.proven));
}

TEST(Course, IsRefusedWhereAValveStandsElsewhere) {
  const Engine engine = disc_engine();
  const Parts parts = disc_parts(engine);
  const study::Setup setup(engine, parts);
  Engine other = engine;
  other.valves[1].x += 0.1;
  EXPECT_THROW(Course(setup, other), Error);
  other = engine;
  other.valves[1].sunk += 0.1;
  other.head.milled += 0.2;
  const Pose from = Course(setup).pose(1, 0.3), to = Course(setup, other).pose(1, 0.3);
  EXPECT_NEAR(to.height - from.height, 0.2, 1e-12);
  EXPECT_NEAR(to.lift - from.lift, -0.1, 1e-12);
}

}  // namespace
}  // namespace eyebrow::study
