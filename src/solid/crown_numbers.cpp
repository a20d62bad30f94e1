#include "solid/crown_numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solid/faults.hpp"
#include "solid/tolerances.hpp"
#include "solid/void_volume.hpp"

namespace eyebrow {
namespace {

// Beyond this a pocket's axis lies almost in the crown and its wall no longer has an upper and a lower side.
constexpr double kMostTilt = 75 * kDegree;

class Checker {
 public:
  Checker(const Engine& engine, const Origins& origins, std::vector<Fault>& faults)
      : engine_(engine), piston_(engine.piston), origins_(origins), faults_(faults) {}

  CrownNumbers check() {
    const std::size_t had = faults_.size();
    if (!(piston_.crown_diameter > 0)) {
      say("piston.crown_diameter",
          fmt::format("the crown's diameter must be above 0, not {}", length(piston_.crown_diameter)));
      return {};
    }
    check_chamfer();
    check_round_dome();
    check_roof_dome();
    check_dish();
    for (std::size_t i = 0; i < piston_.pockets.size(); ++i) check_pocket(static_cast<int>(i));
    check_bottom();
    if (faults_.size() == had) numbers_.top = top_of_metal();
    return std::move(numbers_);
  }

 private:
  void say(const std::string& key, std::string text) { faults_.push_back(fault_at(origins_, key, std::move(text))); }
  std::string length(double mm) const { return length_text(mm, engine_.units); }
  double radius() const { return piston_.crown_diameter / 2; }
  double flat_radius() const { return radius() - piston_.top_chamfer; }

  void check_chamfer() {
    if (piston_.top_chamfer >= 0 && piston_.top_chamfer < radius()) return;
    say("piston.top_chamfer",
        fmt::format("the top chamfer must be at least 0 and below the crown's radius of {}, not {}", length(radius()),
                    length(piston_.top_chamfer)));
  }

  void check_round_dome() {
    if (!piston_.round_dome) return;
    const RoundDome& dome = *piston_.round_dome;
    if (piston_.roof_dome) say("piston.roof", "a crown has a round dome or a roof, not both");
    if (!(dome.height > 0)) {
      say("piston.dome.height", fmt::format("the dome's height must be above 0, not {}", length(dome.height)));
    }
    if (!(dome.base_diameter > 0) || dome.base_diameter / 2 > flat_radius() + kLeastPiece) {
      say("piston.dome.base_diameter",
          fmt::format("the dome's base of {} must be above 0 and fit on the crown flat of {}",
                      length(dome.base_diameter), length(2 * flat_radius())));
    }
    if (dome.shape == DomeShape::sphere && dome.height >= dome.base_diameter / 2) {
      say("piston.dome.height", fmt::format("a dome {} high on a base of {} is more than half a ball",
                                            length(dome.height), length(dome.base_diameter)));
    }
    if (dome.shape == DomeShape::cone && !(dome.top_diameter >= 0 && dome.top_diameter < dome.base_diameter)) {
      say("piston.dome.top_diameter",
          fmt::format("the dome's top of {} must be at least 0 and smaller than its base of {}",
                      length(dome.top_diameter), length(dome.base_diameter)));
    }
  }

  void check_roof_dome() {
    if (!piston_.roof_dome) return;
    const std::size_t had = faults_.size();
    const RoofDome& roof = *piston_.roof_dome;
    if (!(roof.plateau > 0)) {
      say("piston.roof.plateau", fmt::format("the plateau's height must be above 0, not {}", length(roof.plateau)));
    }
    if (roof.planes.empty()) say("piston.roof", "a roof needs at least one plane that falls to the crown flat");
    for (std::size_t i = 0; i < roof.planes.size(); ++i) {
      if (roof.planes[i].slope > 0 && roof.planes[i].slope < kPi / 2) continue;
      say(fmt::format("piston.roof.planes.{}.slope", i + 1),
          fmt::format("plane {} of the roof: its slope must be above 0 and below 90 degrees, not {:.4g}", i + 1,
                      roof.planes[i].slope / kDegree));
    }
    if (faults_.size() == had && leaves_nothing(roof))
      say("piston.roof", "the roof's planes leave no dome on the crown");
    if (piston_.top_chamfer > 0 && flat_radius() - roof.plateau <= 2 * kBeyond) {
      say("piston.top_chamfer", "the top chamfer, carried on upward, leaves nothing of the roof");
    }
  }

  bool leaves_nothing(const RoofDome& roof) const {
    Piston bare;
    bare.crown_diameter = piston_.crown_diameter;
    bare.roof_dome = roof;
    return crown_volume(bare, 0, {}).metal < kLeastCut;
  }

  void check_dish() {
    if (!piston_.dish) return;
    const Dish& dish = *piston_.dish;
    const std::string key = "piston.dish";
    const std::size_t had = faults_.size();
    if (!(dish.diameter > 0)) {
      say(key + ".diameter", fmt::format("the dish's diameter must be above 0, not {}", length(dish.diameter)));
    }
    if (!(dish.depth > 0))
      say(key + ".depth", fmt::format("the dish's depth must be above 0, not {}", length(dish.depth)));
    if (!(dish.corner_radius >= 0) || dish.corner_radius >= dish.diameter / 2) {
      say(key + ".corner_radius",
          fmt::format("the dish's corner radius must be at least 0 and below its own radius of {}, not {}",
                      length(dish.diameter / 2), length(dish.corner_radius)));
    }
    const double reach = std::hypot(dish.x, dish.y) + dish.diameter / 2;
    if (reach >= flat_radius() - kLeastPiece) {
      say(key + ".diameter", fmt::format("the dish reaches {} from the bore axis, beyond the crown flat's edge at {}",
                                         length(reach), length(flat_radius())));
    }
    if (faults_.size() == had) add({dish_tool(dish), "dish", key, -1, 0});
  }

  void check_pocket(int index) {
    const Pocket& pocket = piston_.pockets[static_cast<std::size_t>(index)];
    const std::string key = "pocket." + pocket.name, who = fmt::format("pocket {}: ", pocket.name);
    const std::size_t had = faults_.size();
    if (!(pocket.diameter > 0)) {
      say(key + ".diameter", who + fmt::format("its diameter must be above 0, not {}", length(pocket.diameter)));
    }
    if (!(pocket.depth > 0)) {
      say(key + ".depth", who + fmt::format("its depth must be above 0, not {}", length(pocket.depth)));
    }
    if (!(pocket.corner_radius >= 0) || pocket.corner_radius >= pocket.diameter / 2) {
      say(key + ".corner_radius",
          who + fmt::format("its corner radius must be at least 0 and below its own radius of {}, not {}",
                            length(pocket.diameter / 2), length(pocket.corner_radius)));
    }
    if (!(pocket.mouth_break >= 0)) {
      say(key + ".mouth_break",
          who + fmt::format("its mouth break must not be negative, but is {}", length(pocket.mouth_break)));
    }
    if (!(pocket.tilt >= 0 && pocket.tilt <= kMostTilt)) {
      say(key + ".tilt", who + fmt::format("its tilt must be 0 to {:.0f} degrees, not {:.4g}", kMostTilt / kDegree,
                                           pocket.tilt / kDegree));
    }
    const Valve* valve = check_floor_shape(index, key, who);
    if (faults_.size() != had) return;

    const auto tool = pocket_tool(pocket, valve, radius());
    const auto deepest = tool ? lowest_inside(*tool, radius()) : std::nullopt;
    if (!deepest) {
      say(key + ".x",
          who + fmt::format(
                    "it misses the crown: no part of it lies within the crown's diameter of {} at the depth of {}",
                    length(piston_.crown_diameter), length(pocket.depth)));
      return;
    }
    if (piston_.underside && *deepest <= -*piston_.underside) {
      say(key + ".depth",
          who + fmt::format("it goes through the crown: its deepest point is {} below the crown flat, the underside {}",
                            length(-*deepest), length(*piston_.underside)));
      return;
    }
    add({*tool, pocket.name + " pocket", key, index, pocket.mouth_break});
  }

  /// The valve that shapes the floor; null for a flat floor.
  const Valve* check_floor_shape(int index, const std::string& key, const std::string& who) {
    const Pocket& pocket = piston_.pockets[static_cast<std::size_t>(index)];
    if (pocket.floor == FloorShape::flat) return nullptr;
    const auto valve = std::find_if(engine_.valves.begin(), engine_.valves.end(),
                                    [&](const Valve& each) { return each.pocket == index; });
    if (valve == engine_.valves.end()) {
      say(key + ".floor", who + "its floor is shaped like a valve face, but no valve runs over it");
      return nullptr;
    }
    if (valve->step) {
      say(key + ".floor", who + fmt::format("its floor is shaped like the face of valve {}, which is taken from STEP; "
                                            "only a valve by numbers can shape one",
                                            valve->name));
      return nullptr;
    }
    const double face = valve->head_diameter / 2 - valve->rim_radius, flat = pocket.diameter / 2 - pocket.corner_radius;
    if (valve->face != FaceShape::flat && face > flat) {
      say(key + ".corner_radius",
          who + fmt::format("its flat floor has a radius of {}, too small for the face of valve {} with a radius of {}",
                            length(flat), valve->name, length(face)));
    }
    return &*valve;
  }

  void add(CrownTool tool) {
    const auto low = lowest_inside(tool.tool, radius());
    lowest_ = std::min(lowest_, low.value_or(0));
    numbers_.tools.push_back(std::move(tool));
  }

  void check_bottom() {
    if (!piston_.underside) {
      numbers_.bottom = std::min(lowest_, -piston_.top_chamfer) - kMetalBelow;
      return;
    }
    const double underside = *piston_.underside;
    numbers_.bottom = -underside;
    if (!(underside > 0)) {
      say("piston.underside", fmt::format("the underside must lie below the crown flat, not at {}", length(underside)));
    } else if (underside <= piston_.top_chamfer && piston_.top_chamfer < radius()) {
      say("piston.top_chamfer", fmt::format("the top chamfer of {} reaches down to the crown's underside at {}",
                                            length(piston_.top_chamfer), length(underside)));
    }
    if (piston_.dish && piston_.dish->depth >= underside) {
      say("piston.dish.depth", fmt::format("the dish goes through the crown: it is {} deep, the underside {}",
                                           length(piston_.dish->depth), length(underside)));
    }
  }

  double top_of_metal() const {
    if (piston_.round_dome) return piston_.round_dome->height;
    return piston_.roof_dome ? piston_.roof_dome->plateau : 0.0;
  }

  const Engine& engine_;
  const Piston& piston_;
  const Origins& origins_;
  std::vector<Fault>& faults_;
  CrownNumbers numbers_;
  double lowest_ = 0;
};

}  // namespace

CrownNumbers check_crown(const Engine& engine, const Origins& origins, std::vector<Fault>& faults) {
  return Checker(engine, origins, faults).check();
}

}  // namespace eyebrow
