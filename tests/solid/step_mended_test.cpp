// Crowns whose faces do not quite meet in the file: joined with the user's word, refused without.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Compound.hxx>
#include <gp_Trsf.hxx>

#include <random>

#include "eyebrow/gap.hpp"
#include "eyebrow/spec.hpp"
#include "solid/changed_text.hpp"
#include "solid/engines.hpp"
#include "solid/solids.hpp"
#include "solid/step_files.hpp"

namespace eyebrow {
namespace {

using test::step_text;
using test::upright;
using test::with_step;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

constexpr double kAsDrawn = 0.002;  // mm, between gaps of the two

/// The faces of a solid, loose, each moved by `apart` some way; `left_out`: that one is not there.
TopoDS_Shape apart(const TopoDS_Shape& solid, double apart, int left_out = -1) {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> any(-1, 1);
  TopoDS_Compound faces;
  BRep_Builder builder;
  builder.MakeCompound(faces);
  int number = 0;
  for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next(), ++number) {
    const Vec3 way = apart * unit(Vec3{any(random), any(random), any(random)});
    gp_Trsf shift;
    shift.SetTranslation(gp_Vec(way.x, way.y, way.z));
    if (number != left_out) builder.Add(faces, BRepBuilderAPI_Transform(each.Current(), shift, true).Shape());
  }
  return faces;
}

/// Its crown from `text`, of which faces so far apart may be joined.
Engine mended(const Engine& engine, const std::string& text, double within) {
  Engine from = with_step(engine, text);
  from.piston.step->mend = within;
  return from;
}

std::string refusal(const Engine& engine) {
  try {
    build_parts(engine, {}, test::kCoarse);
  } catch (const InputError& error) {
    EXPECT_EQ(error.faults().size(), 1u);
    return error.faults().front().message;
  }
  return "";
}

/// Over poses from far above the crown to deep in it: the interval of the mended crown's gap holds the whole crown's,
/// and what is told is no more. Returns how many were compared.
int expect_held(const Engine& one, const Parts& whole, const Engine& other, const Parts& mended) {
  int compared = 0;
  test::over_poses(one, whole, other, mended, [&](const PoseGaps& was, const PoseGaps& is) {
    for (const GapKind kind : kGapKinds) {
      SCOPED_TRACE(to_string(kind));
      const Gap &x = was[kind], &y = is[kind];
      if (!x.measured()) continue;
      EXPECT_TRUE(y.measured());
      if (x.status == GapStatus::jump) {
        EXPECT_LE(y.low, x.low);
        continue;
      }
      ++compared;
      EXPECT_LE(y.low, x.value);
      EXPECT_GE(y.high, x.value);
      if (mended.crown.by_mesh)
        EXPECT_EQ(y.value, y.low);
      else
        EXPECT_NEAR(y.value, x.value, kAsDrawn);
    }
  });
  return compared;
}

struct Drawn {
  const char* name;
  Engine (*make)();
};
const Drawn kDrawn[] = {{"wedge", [] { return test::wedge(); }}, {"upright", upright}};

TEST(StepMended, LooseFacesAreJoinedWithAWordOnly) {
  for (const Drawn& each : kDrawn) {
    SCOPED_TRACE(each.name);
    const Engine engine = each.make();
    const Parts whole = build_parts(engine, {});
    const std::string text = step_text({apart(whole.solids->crown.solid, 0)});
    EXPECT_THAT(refusal(with_step(engine, text)),
                AllOf(HasSubstr("holds surfaces and no solid"), HasSubstr("mend = \"0.001 mm\"")));
    const Engine again = mended(engine, text, 0.001);
    const Parts read = build_parts(again, {});
    ASSERT_FALSE(read.warnings.empty());
    EXPECT_THAT(read.warnings.front().message, HasSubstr("it was mended"));
    EXPECT_FALSE(read.crown.by_mesh) << "they meet as well as the faces of any solid";
    EXPECT_NEAR(read.crown.volume, whole.crown.volume, 1e-6 * whole.crown.volume);
    EXPECT_GT(expect_held(engine, whole, again, read), 50);
  }
}

/// Each face is so far from where it was drawn; what is told of the crown must hold the one that was drawn.
TEST(StepMended, TheIntervalHoldsTheCrownAsItWasDrawn) {
  for (const double off : {0.0005, 0.004}) {
    for (const Drawn& each : kDrawn) {
      SCOPED_TRACE(each.name + std::string(" ") + std::to_string(off));
      const Engine engine = each.make();
      const Parts whole = build_parts(engine, {});
      const std::string text = step_text({apart(whole.solids->crown.solid, off)});
      const Engine again = mended(engine, text, 0.01);
      const Parts read = build_parts(again, {});
      EXPECT_GE(read.crown.error, off);
      EXPECT_LE(read.crown.error, 0.04);  // the coarsest that is taken
      EXPECT_GT(expect_held(engine, whole, again, read), 50);
    }
  }
}

TEST(StepMended, WhatIsMissingOrTooFarApartIsNot) {
  const Engine engine = upright();
  const Parts whole = build_parts(engine, {}, test::kCoarse);
  const TopoDS_Shape crown = whole.solids->crown.solid;
  const std::string open = step_text({apart(crown, 0, 2)});
  EXPECT_THAT(refusal(with_step(engine, open)), AllOf(HasSubstr("not closed into one"), Not(HasSubstr("mend ="))));
  EXPECT_THAT(refusal(mended(engine, open, 0.01)), HasSubstr("joining faces up to 0.01 mm apart does not mend it"));
  const std::string far = step_text({apart(crown, 0.1)});
  EXPECT_THAT(refusal(mended(engine, far, 0.01)), HasSubstr("joining faces up to 0.01 mm apart does not mend it"));
  const std::string some = step_text({apart(crown, 0.002)});
  EXPECT_THAT(refusal(mended(engine, some, 0.0005)), AllOf(HasSubstr("does not mend it"), HasSubstr("mend = \"0.0")));
}

TEST(StepMended, ASoundSolidIsLeftAsItIs) {
  const Engine engine = upright();
  const Parts whole = build_parts(engine, {}, test::kCoarse);
  const Parts read = build_parts(mended(engine, step_text({whole.solids->crown.solid}), 0.01), {}, test::kCoarse);
  EXPECT_FALSE(read.crown.by_mesh);
  ASSERT_FALSE(read.warnings.empty());
  EXPECT_THAT(read.warnings.front().message, HasSubstr("nothing was mended"));
}

TEST(StepMended, NoChangeOfAFileEndsTheProgram) {
  const Engine engine = test::plain();
  const Parts whole = build_parts(engine, {}, test::kCoarse);
  expect_no_change_ends_the_program(step_text({apart(whole.solids->crown.solid, 0.002)}), 11,
                                    [&](const std::string& text) { return refusal(mended(engine, text, 0.01)); });
}

/// A solid whose shell lacks what closes it: the modeller makes a solid of it, which is not sound.
TEST(StepMended, AnUnsoundSolidIsRefused) {
  const Engine engine = upright();
  const Parts whole = build_parts(engine, {}, test::kCoarse);
  std::string text = step_text({whole.solids->crown.solid});
  const auto shell = text.find("CLOSED_SHELL"), first = text.find("(#", shell), comma = text.find(',', first);
  text.erase(first + 1, comma - first);
  EXPECT_THAT(refusal(mended(engine, text, 0.01)), HasSubstr("does not mend it"));
}

}  // namespace
}  // namespace eyebrow
