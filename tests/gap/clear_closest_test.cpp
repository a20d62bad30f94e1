// The closest gap from exact faces and edges against the search over the mesh, on crowns of every kind from the
// modeller. The two share no step but the valve's distance: one never sees a triangle, the other never a surface.
#include "gap/clear_closest.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <map>
#include <numeric>
#include <optional>

#include "gap/outline.hpp"
#include "gap/queries.hpp"
#include "random_crowns.hpp"

namespace eyebrow::gap {
namespace {

using namespace random_parts;

constexpr double kFine = 0.0005;

// Kinds of valve, the dished ones last: over the mesh they cost a hundred times as much, and a short run leaves them
// out.
constexpr int kKinds[] = {0, 1, 2, 4, 3, 5};

struct Tally {
  int poses = 0, overlapping = 0, left = 0;
  double over = 0, under = 0;
  std::map<std::string, int> on;
};

/// The valve of a scene ready for both ways.
struct Pair {
  explicit Pair(const Scene& scene)
      : target(scene.crown),
        distance(scene.profile),
        all(scene.crown.faces.size()),
        place(scene.place),
        profile(scene.profile) {
    std::iota(all.begin(), all.end(), 0);
    if (hollow_below(scene.profile)) filled.emplace(filled_outline(scene.profile));
    clear.emplace(target, scene.profile, scene.place.up, all);
  }
  ValveShape shape() const { return {profile, distance, filled ? *filled : distance}; }
  Target target;
  ProfileDistance distance;
  std::optional<ProfileDistance> filled;
  std::vector<int> all;
  ValvePlace place;
  Profile profile;
  std::optional<ClearClosest> clear;
};

/// From just touching to well clear, with the valve moved aside along its pocket too, so that every part comes nearest.
void compare(const Pair& pair, Dice& dice, int poses, Tally& tally) {
  const Crown& crown = pair.target.crown();
  for (int i = 0; i < poses; ++i) {
    const Vec3 start = pair.place.closed - Vec3{0, 0, dice.between(-3, 6)};
    const Found travel_down = travel(pair.target, pair.all, ValveFrame(start, pair.place.up), pair.shape());
    if (travel_down.triangle < 0) continue;
    const double room = i % 8 == 0 ? -dice.between(0, 0.5) : dice.decades(-4, 0.6);
    const Vec3 centre = start - (travel_down.value - room) * pair.place.up;
    const Found mesh = closest(pair.target, pair.all, ValveFrame(centre, pair.place.up), pair.shape());
    const std::optional<Found> exact = pair.clear->find(centre, pair.shape());
    ++tally.poses;
    if (mesh.value <= 0) {
      ++tally.overlapping;
      EXPECT_TRUE(!exact || exact->value < kFine)
          << "an overlap of " << mesh.value << " with " << crown.faces[crown.triangles[mesh.triangle].face].name
          << " was not seen, pose " << i;
      continue;
    }
    if (!exact) {
      ++tally.left;
      continue;
    }
    const int face = exact->face >= 0 ? exact->face : crown.triangles[exact->triangle].face;
    ++tally.on[to_string(crown.faces[face].group)];
    const Vec3 foot = ValveFrame(centre, pair.place.up).out(exact->point);
    if (exact->face >= 0 && crown.faces[face].kind != Surface::free_form) {
      EXPECT_LT(std::fabs(off_surface(crown.faces[face], foot)), kArcOff) << crown.faces[face].name;
    }
    const double off = exact->value - mesh.value;
    tally.over = std::max(tally.over, off);
    tally.under = std::min(tally.under, off);
    EXPECT_LT(std::fabs(off), kFine + kSearch)
        << "exact " << exact->value << " (" << crown.faces[face].name << "), mesh " << mesh.value << " ("
        << crown.faces[crown.triangles[mesh.triangle].face].name << "), pose " << i;
  }
}

TEST(ClearClosest, AgreesWithTheMeshOnEveryKindOfCrown) {
  const char* more = std::getenv("EYEBROW_GEOMETRIES");
  const int geometries = more ? std::atoi(more) : 10, poses = 12;
  Dice dice(20261125);
  std::map<std::string, Tally> tallies;
  int refused = 0;
  for (int i = 0; i < geometries; ++i) {
    const Scene scene = crown_scene(dice, i % 5, kKinds[(i / 5) % std::size(kKinds)], kFine, refused, false);
    SCOPED_TRACE("geometry " + std::to_string(i) + ", " + scene.kind + ", " + scene.valve);
    compare(Pair(scene), dice, poses, tallies[scene.kind + ", " + scene.valve]);
  }
  for (const auto& [kind, tally] : tallies) {
    std::printf("%-28s %4d poses, %3d overlapping, %3d left to the mesh, exact - mesh %+.6f ... %+.6f;", kind.c_str(),
                tally.poses, tally.overlapping, tally.left, tally.under, tally.over);
    for (const auto& [face, count] : tally.on) std::printf(" %s %d", face.c_str(), count);
    std::printf("\n");
  }
}

// A distance changes by no more than the parts move. Small steps along straight ways, so that the foot goes from face
// to edge to face.
TEST(ClearClosest, MovesNoFurtherThanTheParts) {
  Dice dice(20261126);
  int refused = 0, steps = 0;
  double steepest = 0;
  for (int top = 0; top < 5; ++top) {
    const Scene scene = crown_scene(dice, top, top % 3, kFine, refused, false);
    SCOPED_TRACE(scene.kind + ", " + scene.valve);
    const Pair pair(scene);
    for (int way = 0; way < 40; ++way) {
      Vec3 centre = scene.place.closed + Vec3{0, 0, dice.between(1, 9)};
      const Vec3 step = dice.decades(-3, -0.5) * dice.direction();
      std::optional<Found> before;
      for (int i = 0; i < 100; ++i, centre = centre + step) {
        const std::optional<Found> now = pair.clear->find(centre, pair.shape());
        if (now && before) {
          const double change = std::fabs(now->value - before->value);
          EXPECT_LE(change, norm(step) + kSearch) << "way " << way << ", step " << i;
          steepest = std::max(steepest, change / norm(step));
          ++steps;
        }
        before = now;
      }
    }
  }
  EXPECT_GT(steps, 10000);
  EXPECT_GT(steepest, 0.9) << "a distance that hardly changes says nothing here";
}

}  // namespace
}  // namespace eyebrow::gap
