// The kernel, by its public interface, against the reference on exact faces (exact_reference.hpp) over random crowns of
// the modeller, many valves over each, at aimed poses (aimed_poses.hpp) whose quotas are enforced.
//
// EYEBROW_DIFFERENTIAL_CROWNS, _VALVES (of each crown), _POSES (of each valve) and _SEED ask for another run, _ONLY for
// one crown of it; by hand 500 20 100 gives 10,000 geometries of 100 poses each.
#include <gtest/gtest.h>

#include <cstdlib>
#include <numeric>

#include "differential_tally.hpp"
#include "gap/tolerances.hpp"
#include "random_crowns.hpp"

namespace eyebrow::differential {
namespace {

using aimed::Aims;
using exact::Answer;
using exact::Faces;
using exact::Reference;
using random_parts::Dice;
using random_parts::Scene;

/// Of the mesh: coarser than build_parts has it, as a mesh costs more than the poses. What the kernel takes from exact
/// faces does not depend on it.
constexpr double kDeflection = 0.002;
constexpr double kSpacing = 1.6;  // mm between samples
/// Where the two differ these decide. Two valleys of one face can lie nearer than the first tells apart.
constexpr double kFineSpacing = 0.2;
constexpr double kMicron = 1e-3;

/// Greatest width of an interval that is no jump, mm: the ball of 0.5 um to either side, and what the kernel states of
/// itself beside it. What is wider is counted, and more of it than kWidened fails.
constexpr double kWidthClosestClear = 2 * (gap::kPoseBall + gap::kArcOff) + gap::kEdgeSearch + 1e-9,
                 kWidthClosestOverlapping = 2 * (gap::kPoseBall + gap::kArcOff) + gap::kSearch + 1e-9;
/// Travel and face go with the slope of the faces as well, so only what is no jump limits them.
constexpr double kWidthTravel = 0.02, kWidthFace = 0.02, kWidthRadial = 0.02;
constexpr double kWidened = 0.001;  // share of the poses
/// What is seen edge on within this, as a sine, may look at the rim or not: the kernel has a tolerance of its own.
constexpr double kEdgeOn = 2 * gap::kEdgeOn;

/// How far a value may be off the reference's, clear of the crown: search over the mesh of a face that only it knows.
constexpr double kOffClosest = kDeflection + 1e-4;

/// A foot that misses its face by up to gap::kBorder counts as on it: what that can change near contact is counted and
/// limited. 0 is what it is.
constexpr double kBorderSeen = 0.01, kAtBorder = 0;

constexpr int kTries = 40;  // of aiming one pose

long asked(const char* name, long otherwise) {
  const char* text = std::getenv(name);
  return text ? std::atol(text) : otherwise;
}

/// One valve over one crown.
struct Geometry {
  const std::shared_ptr<const Target>& target;
  const Faces& faces;
  const Scene& scene;
  const Reference& reference;
  const Aims& aims;
  const ValveToPiston& valve;
  double side_top;  // of the own pocket's sides, along the stem
};

enum class Aim { clear, near, contact, deep, graze };
/// Equal shares of a valve's poses.
constexpr Aim kAims[] = {Aim::clear, Aim::clear, Aim::near,  Aim::near, Aim::contact,
                         Aim::deep,  Aim::deep,  Aim::graze, Aim::graze};

/// Does a sample say that something is met earlier than aimed at?
bool spoiled(const Geometry& g, const exact::Place& place, double gap) {
  const double enough = gap - 0.2 * std::fabs(gap) - 1e-9;
  const Profile& v = g.scene.profile;
  for (const exact::Site& s : g.faces.sites()) {
    const Vec3 q = place.in(s.p);
    const double r = std::sqrt(q.x * q.x + q.y * q.y);
    if (std::max({r - v.rim_radius, v.lowest - q.z, q.z - v.top}) > enough) continue;
    if (g.reference.outline().signed_distance(r, q.z) < enough) return true;
  }
  return false;
}

Vec3 aimed_centre(Dice& dice, const Geometry& g, const std::vector<aimed::Spot>& places, Aim aim) {
  const Vec3 up = g.scene.place.up;
  Vec3 centre;
  aimed::Spot place = places.front();
  for (int t = 0; t < kTries; ++t) {
    if (t % (kTries / 4) == 0) place = places[static_cast<std::size_t>(dice.below(static_cast<int>(places.size())))];
    const exact::Site& site = g.aims.any(dice, place);
    double gap = dice.decades(-3, 0.7);
    if (aim == Aim::near) gap = dice.decades(-5, -0.5);
    if (aim == Aim::contact) gap = (dice.below(4) ? 1 : -1) * dice.decades(-9, -3.05);
    if (aim == Aim::deep) gap = -dice.decades(-4, -0.2);
    Vec3 n = g.aims.toward_void(dice, site);
    // A valve never comes to a wall but with its margin or rim.
    if (place == aimed::Spot::wall) n = unit(n - dot(n, up) * up);
    centre = aimed::centre_against(dice, g.scene.profile, up, site.p, n, gap);
    // Along a flat floor to where the pocket has room for the valve.
    if (place == aimed::Spot::floor && g.faces.face(site.face).kind == Surface::plane) {
      const Vec3 way = g.scene.place.closed + dice.between(0, 0.3) * dice.direction() - centre;
      centre = centre + way - dot(way, n) * n;
    }
    if (!spoiled(g, {centre, up}, gap)) return centre;
  }
  // What there is no room for is drawn back until it is clear.
  if (aim == Aim::clear || aim == Aim::near)
    for (int step = 0; step < kTries && spoiled(g, {centre, up}, 0); ++step) centre = centre + 0.5 * up;
  return centre;
}

/// The rim 10^-k from its pocket's wall sideways, or from entering the pocket now or by the end of its reach.
Vec3 grazing_centre(Dice& dice, const Geometry& g, int index) {
  const Vec3 up = g.scene.place.up;
  const double off = (dice.below(2) ? 1 : -1) * dice.decades(-8, -3.05);
  const double foot = g.reference.outline().rim_foot();
  const double along = g.side_top - foot + (index % 4 == 1 ? g.scene.reach : 0);
  Vec3 centre;
  for (int t = 0; t < kTries; ++t) {
    if (index % 2 == 0 && g.aims.has(aimed::Spot::wall)) {
      const exact::Site& site = g.aims.any(dice, aimed::Spot::wall);
      const Vec3 n = g.aims.toward_void(dice, site), level = unit(n - dot(n, up) * up);
      centre = aimed::centre_against(dice, g.scene.profile, up, site.p, level, off);
    } else {
      const Vec3 near = g.scene.place.closed + dice.between(0, 0.5) * dice.direction();
      centre = near + (along + off - dot(near, up)) * up;
    }
    if (!spoiled(g, {centre, up}, -1e-3)) break;
  }
  return centre;
}

class Differential {
 public:
  explicit Differential(Tally& tally) : tally_(tally) {}
  void at(std::string where) { where_ = std::move(where); }

  void pose(Dice& dice, const Geometry& g, int index, int poses) {
    Scene here = g.scene;
    std::vector<aimed::Spot> places;
    // A wall and a mouth are what a valve is nearest to anyway when it is aimed at something else.
    for (const aimed::Spot p : {aimed::Spot::floor, aimed::Spot::floor, aimed::Spot::floor, aimed::Spot::corner,
                                aimed::Spot::corner, aimed::Spot::ridge, aimed::Spot::ridge, aimed::Spot::ridge,
                                aimed::Spot::ridge, aimed::Spot::ridge, aimed::Spot::mouth, aimed::Spot::wall})
      if (g.aims.has(p)) places.push_back(p);
    if (places.empty()) return;
    const Aim aim = kAims[static_cast<std::size_t>(index) * std::size(kAims) / static_cast<std::size_t>(poses)];
    const Vec3 centre = aim == Aim::graze ? grazing_centre(dice, g, index) : aimed_centre(dice, g, places, aim);
    const Pose pose{dice.between(-30, 5), dice.between(0, 12)};
    here.place.closed = centre + pose.lift * here.place.up + Vec3{0, 0, pose.height};
    const ValveToPiston pair = g.valve.moved(here.place.closed);
    GapRequest request;
    request.reach = here.reach;
    request.travel = request.face = false;
    request.radial = index % 3 == 0;
    const PoseGaps gaps = pair.gaps(pose, request);
    const exact::Place place{pair.rim_centre(pose), here.place.up};
    ++tally_.poses;
    tally_.dished += !g.scene.profile.elements.front().bulges;
    const Answer nearest = closest(g, place, gaps.closest);
    const double sideways = request.radial ? radial(g, place, gaps.radial, here.reach)
                                           : g.reference.radial(place, here.reach, 0, nullptr, -1).value;
    if (nearest.value > kMicron && index % 5 == 0) {  // withdrawing is checked by its properties and on meshes
      request = {true, index % 10 == 0, false, false, true, here.reach};
      const PoseGaps more = pair.gaps(pose, request);
      compare(GapKind::travel, more.travel, g.reference.travel(place, seen(more.travel), more.travel.other_face),
              kWidthTravel);
      if (request.face) check_face(g, place, more.face);
    }
    count_graze(g, place, sideways, here.reach);
  }

 private:
  Answer closest(const Geometry& g, const exact::Place& place, const Gap& gap) {
    EXPECT_EQ(gap.status, GapStatus::measured);
    const Answer answer = g.reference.closest(place, &gap.on_other, gap.other_face);
    ++tally_.nearest[static_cast<std::size_t>(aimed::place_of(g.faces, answer.site))];
    tally_.overlapping += answer.value < 0;
    tally_.contact += std::fabs(answer.value) <= kMicron;
    const bool clear = answer.value > 0;
    if (gap.high < answer.low() && std::fabs(answer.value) < kBorderSeen && answer.value - gap.value < gap::kBorder) {
      ++tally_.border;
      std::printf("too small: closest %.6f (%.6f to %.6f), reference %.6f, %s\n", gap.value, gap.low, gap.high,
                  answer.value, where_.c_str());
      return answer;
    }
    const double width = clear ? kWidthClosestClear : kWidthClosestOverlapping;
    compare(GapKind::closest, gap, answer, width, tally_.of[static_cast<std::size_t>(GapKind::closest)]);
    if (clear) {
      compare(GapKind::closest, gap, answer, width, tally_.closest_clear);
      EXPECT_LE(std::fabs(gap.value - answer.value), kOffClosest);
    }
    if (gap.high - gap.low > width) {
      ++tally_.widened;
      tally_.widened_dished += !g.scene.profile.elements.front().bulges;
      std::printf("widened: closest %.6f (%.6f to %.6f), %s\n", gap.value, gap.low, gap.high, where_.c_str());
    }
    return answer;
  }

  double radial(const Geometry& g, const exact::Place& place, const Gap& gap, double reach) {
    Answer answer = g.reference.radial(place, reach, kEdgeOn, seen(gap), gap.other_face);
    if (gap.measured() && gap.high < answer.low()) {
      ++tally_.finer;
      const Faces faces(g.faces.crown(), kFineSpacing);
      const Reference finer(faces, g.scene.profile, g.scene.pocket);
      answer = finer.radial(place, reach, kEdgeOn, seen(gap), gap.other_face);
    }
    if (gap.measured() && gap.high < answer.low() && only_edge_on(g, place, gap, reach)) {
      ++tally_.edge_on;  // on the border of its face, where the reference has no sample
      return answer.value;
    }
    if (gap.low <= answer.high() || !answer.met()) {
      compare(GapKind::radial, gap, answer, kWidthRadial);
      return answer.value;
    }
    const Answer turned = g.reference.radial(place, reach, -kEdgeOn, seen(gap), gap.other_face);
    if (turned.met() && turned.low() <= gap.high) {
      compare(GapKind::radial, gap, turned, kWidthRadial);
    } else {
      ++tally_.edge_on;  // between the two
    }
    return answer.value;
  }

  /// Does the kernel's own place count, with the kernel's value, only because it is seen edge on?
  static bool only_edge_on(const Geometry& g, const exact::Place& place, const Gap& gap, double reach) {
    const auto beside = [&](double edge_on) {
      return g.reference.beside(place, reach, gap.on_other, gap.other_face, edge_on);
    };
    const double value = beside(kEdgeOn);
    return value >= gap.low && value <= gap.high && beside(-kEdgeOn) == exact::kNone;
  }

  void check_face(const Geometry& g, const exact::Place& place, const Gap& gap) {
    const Answer answer = g.reference.face(place, seen(gap), gap.other_face);
    if (answer.met() && answer.value > 0 && !(gap.low <= answer.high()) &&
        g.reference.blocked(answer.site.p,
                            answer.site.p + answer.value * g.faces.outward(answer.site.face, answer.site.p), kMicron))
      return;  // the reference does not look for the next best
    compare(GapKind::face, gap, answer, kWidthFace);
  }

  static const Vec3* seen(const Gap& gap) { return gap.measured() ? &gap.on_other : nullptr; }

  void count_graze(const Geometry& g, const exact::Place& place, double sideways, double reach) {
    const double at = dot(place.centre, place.up), foot = g.reference.outline().rim_foot();
    const double off =
        std::min({std::fabs(sideways), std::fabs(g.side_top - at - foot), std::fabs(g.side_top - at - foot + reach)});
    tally_.graze += off <= kMicron;
  }

  void compare(GapKind kind, const Gap& gap, const Answer& answer, double width) {
    compare(kind, gap, answer, width, tally_.of[static_cast<std::size_t>(kind)]);
  }

  static void compare(GapKind kind, const Gap& gap, const Answer& answer, double width, OfKind& of) {
    const auto at = [](double value, int face, Vec3 p) {
      return std::to_string(value) + " on face " + std::to_string(face) + " at (" + std::to_string(p.x) + ", " +
             std::to_string(p.y) + ", " + std::to_string(p.z) + ")";
    };
    SCOPED_TRACE(std::string(to_string(kind)) + ": " + at(gap.value, gap.other_face, gap.on_other) + ", reference " +
                 at(answer.value, answer.site.face, answer.site.p));
    ++of.compared;
    if (!gap.measured()) {
      ++of.none;
      EXPECT_FALSE(answer.met());
      return;
    }
    if (answer.met()) {
      EXPECT_LE(gap.low, answer.high()) << "unsafe";
    }
    if (gap.status == GapStatus::jump) {
      ++of.jumps;
      return;
    }
    EXPECT_GE(gap.high, answer.low()) << "not attained";
    of.widest = std::max(of.widest, gap.high - gap.low);
    of.wide += gap.high - gap.low > width;
    of.too_large = std::max(of.too_large, gap.value - answer.value);
    of.too_small = std::max(of.too_small, answer.value - gap.value);
    of.kernel_lower += answer.value - gap.value > exact::kSettled;
  }

  Tally& tally_;
  std::string where_;
};

/// A crown and valves of every kind over its pockets. Corners are made common, and ridges by pockets
/// that stand close.
struct CrownDraw {
  Engine engine;
  std::vector<Scene> scenes;
};

// In overlap a dished valve takes the kernel ten times as long as any other.
constexpr int kKinds[] = {0, 1, 2, 4, 3, 0, 1, 2, 4, 5, 0, 1, 2, 4, 0};

CrownDraw draw(Dice& dice, int top, int valves) {
  CrownDraw d;
  random_parts::Draw first = random_parts::draw_crown(dice, top, 0);
  d.engine = first.engine;
  d.engine.valves.clear();
  for (Pocket& p : d.engine.piston.pockets) {
    if (p.corner_radius == 0 && dice.below(2)) p.corner_radius = dice.between(0.3, 2.0);
    p.x *= 0.8;
    p.y *= 0.8;
  }
  for (int i = 0; i < valves; ++i) {
    Scene s = first.scene;
    const int kind = kKinds[static_cast<std::size_t>(i) % std::size(kKinds)];
    s.valve = random_parts::kValves[kind];
    s.pocket = dice.below(static_cast<int>(d.engine.piston.pockets.size()));
    const Pocket& pocket = d.engine.piston.pockets[static_cast<std::size_t>(s.pocket)];
    Valve valve = random_parts::random_valve(dice, kind, pocket, s.pocket);
    valve.name += std::to_string(i + 1);
    random_parts::place_valve(dice, pocket, valve, s);
    d.engine.valves.push_back(valve);
    d.scenes.push_back(s);
  }
  return d;
}

TEST(Differential, KernelAgreesWithExactFacesAtAimedPoses) {
  const long crowns = asked("EYEBROW_DIFFERENTIAL_CROWNS", 27), only = asked("EYEBROW_DIFFERENTIAL_ONLY", -1),
             seed = asked("EYEBROW_DIFFERENTIAL_SEED", 3);
  const int valves = static_cast<int>(asked("EYEBROW_DIFFERENTIAL_VALVES", 15)),
            poses = static_cast<int>(asked("EYEBROW_DIFFERENTIAL_POSES", 25));
  Tally tally;
  Differential differential(tally);
  int refused = 0;
  for (long c = 0; c < crowns; ++c) {
    if (only >= 0 && c != only) continue;
    Dice dice(static_cast<unsigned long long>(seed * 1000003 + c));
    CrownDraw drawn;
    std::optional<Parts> parts;
    while (!parts) {
      drawn = draw(dice, static_cast<int>(c % 5), valves);
      parts = random_parts::try_parts(drawn.engine, kDeflection, refused);
    }
    const auto target = make_target(parts->crown);
    const Faces faces(crown_of(*target), kSpacing);
    for (int v = 0; v < valves; ++v) {
      Scene& scene = drawn.scenes[static_cast<std::size_t>(v)];
      scene.profile = parts->profiles[static_cast<std::size_t>(v)];
      const Reference reference(faces, scene.profile, scene.pocket);
      const Aims aims(faces, scene.pocket);
      const ValveToPiston valve(target, scene.profile, scene.place, scene.pocket);
      const Geometry geometry{target, faces, scene, reference, aims, valve, reference.extreme(scene.place.up, 1)};
      ++tally.geometries;
      for (int i = 0; i < poses; ++i) {
        const std::string where = "seed " + std::to_string(seed) + ", crown " + std::to_string(c) + " (" + scene.kind +
                                  "), valve " + std::to_string(v) + " (" + scene.valve + "), pose " + std::to_string(i);
        SCOPED_TRACE(where);
        differential.at(where);
        differential.pose(dice, geometry, i, poses);
      }
    }
  }
  std::printf("%d draws were refused as no valid piston\n", refused);
  tally.print();
  if (only >= 0) return;
  tally.expect_quotas();
  EXPECT_LE(tally.share(tally.widened), kWidened);
  EXPECT_LE(tally.share(tally.border), kAtBorder);
  EXPECT_LE(tally.share(tally.edge_on), 1e-3) << "too little of radial is compared";
}

}  // namespace
}  // namespace eyebrow::differential
