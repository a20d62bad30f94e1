#include "spec/valve_links.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "spec/nearest.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

std::string quoted(const std::string& word) {
  return "\"" + word + "\"";
}

std::vector<std::string> pocket_names(const Engine& engine) {
  std::vector<std::string> names;
  for (const Pocket& pocket : engine.piston.pockets) names.push_back(pocket.name);
  return names;
}

int index_of(const std::vector<std::string>& names, const std::string& name) {
  const auto found = std::find(names.begin(), names.end(), name);
  return found == names.end() ? -1 : static_cast<int>(found - names.begin());
}

}  // namespace

std::string find_lobe(Context& context, Section& section, const Engine& engine, Role role) {
  std::vector<std::string> all, fitting;
  for (const Lobe& lobe : engine.lobes) {
    all.push_back(lobe.name);
    if (lobe.role == role) fitting.push_back(lobe.name);
  }
  const bool given = section.has("lobe");
  if (const auto name = section.word("lobe")) {
    if (index_of(fitting, *name) >= 0) return *name;
    const std::string key = section.key_path("lobe");
    if (index_of(all, *name) >= 0)
      context.fault(section.place("lobe"), fmt::format("{}: lobe \"{}\" is not an {} lobe, but the valve is an {}", key,
                                                       *name, to_string(role), to_string(role)));
    else
      context.fault(section.place("lobe"),
                    fmt::format("{}: there is no lobe \"{}\"{}", key, clipped(*name), did_you_mean(*name, all)));
    return {};
  }
  if (given || all.empty()) return {};  // told already
  if (fitting.size() == 1) return fitting.front();
  if (fitting.empty())
    context.fault(section.place(),
                  fmt::format("[{}] has no lobe: there is no {} lobe", section.path(), to_string(role)));
  else
    context.fault(section.place(), fmt::format("missing key \"lobe\" in [{}]: there are {} {} lobes: {}",
                                               section.path(), fitting.size(), to_string(role), joined(fitting)));
  return {};
}

Vec3 crossing_at_tdc(const Engine& engine, const Valve& valve) {
  const Vec3 closed = closed_place(engine, valve), up = up_axis(engine, valve);
  const double crown = -(engine.gasket.thickness + engine.cylinder.deck_clearance);
  const double along = (crown - closed.z) / up.z;
  return {closed.x + along * up.x, closed.y + along * up.y, 0};
}

int find_pocket(Context& context, Section& section, const Engine& engine, const Valve& valve) {
  const auto names = pocket_names(engine);
  const bool given = section.has("pocket");
  if (const auto name = section.word("pocket")) {
    if (engine.piston.step) {
      context.fault(section.place("pocket"),
                    fmt::format("{}: the crown is taken from STEP, where each valve's pocket is found by its place; "
                                "[piston.step] faces says whose a face is where that goes wrong",
                                section.key_path("pocket")));
      return -1;
    }
    if (*name == "none") return -1;
    const int index = index_of(names, *name);
    if (index < 0) {
      auto offered = names;
      offered.push_back("none");
      context.fault(section.place("pocket"), fmt::format("{}: there is no pocket {}{}", section.key_path("pocket"),
                                                         quoted(clipped(*name)), did_you_mean(*name, offered)));
    }
    return index;
  }
  if (given || names.empty()) return -1;
  if (const int own = index_of(names, valve.name); own >= 0) return own;

  const Vec3 at = crossing_at_tdc(engine, valve);
  if (!std::isfinite(at.x) || !std::isfinite(at.y)) return -1;  // told already
  std::vector<std::string> near;
  int index = -1;
  for (std::size_t i = 0; i < engine.piston.pockets.size(); ++i) {
    const Pocket& pocket = engine.piston.pockets[i];
    if (std::isnan(pocket.x) || std::isnan(pocket.y) || std::isnan(pocket.diameter)) return -1;  // told already
    if (std::hypot(at.x - pocket.x, at.y - pocket.y) >= pocket.diameter / 2) continue;
    near.push_back(pocket.name);
    index = static_cast<int>(i);
  }
  if (near.size() == 1) return index;
  const std::string where = fmt::format("its axis meets the crown flat at x = {}, y = {} at TDC",
                                        context.length_text(at.x), context.length_text(at.y));
  if (near.empty())
    context.fault(section.place(),
                  fmt::format("missing key \"pocket\" in [{}]: {}, in none of the pockets {}; state one, "
                              "or \"none\" for the plain crown",
                              section.path(), where, joined(names)));
  else
    context.fault(section.place(), fmt::format("missing key \"pocket\" in [{}]: {}, in each of {}; state which is the "
                                               "valve's own",
                                               section.path(), where, joined(near)));
  return -1;
}

}  // namespace eyebrow
