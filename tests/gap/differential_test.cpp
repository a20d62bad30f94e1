// The kernel, by its public interface, against the reference on exact faces (exact_reference.hpp) over random crowns of
// the modeller, many valves over each, at aimed poses (aimed_poses.hpp) whose quotas are enforced.
//
// EYEBROW_DIFFERENTIAL_CROWNS, _VALVES (of each crown), _POSES (of each valve) and _SEED ask for another run, _ONLY for
// one crown of it; by hand 500 20 100 gives 10,000 geometries of 100 poses each.
#include <gtest/gtest.h>

#include <cstdlib>
#include <numeric>

#include "differential_tally.hpp"
#include "random_crowns.hpp"

namespace eyebrow::differential {
namespace {

using aimed::Aims;
using exact::Answer;
using exact::Faces;
using exact::Reference;
using random_parts::Dice;
using random_parts::Scene;

constexpr double kDeflection = 0.0005;  // of the mesh, as build_parts has it unless told otherwise
constexpr double kSpacing = 1.2;        // mm between samples
constexpr double kMicron = 1e-3;

/// Greatest width of an interval that is no jump, mm: the ball of 0.5 um to either side, and what the kernel states of
/// itself beside it: for closest kArcOff and kEdgeSearch.
constexpr double kWidthClosestClear = 1.1e-3;
/// The mesh's error twice and the search's 1e-4 are in these still. Travel and face also go with the slope of the
/// faces.
constexpr double kWidthClosestOverlapping = 2.3e-3;
constexpr double kWidthTravel = 0.02, kWidthFace = 0.02, kWidthRadial = 0.02;  // kJump: wider is a jump by definition
/// How far a value may be off the reference's, clear of the crown: search over the mesh of a face that only it knows.
constexpr double kOffClosest = 6e-4;

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
  double side_top, side_bottom;  // of the own pocket's sides, along the stem
};

enum class Aim { clear, near, contact, deep, graze };

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

Vec3 aimed_centre(Dice& dice, const Geometry& g, aimed::Spot place, Aim aim) {
  const Vec3 up = g.scene.place.up;
  Vec3 centre;
  for (int t = 0; t < kTries; ++t) {
    const exact::Site& site = g.aims.any(dice, place);
    double gap = dice.decades(-3, 0.7);
    if (aim == Aim::near) gap = dice.decades(-5, -0.5);
    if (aim == Aim::contact) gap = (dice.below(2) ? 1 : -1) * dice.decades(-9, -3.05);
    if (aim == Aim::deep) gap = -dice.decades(-4, -0.2);
    Vec3 n = g.aims.toward_void(dice, site);
    // A valve never comes to a wall but with its margin or rim, so half of the walls are met square to the stem.
    if (place == aimed::Spot::wall && dice.below(2)) n = unit(n - dot(n, up) * up);
    centre = aimed::centre_against(dice, g.scene.profile, up, site.p, n, gap);
    if (!spoiled(g, {centre, up}, gap)) break;
  }
  return centre;
}

/// The rim 10^-k from its pocket's wall sideways, or from entering it or its reach, or from having passed it.
Vec3 grazing_centre(Dice& dice, const Geometry& g, int index) {
  const Vec3 up = g.scene.place.up;
  const double off = (dice.below(2) ? 1 : -1) * dice.decades(-8, -3.05);
  if (index % 2 == 0 && g.aims.has(aimed::Spot::wall)) {
    Vec3 centre;
    for (int t = 0; t < kTries; ++t) {
      const exact::Site& site = g.aims.any(dice, aimed::Spot::wall);
      const Vec3 n = g.aims.toward_void(dice, site), level = unit(n - dot(n, up) * up);
      centre = aimed::centre_against(dice, g.scene.profile, up, site.p, level, off);
      if (!spoiled(g, {centre, up}, -1e-3)) break;
    }
    return centre;
  }
  const double foot = g.reference.outline().rim_foot();
  const double along = index % 3 == 0   ? g.side_top - foot + g.scene.reach
                       : index % 3 == 1 ? g.side_top - foot
                                        : g.side_bottom - g.scene.profile.margin;
  const Vec3 near = g.scene.place.closed + dice.between(0, 0.5) * dice.direction();
  return near + (along + off - dot(near, up)) * up;
}

class Differential {
 public:
  explicit Differential(Tally& tally) : tally_(tally) {}

  void pose(Dice& dice, const Geometry& g, int index, int poses) {
    Scene here = g.scene;
    std::vector<aimed::Spot> places;
    for (const aimed::Spot p : {aimed::Spot::floor, aimed::Spot::corner, aimed::Spot::ridge, aimed::Spot::wall,
                                aimed::Spot::corner, aimed::Spot::mouth, aimed::Spot::ridge})
      if (g.aims.has(p)) places.push_back(p);
    if (places.empty()) return;
    const auto aim = static_cast<Aim>(index * 5 / poses);
    const aimed::Spot at = places[static_cast<std::size_t>(dice.below(static_cast<int>(places.size())))];
    const Vec3 centre = aim == Aim::graze ? grazing_centre(dice, g, index) : aimed_centre(dice, g, at, aim);
    const Pose pose{dice.between(-30, 5), dice.between(0, 12)};
    here.place.closed = centre + pose.lift * here.place.up + Vec3{0, 0, pose.height};
    const ValveToPiston pair(g.target, here.profile, here.place, here.pocket);
    GapRequest request;
    request.reach = here.reach;
    request.travel = request.face = false;
    const PoseGaps gaps = pair.gaps(pose, request);
    const exact::Place place{pair.rim_centre(pose), here.place.up};
    ++tally_.poses;
    const Answer nearest = closest(g, place, gaps.closest);
    const double sideways = radial(g, place, gaps.radial, here.reach);
    if (nearest.value > kMicron && index % 2 == 0) {  // withdrawing is checked by its properties and on meshes
      request = {true, index % 8 == 0, false, false, true, here.reach};
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
    const double width = clear ? kWidthClosestClear : kWidthClosestOverlapping;
    compare(GapKind::closest, gap, answer, width, tally_.of[static_cast<std::size_t>(GapKind::closest)]);
    if (clear) {
      compare(GapKind::closest, gap, answer, width, tally_.closest_clear);
      EXPECT_LE(std::fabs(gap.value - answer.value), kOffClosest);
    }
    tally_.widened += gap.high - gap.low > width;
    return answer;
  }

  double radial(const Geometry& g, const exact::Place& place, const Gap& gap, double reach) {
    const Answer answer = g.reference.radial(place, reach, seen(gap), gap.other_face);
    if (answer.value > 0 && answer.met() && !(gap.low <= answer.high())) {
      const Vec3 q = answer.site.p - place.centre, level = q - dot(q, place.up) * place.up;
      if (g.reference.blocked(answer.site.p, answer.site.p - (answer.value / norm(level)) * level, kMicron)) return NAN;
    }
    if (std::getenv("SAY") && answer.met() && !(gap.low <= answer.high() && gap.high >= answer.low())) {
      const Vec3 q = place.in(answer.site.p), n = place.turn_in(g.faces.outward(answer.site.face, answer.site.p));
      const Vec3 q2 = place.in(gap.on_other), n2 = place.turn_in(g.faces.outward(gap.other_face, gap.on_other));
      const Vec3 lev = answer.site.p - place.centre - dot(answer.site.p - place.centre, place.up) * place.up;
      std::printf("radial kernel %.6f (%.6f %.6f st %d) %s nq %.2e q %.4f %.4f %.4f; reference %.6f %s edge %d (%s) nq %.2e q %.4f %.4f %.4f reach %.4f top %.4f margin %.4f blocked %d\n", gap.value, gap.low, gap.high, (int)gap.status,
        g.faces.face(gap.other_face).name.c_str(), (n2.x*q2.x+n2.y*q2.y)/std::hypot(q2.x,q2.y), q2.x,q2.y,q2.z, answer.value, g.faces.face(answer.site.face).name.c_str(), answer.site.edge, answer.site.edge>=0? g.faces.face(g.faces.edge(answer.site.edge).faces[1]).name.c_str():"", (n.x*q.x+n.y*q.y)/std::hypot(q.x,q.y), q.x,q.y,q.z, reach, g.side_top - dot(place.centre, place.up), g.scene.profile.margin,
        g.reference.blocked(answer.site.p, answer.site.p - (answer.value / norm(lev)) * lev, kMicron));
    }
    compare(GapKind::radial, gap, answer, kWidthRadial);
    return answer.value;
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
        std::min({std::fabs(sideways), std::fabs(g.side_top - at - foot), std::fabs(g.side_top - at - foot + reach),
                  std::fabs(g.side_bottom - at - g.scene.profile.margin)});
    tally_.graze += off <= kMicron;
  }

  void compare(GapKind kind, const Gap& gap, const Answer& answer, double width) {
    compare(kind, gap, answer, width, tally_.of[static_cast<std::size_t>(kind)]);
  }

  static void compare(GapKind kind, const Gap& gap, const Answer& answer, double width, OfKind& of) {
    SCOPED_TRACE(std::string(to_string(kind)) + ": reference " + std::to_string(answer.value));
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
    EXPECT_LE(gap.high - gap.low, width);
    of.too_large = std::max(of.too_large, gap.value - answer.value);
    of.too_small = std::max(of.too_small, answer.value - gap.value);
    of.kernel_lower += answer.value - gap.value > exact::kSettled;
  }

  Tally& tally_;
};

/// A crown and valves of every kind over its pockets. Corners are made common and free-form edge breaks left out where
/// the pocket slants.
struct CrownDraw {
  Engine engine;
  std::vector<Scene> scenes;
};

CrownDraw draw(Dice& dice, int top, int valves) {
  CrownDraw d;
  random_parts::Draw first = random_parts::draw_crown(dice, top, 0);
  d.engine = first.engine;
  d.engine.valves.clear();
  for (Pocket& p : d.engine.piston.pockets)
    if (p.corner_radius == 0 && dice.below(2)) p.corner_radius = dice.between(0.3, 2.0);
  for (int i = 0; i < valves; ++i) {
    Scene s = first.scene;
    const int kind = i % 6;
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
  const long crowns = asked("EYEBROW_DIFFERENTIAL_CROWNS", 40), only = asked("EYEBROW_DIFFERENTIAL_ONLY", -1),
             seed = asked("EYEBROW_DIFFERENTIAL_SEED", 3);
  const int valves = static_cast<int>(asked("EYEBROW_DIFFERENTIAL_VALVES", 10)),
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
      const Geometry geometry{target,
                              faces,
                              scene,
                              reference,
                              aims,
                              reference.extreme(scene.place.up, 1),
                              reference.extreme(scene.place.up, -1)};
      ++tally.geometries;
      for (int i = 0; i < poses; ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed) + ", crown " + std::to_string(c) + " (" + scene.kind + "), valve " +
                     std::to_string(v) + " (" + scene.valve + "), pose " + std::to_string(i));
        differential.pose(dice, geometry, i, poses);
      }
    }
  }
  std::printf("%d draws were refused as no valid piston\n", refused);
  tally.print();
  if (only < 0) tally.expect_quotas();
}

}  // namespace
}  // namespace eyebrow::differential
