// Where the lobes of a cam stand: by their centres, their events, or the cam's separation.
#include <fmt/format.h>

#include <algorithm>

#include "spec/card.hpp"
#include "spec/rocker.hpp"

namespace eyebrow {
namespace {

/// Half the sum of two centres is the separation; cards round each to a whole degree (cam radians).
constexpr double kSeparationsAgree = 1 * kDegree;
/// Angles this near are the same number, rounded.
constexpr double kSameCentre = 1e-6 * kDegree;

double in_degrees(double angle) {
  return angle / kDegree;
}

/// One cam with its lobes.
struct Camshaft {
  std::string name;
  std::vector<Lobe*> lobes;
  std::vector<const Lobe*> own;  ///< of these, those whose events place them

  /// Null when there is none.
  const Lobe* placed(Role role) const {
    const auto found = std::find_if(own.begin(), own.end(), [role](const Lobe* lobe) { return lobe->role == role; });
    return found == own.end() ? nullptr : *found;
  }
  int count(Role role) const {
    return static_cast<int>(
        std::count_if(lobes.begin(), lobes.end(), [role](const Lobe* lobe) { return lobe->role == role; }));
  }
};

Camshaft camshaft(Engine& engine, const CamsAsRead& cams, const std::string& name) {
  Camshaft out{name, {}, {}};
  for (std::size_t i = 0; i < engine.lobes.size(); ++i) {
    if (engine.lobes[i].cam != name) continue;
    out.lobes.push_back(&engine.lobes[i]);
    if (cams.cards[i] && cams.cards[i]->has_events()) out.own.push_back(&engine.lobes[i]);
  }
  return out;
}

Role other(Role role) {
  return role == Role::intake ? Role::exhaust : Role::intake;
}

/// With the cam unmoved intake and exhaust centre both stand at the separation: cam degrees between the centres are
/// half the crank degrees from one to the other. Where events place a lobe they tell how the cam stands as well: one
/// of the other role is twice the separation from it.
double place_of(const Camshaft& cam, Role role, double separation) {
  if (const Lobe* same = cam.placed(role)) return same->centre;
  if (const Lobe* opposite = cam.placed(other(role))) return 2 * separation - opposite->centre;
  return separation;
}

void compare(Context& context, const Camshaft& cam, double separation, const Place& place) {
  const Lobe *intake = cam.placed(Role::intake), *exhaust = cam.placed(Role::exhaust);
  if (!intake || !exhaust) return;
  const double by_events = (intake->centre + exhaust->centre) / 2;
  if (!(std::fabs(by_events - separation) > kSeparationsAgree + kSameCentre)) return;
  context.warn(place,
               fmt::format("the separation of cam \"{}\" is {:.4g} cam deg, but by the events of lobes \"{}\" and "
                           "\"{}\", whose centres are {:.4g} and {:.4g} crank deg, it is {:.4g}; the events are "
                           "taken: check both against the card",
                           cam.name, in_degrees(separation), intake->name, exhaust->name, in_degrees(intake->centre),
                           in_degrees(exhaust->centre), in_degrees(by_events)));
}

void place_by_separation(Context& context, Camshaft cam, double separation, const Place& place) {
  for (Lobe* lobe : cam.lobes) {
    if (lobe->table && !lobe->table->about_centre)
      context.fault(place,
                    fmt::format("cam \"{}\" states a separation, but the table of lobe \"{}\" is in crank angles "
                                "and places it by itself",
                                cam.name, lobe->name));
    if (std::find(cam.own.begin(), cam.own.end(), lobe) == cam.own.end())
      lobe->centre = place_of(cam, lobe->role, separation);
  }
  const int intakes = cam.count(Role::intake), exhausts = cam.count(Role::exhaust);
  if (intakes == 0 || exhausts == 0)
    context.fault(place, fmt::format("a separation lies between an intake and an exhaust lobe; cam \"{}\" carries {}",
                                     cam.name, intakes == 0 ? "no intake lobe" : "no exhaust lobe"));
  compare(context, cam, separation, place);
}

/// The separation written twice where the centres belong: on one cam, unmoved, intake and exhaust alike.
void doubt_same_centres(Context& context, const Camshaft& cam, double advance) {
  const auto stated = [&](const Lobe* lobe) { return context.given("lobe." + lobe->name + ".centre"); };
  if (advance != 0 || cam.lobes.size() != 2 || !std::all_of(cam.lobes.begin(), cam.lobes.end(), stated)) return;
  const Lobe &a = *cam.lobes[0], &b = *cam.lobes[1];
  if (a.role == b.role || !(std::fabs(a.centre - b.centre) <= kSameCentre) || !cam.own.empty()) return;
  const Lobe& intake = a.role == Role::intake ? a : b;
  context.warn(
      context.place_of("lobe." + intake.name + ".centre"),
      fmt::format("lobe.{}.centre and lobe.{}.centre are both {:.4g} deg: is that the cam's separation? Intake "
                  "centres mostly stand about 4 deg before it (common practice), and a later intake shows more "
                  "gap than there is; if the cam was found so with a degree wheel, state separation = {:.4g} "
                  "in its [cam] in place of both",
                  a.name, b.name, in_degrees(a.centre), in_degrees(a.centre)));
}

}  // namespace

void settle_cams(Context& context, Engine& engine, const CamsAsRead& cams) {
  for (std::size_t i = 0; i < engine.lobes.size(); ++i)
    if (cams.cards[i]) settle_card(context, engine, engine.lobes[i], *cams.cards[i]);
  for (const Cam& cam : engine.cams) {
    const auto separation = cams.separations.find(cam.name);
    if (separation == cams.separations.end()) {
      doubt_same_centres(context, camshaft(engine, cams, cam.name), cam.advance);
      continue;
    }
    const std::string path = context.tables.count("cam." + cam.name) ? "cam." + cam.name : "cam";
    place_by_separation(context, camshaft(engine, cams, cam.name), separation->second,
                        context.place_of(path + ".separation"));
  }
  settle_rockers(engine);
}

}  // namespace eyebrow
