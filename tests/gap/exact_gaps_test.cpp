// Travel, face, radial and overlap from exact faces and edges against the searches over the mesh, on crowns of every
// kind from the modeller. One never sees a triangle, the other never a surface.
#include "gap/exact_gaps.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <map>
#include <numeric>
#include <string>
#include <tuple>

#include "gap/outline.hpp"
#include "random_crowns.hpp"

namespace eyebrow::gap {
namespace {

using namespace random_parts;

constexpr double kFine = 0.0005;
/// Kinds of valve, the dished ones last: over the mesh they cost a hundred times as much.
constexpr int kKinds[] = {0, 1, 2, 4, 3, 5};

/// One outline with what the mesh searches need.
struct Outline {
  Profile profile;
  ProfileDistance distance;
  std::optional<ProfileDistance> filled;
  explicit Outline(const Profile& of, double grow) : profile(offset_outline(of, grow)), distance(profile) {
    if (hollow_below(profile)) filled.emplace(filled_outline(profile));
  }
  ValveShape view() const { return {profile, distance, filled ? *filled : distance}; }
};

struct Pair {
  explicit Pair(const Scene& scene)
      : target(scene.crown), outline(scene.profile, 0), valve(scene.profile), up(scene.place.up) {
    all.resize(scene.crown.faces.size());
    std::iota(all.begin(), all.end(), 0);
    for (int i : all) {
      const Face& face = scene.crown.faces[static_cast<std::size_t>(i)];
      const bool own = face.pocket == scene.pocket && scene.pocket >= 0;
      if (face.group == Group::flat || face.group == Group::dish_floor || face.group == Group::dome ||
          face.group == Group::floor)
        feet.push_back(i);
      if (own && (face.group == Group::wall || face.group == Group::corner || face.group == Group::mouth))
        sides.push_back(i);
    }
    exact.emplace(target, up, all, feet, sides);
  }
  ValveShape shape() const { return outline.view(); }
  const char* face_of(const Found& f) const {
    const int face = f.face >= 0 ? f.face : f.triangle >= 0 ? target.crown().triangles[f.triangle].face : -1;
    return face < 0 ? "nothing" : target.crown().faces[static_cast<std::size_t>(face)].name.c_str();
  }
  Target target;
  Outline outline;
  ConvexValve valve;
  Vec3 up;
  std::vector<int> all, feet, sides;
  std::optional<ExactGaps> exact;
};

struct Tally {
  int asked = 0, left = 0, none = 0, jumps = 0;
};
using Tallies = std::array<Tally, 5>;
const char* const kNames[] = {"travel", "face", "radial", "overlap", "clear"};

/// The mesh is off the faces by kFine at most: the exact answer lies between the mesh's for a valve that is twice as
/// much larger and smaller, give or take the same again for the foot.
class Comparison {
 public:
  Comparison(const Pair& pair, double reach, Tallies& tallies)
      : pair_(pair),
        reach_(reach),
        tallies_(tallies),
        near_(pair.outline.profile, 2 * kFine),
        far_(pair.outline.profile, -2 * kFine) {}

  void pose(Vec3 centre) {
    const ValveFrame frame(centre, pair_.up);
    const auto& [target, all] = std::tie(pair_.target, pair_.all);
    check(0, pair_.exact->travel(centre, pair_.valve, pair_.shape(), pair_.shape()), centre,
          [&](const ValveShape& s) { return travel(target, all, frame, s); });
    face(centre);
    check(2, pair_.exact->radial(centre, pair_.shape(), pair_.shape(), reach_), centre,
          [&](const ValveShape& s) { return radial(target, pair_.sides, frame, s, reach_); });
    overlap(centre);
  }

  void face(Vec3 centre) {
    check(1, pair_.exact->face(centre, pair_.valve, pair_.shape(), pair_.shape()), centre, [&](const ValveShape& s) {
      return face_gap(pair_.target, pair_.feet, pair_.all, ValveFrame(centre, pair_.up), s);
    });
  }

  void overlap(Vec3 centre) {
    const ValveFrame frame(centre, pair_.up);
    const auto& [target, all] = std::tie(pair_.target, pair_.all);
    const Found whole = closest(target, all, frame, pair_.shape());
    if (whole.value > -2 * kFine) return;
    check(3, pair_.exact->overlap(centre, pair_.valve, pair_.shape()), centre,
          [&](const ValveShape& s) { return closest(target, all, frame, s); });
  }

  void clear_of_dish(Vec3 centre) {
    const ValveFrame frame(centre, pair_.up);
    const Found whole = closest(pair_.target, pair_.all, frame, pair_.shape());
    if (whole.value < 4 * kFine) return;
    check(4, pair_.exact->clear_of_dish(centre, pair_.valve, pair_.shape()), centre,
          [&](const ValveShape& s) { return closest(pair_.target, pair_.all, frame, s); });
  }

 private:
  template <class Mesh>
  void check(std::size_t kind, const std::optional<Found>& exact, Vec3 centre, const Mesh& mesh) {
    Tally& tally = tallies_[kind];
    ++tally.asked;
    if (!exact) {
      ++tally.left;
      return;
    }
    const Found low = mesh(near_.view()), high = mesh(far_.view());
    const double least = low.triangle < 0 ? kInfinity : low.value, most = high.triangle < 0 ? kInfinity : high.value;
    const double value = exact->face < 0 && exact->triangle < 0 ? kInfinity : exact->value;
    if (value == kInfinity) ++tally.none;
    if (most - least > 0.02) ++tally.jumps;
    const double slack = 2 * kFine + kSearch;
    EXPECT_GE(value, least - slack) << kNames[kind] << ": exact on " << pair_.face_of(*exact) << ", mesh on "
                                    << pair_.face_of(low) << where(centre);
    EXPECT_LE(value, most + slack) << kNames[kind] << ": exact on " << pair_.face_of(*exact) << ", mesh on "
                                   << pair_.face_of(high) << where(centre);
  }
  std::string where(Vec3 c) const {
    char text[120];
    std::snprintf(text, sizeof text, ", centre %.17g %.17g %.17g", c.x, c.y, c.z);
    return text;
  }

  const Pair& pair_;
  double reach_;
  Tallies& tallies_;
  Outline near_, far_;
};

/// From well clear to deep in the crown, many just touching.
void compare(const Scene& scene, Dice& dice, int poses, Tallies& tallies) {
  const Pair pair(scene);
  Comparison comparison(pair, scene.reach, tallies);
  for (int i = 0; i < poses; ++i) {
    const Vec3 start = scene.place.closed - Vec3{0, 0, dice.between(-3, 6)};
    const Found down = travel(pair.target, pair.all, ValveFrame(start, pair.up), pair.shape());
    if (down.triangle < 0) continue;
    const double room = i % 3 == 0 ? -dice.decades(-3, 0.6) : dice.decades(-4, 0.6);
    comparison.pose(start - (down.value - room) * pair.up);
  }
}

TEST(ExactGaps, AgreeWithTheMeshOnEveryKindOfCrown) {
  const char* more = std::getenv("EYEBROW_GEOMETRIES");
  const char* only = std::getenv("EYEBROW_ONLY");
  const int geometries = more ? std::atoi(more) : 12, poses = 6;
  std::map<std::string, Tallies> tallies;
  for (int i = 0; i < geometries; ++i) {
    if (only && std::atoi(only) != i) continue;
    Dice dice(static_cast<unsigned long long>(20261127 + i));
    int refused = 0;
    const Scene scene = crown_scene(dice, i % 5, kKinds[i % 6], kFine, refused, false);
    SCOPED_TRACE("geometry " + std::to_string(i) + ", " + scene.kind + ", " + scene.valve);
    compare(scene, dice, poses, tallies[scene.kind]);
  }
  for (const auto& [kind, of] : tallies)
    for (std::size_t k = 0; k < of.size(); ++k)
      std::printf("%-12s %-8s %4d poses, %3d left to the mesh, %3d jumps, %3d none\n", kind.c_str(), kNames[k],
                  of[k].asked, of[k].left, of[k].jumps, of[k].none);
}

// A dish lessens the depth and lengthens the ways to it: neither is a convex function of the place any more.
TEST(ExactGaps, DishesAgreeWithTheMesh) {
  const char* more = std::getenv("EYEBROW_GEOMETRIES");
  const int geometries = more ? std::atoi(more) : 5, poses = 5;
  Tallies tallies;
  for (int i = 0; i < geometries; ++i) {
    Dice dice(static_cast<unsigned long long>(20261190 + i));
    int refused = 0;
    const Scene scene = crown_scene(dice, i % 5, i % 2 ? 5 : 3, kFine, refused, false);
    SCOPED_TRACE("geometry " + std::to_string(i) + ", " + scene.kind + ", " + scene.valve);
    const Pair pair(scene);
    Comparison comparison(pair, scene.reach, tallies);
    for (int k = 0; k < poses; ++k) {
      const Vec3 start = scene.place.closed - Vec3{0, 0, dice.between(-3, 6)};
      const Found down = travel(pair.target, pair.all, ValveFrame(start, pair.up), pair.shape());
      if (down.triangle < 0) continue;
      comparison.overlap(start - (down.value + dice.decades(-2, 0.5)) * pair.up);
      comparison.face(start - (down.value - dice.decades(-2, 1)) * pair.up);
      comparison.clear_of_dish(start - (down.value - dice.decades(-2, 0.5)) * pair.up);
    }
  }
  for (const std::size_t k : {1, 3, 4})
    std::printf("dished       %-8s %4d poses, %3d left to the mesh, %3d jumps\n", kNames[k], tallies[k].asked,
                tallies[k].left, tallies[k].jumps);
  EXPECT_GT(tallies[3].asked, 4 * geometries);
  EXPECT_LT(tallies[3].left, tallies[3].asked / 10);
  EXPECT_GT(tallies[1].asked, 4 * geometries);
  EXPECT_LT(tallies[1].left, tallies[1].asked / 2);
  EXPECT_GT(tallies[4].asked, 4 * geometries);
  EXPECT_EQ(tallies[4].left, 0);
}

}  // namespace
}  // namespace eyebrow::gap
