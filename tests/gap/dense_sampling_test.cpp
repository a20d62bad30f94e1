// The kernel against the dense sampling of dense_sampling.hpp, which shares no code with it: random geometries, few
// poses each. EYEBROW_DENSE_GEOMETRIES, EYEBROW_DENSE_CROWNS and EYEBROW_DENSE_SEED ask for a
// larger or another run, EYEBROW_DENSE_ONLY for one geometry of it.
#include "dense_sampling.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <map>

#include "random_crowns.hpp"

namespace eyebrow {
namespace {

using dense::Answer;
using dense::Place;
using random_parts::Dice;
using random_parts::Scene;

constexpr int kPoses = 12;
constexpr double kSpacing = 1.5;  ///< mm between samples
/// The kernel's own search tolerance (1e-4) and as much again for the reference's chords along slanting rays.
constexpr double kAgree = 2e-4;
constexpr double kBrink = 3 * dense::kSagitta;  ///< how far from the place that it gives the kernel may mean

long from_environment(const char* name, long otherwise) {
  const char* text = std::getenv(name);
  return text ? std::atol(text) : otherwise;
}

struct Tally {
  int poses = 0, overlapping = 0, jumps = 0, none = 0;
  double too_large = 0, missed = 0;  ///< worst, kernel against reference, jumps left out
  double widest = 0;                 ///< interval, jumps left out
};

/// Poses 0..11 of a scene: five anywhere, three 10^-k short of contact, two overlapping, two with the rim 10^-k off its
/// pocket's wall or in it (over a plain crown: anywhere).
Pose pose_of(Dice& dice, Scene& scene, const std::shared_ptr<const Target>& target, int index) {
  Pose pose{dice.between(-4, 0.5), dice.between(-3, 1)};
  if (index < 5) return pose;
  GapRequest request{true, false, true, false, false, scene.reach};
  const PoseGaps gaps = ValveToPiston(target, scene.profile, scene.place, scene.pocket).gaps(pose, request);
  if (index < 10) {
    const double off = index < 8 ? dice.decades(-7, -1) : -dice.decades(-5, 1);
    if (gaps.travel.measured()) pose.lift += gaps.travel.value - off;
  } else if (gaps.radial.measured() && std::fabs(gaps.radial.value) > 1e-9) {
    const double off = (dice.below(2) ? 1 : -1) * dice.decades(-7, -2);
    const Vec3 toward = (1 / gaps.radial.value) * (gaps.radial.on_other - gaps.radial.on_valve);
    scene.place.closed = scene.place.closed + (gaps.radial.value - off) * toward;
  }
  return pose;
}

class Differential {
 public:
  Differential(const Scene& scene, const dense::Sampling& reference, const Place& place, Tally* tallies,
               std::string where)
      : scene_(scene), reference_(reference), place_(place), tallies_(tallies), where_(std::move(where)) {}

  void closest(const Gap& gap) {
    const Answer answer = reference_.closest(place_);
    check(GapKind::closest, gap, answer, [&](Vec3 p) { return reference_.signed_distance(place_, p); });
    EXPECT_NE(gap.status, GapStatus::jump) << where_;
  }
  void travel(const Gap& gap) {
    const Answer answer = reference_.travel(place_);
    check(GapKind::travel, gap, answer, [&](Vec3 p) { return reference_.touch(place_, p, false); });
  }
  void face(const Gap& gap) {
    const Answer answer = reference_.face(place_);
    check(GapKind::face, gap, answer, [&](Vec3 p) { return ray_on(gap.other_face, p); });
  }
  void radial(const Gap& gap) {
    const Answer answer = reference_.radial(place_, scene_.reach);
    check(GapKind::radial, gap, answer, [&](Vec3 p) { return reference_.beside(place_, p, scene_.reach); });
  }

 private:
  /// The way from p along the normal of the triangle of `face` that p is nearest to.
  double ray_on(int face, Vec3 p) const {
    double nearest = dense::kNone, way = dense::kNone;
    for (std::size_t i = 0; i < scene_.crown.triangles.size(); ++i) {
      if (scene_.crown.triangles[i].face != face) continue;
      const double off = norm(p - reference_.onto(static_cast<int>(i), p));
      if (off > nearest + 1e-10) continue;
      const double own = reference_.ray(place_, p, static_cast<int>(i));
      way = off < nearest - 1e-10 ? own : std::min(way, own);
      nearest = std::min(off, nearest);
    }
    return way;
  }

  template <class Attained>
  void check(GapKind kind, const Gap& gap, const Answer& answer, const Attained& attained) {
    Tally& tally = tallies_[static_cast<int>(kind)];
    ++tally.poses;
    const std::string where = where_ + ", " + to_string(kind);
    if (!gap.measured()) {
      ++tally.none;
      EXPECT_FALSE(answer.met()) << where << ": null, but the reference finds " << answer.value;
      return;
    }
    EXPECT_LE(gap.low, gap.value + 1e-12) << where;
    EXPECT_LE(gap.value, gap.high + 1e-12) << where;
    if (answer.value < 0) ++tally.overlapping;
    // The sampling's values are attained, so none may lie below the interval; what it missed may lie above.
    EXPECT_LE(gap.low, answer.value + dense::kSagitta) << where << ": unsafe";
    if (gap.status == GapStatus::jump) {
      ++tally.jumps;
      return;
    }
    tally.widest = std::max(tally.widest, gap.high - gap.low);
    tally.too_large = std::max(tally.too_large, gap.value - answer.value);
    EXPECT_LE(gap.value, answer.value + kAgree) << where << ": too large";
    // The kernel's value is attained where it says, up to rounding at a sharp rim's brink.
    double miss = dense::kNone;
    for (const Vec3 d :
         {Vec3{}, Vec3{1, 0, 0}, Vec3{-1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, -1, 0}, Vec3{0, 0, 1}, Vec3{0, 0, -1}})
      miss = std::min(miss, std::fabs(attained(gap.on_other + kBrink * d) - gap.value));
    tally.missed = std::max(tally.missed, miss);
    EXPECT_LT(miss, kAgree) << where << ": " << gap.value << " not attained on "
                            << scene_.crown.faces[gap.other_face].name;
    EXPECT_LT(reference_.off_mesh(gap.on_other, gap.other_face), 1e-8) << where;
  }

  const Scene& scene_;
  const dense::Sampling& reference_;
  Place place_;
  Tally* tallies_;
  std::string where_;
};

/// Runs the poses of one scene after another and prints what came out, by kind of crown.
class Run {
 public:
  void scene(const Scene& scene, Dice& dice, const std::string& name) {
    const auto target = make_target(scene.crown);
    const dense::Sampling reference(scene.crown, scene.profile, scene.pocket, kSpacing);
    for (int i = 0; i < kPoses; ++i) {
      Scene here = scene;
      const Pose pose = pose_of(dice, here, target, i);
      const ValveToPiston pair(target, here.profile, here.place, here.pocket);
      GapRequest request;
      request.reach = here.reach;
      const PoseGaps gaps = pair.gaps(pose, request);
      Differential difference(here, reference, {pair.rim_centre(pose), here.place.up}, tallies_[here.kind].data(),
                              name + ", " + here.kind + ", " + here.valve + ", pose " + std::to_string(i));
      difference.closest(gaps.closest);
      difference.travel(gaps.travel);
      difference.face(gaps.face);
      difference.radial(gaps.radial);
    }
  }

  ~Run() {
    for (const auto& [kind, of] : tallies_)
      for (const GapKind gap : kGapKinds) {
        const Tally& t = of[static_cast<int>(gap)];
        std::printf(
            "%-10s %-8s %5d poses %4d overlapping %4d jumps %4d null; mm: too large %7.1e, off where it says "
            "%7.1e, widest interval %7.1e\n",
            kind.c_str(), to_string(gap), t.poses, t.overlapping, t.jumps, t.none, t.too_large, t.missed, t.widest);
      }
  }

 private:
  std::map<std::string, std::array<Tally, 4>> tallies_;
};

/// Geometries `from_environment` asks for; each has its own seed, so that one can be run alone.
template <class Make>
void run(long count, const Make& make) {
  const long seed = from_environment("EYEBROW_DENSE_SEED", 1), only = from_environment("EYEBROW_DENSE_ONLY", -1);
  Run run;
  for (long g = 0; g < count; ++g) {
    if (only >= 0 && g != only) continue;
    Dice dice(static_cast<unsigned long long>(seed * 1000003 + g));
    run.scene(make(dice, g), dice, "seed " + std::to_string(seed) + ", geometry " + std::to_string(g));
  }
}

TEST(DenseSampling, KernelAgreesOnCrownsMadeByHand) {
  run(from_environment("EYEBROW_DENSE_GEOMETRIES", 18),
      [](Dice& dice, long g) { return random_parts::scene(dice, g % 3, static_cast<int>(g / 3 % 6)); });
}

TEST(DenseSampling, KernelAgreesOnCrownsOfTheModeller) {
  int refused = 0;
  run(from_environment("EYEBROW_DENSE_CROWNS", 6), [&](Dice& dice, long g) {
    return random_parts::crown_scene(dice, static_cast<int>(g % 5), static_cast<int>(g % 6), 0.005, refused);
  });
  std::printf("%d draws were refused as no valid piston\n", refused);
}

}  // namespace
}  // namespace eyebrow
