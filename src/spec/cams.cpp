// [cam] or [cam.NAME], and the lobes on them. Where lobes stand is in lobe_places.cpp.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "spec/card.hpp"
#include "spec/lobe.hpp"
#include "spec/nearest.hpp"
#include "spec/sections.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

using Separations = std::map<std::string, double>;

/// A phaser moves its cam between two stops, and where it is parked lies between them.
void read_stops(Context& context, Section& section, Cam& cam) {
  const auto stops = section.numbers("stops");
  if (!stops) return;
  const Place place = section.place("stops");
  const std::string key = section.key_path("stops");
  if (stops->size() != 2) {
    context.fault(place, fmt::format("{} has {} {}; it takes two, the latest and the earliest advance", key,
                                     stops->size(), stops->size() == 1 ? "item" : "items"));
    return;
  }
  const double latest = (*stops)[0], earliest = (*stops)[1];
  const auto degrees = [](double angle) { return quantity_text(angle, Unit::degree); };
  if (latest >= earliest)
    context.fault(place, fmt::format("{} goes from {} to {}; the latest comes first and is less than the earliest "
                                     "(positive = earlier)",
                                     key, degrees(latest), degrees(earliest)));
  else if (cam.advance < latest || cam.advance > earliest)
    context.fault(section.place("advance"),
                  fmt::format("{} is {}, outside of its stops, {} to {}", section.key_path("advance"),
                              degrees(cam.advance), degrees(latest), degrees(earliest)));
  cam.stops = Stops{latest, earliest};
}

/// Told already; not "not stated".
constexpr int kFaultyTeeth = -1;

void read_teeth(Context& context, Section& section, Cam& cam) {
  const auto teeth = section.number("teeth");
  if (!teeth) return;
  cam.teeth = std::isnan(*teeth) ? kFaultyTeeth : static_cast<int>(*teeth);
  if (*teeth > std::floor(*teeth))
    context.fault(section.place("teeth"),
                  fmt::format("{} is {:g}; teeth are counted, a whole number", section.key_path("teeth"), *teeth));
}

void read_cam(Context& context, Section& section, Engine& engine, Separations& separations) {
  Cam cam;
  cam.name = section.name();
  cam.advance = section.need("advance");
  read_stops(context, section, cam);
  read_teeth(context, section, cam);
  if (const auto separation = section.number("separation")) separations[cam.name] = *separation;
  section.finish();
  engine.cams.push_back(std::move(cam));
}

Separations read_cams(Context& context, Section& top, Engine& engine) {
  Separations separations;
  Section one = top.need_table("cam", "advance", "cam.*");
  if (!one.exists()) return separations;
  if (one.holds_tables()) {
    for (Section section : top.named("cam", kMostCams)) read_cam(context, section, engine, separations);
  } else {
    read_cam(context, one, engine, separations);
  }
  return separations;
}

/// The name of the lobe's cam; empty when there is none, and told.
std::string find_cam(Context& context, Section& section, const Engine& engine) {
  const auto names = cam_names(engine);
  const bool given = section.has("cam");
  if (const auto name = section.word("cam")) {
    if (std::find(names.begin(), names.end(), *name) != names.end()) return *name;
    context.fault(section.place("cam"), fmt::format("{}: there is no cam \"{}\"{}", section.key_path("cam"),
                                                    clipped(*name), did_you_mean(*name, names)));
    return {};
  }
  if (names.size() == 1) return names.front();
  if (!given && !names.empty())
    context.fault(section.place(),
                  fmt::format("missing key \"cam\" in [{}]: one of {}", section.path(), joined(names)));
  return {};
}

}  // namespace

CamsAsRead read_cams_and_lobes(Context& context, Section& top, Engine& engine) {
  CamsAsRead read;
  read.separations = read_cams(context, top, engine);
  top.need_table("lobe", "one table a lobe: [lobe.intake], [lobe.exhaust]");
  const auto sections = top.named("lobe", kMostLobes);
  if (sections.empty() && top.has("lobe"))
    context.fault(top.place("lobe"), "[lobe] holds no lobe: one table each, [lobe.intake], [lobe.exhaust]");
  for (Section section : sections) {
    const std::string cam = find_cam(context, section, engine);
    LobeAsRead one = read_lobe(context, section, read.separations.count(cam) != 0);
    one.lobe.cam = cam;
    section.finish();
    engine.lobes.push_back(std::move(one.lobe));
    read.cards.push_back(std::move(one.card));
  }
  return read;
}

}  // namespace eyebrow
