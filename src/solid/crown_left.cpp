#include "eyebrow/crown_left.hpp"

#include <algorithm>

#include "solid/least_metal.hpp"

namespace eyebrow {
namespace {

/// A place that touches, but for round-off and the mesh.
constexpr double kTouches = 1e-6;

class CrownLeft {
 public:
  CrownLeft(const Engine& engine, const Crown& crown)
      : engine_(engine), piston_(engine.piston), crown_(crown), radius_(piston_.crown_diameter / 2) {
    if (piston_.round_dome) top_ = piston_.round_dome->height;
    if (piston_.roof_dome) top_ = std::max(0.0, piston_.roof_dome->plateau);
  }

  std::vector<MetalLeft> find() {
    std::vector<MetalLeft> out;
    if (piston_.step) {  // what lies beside a pocket has no tool there; groove and underside are stated
      for (int i = 0; i < static_cast<int>(engine_.valves.size()); ++i) {
        if (std::ranges::none_of(crown_.faces, [i](const Face& face) { return face.pocket == i; })) continue;
        out.push_back(to_groove(i));
        out.push_back(to_underside(i));
      }
      return out;
    }
    const int pockets = static_cast<int>(piston_.pockets.size());
    for (int i = 0; i < pockets; ++i) {
      out.push_back(to_groove(i));
      out.push_back(to_underside(i));
      for (int k = i + 1; k < pockets; ++k) out.push_back(to_pocket(i, k));
      if (piston_.dish) out.push_back(to_dish(i));
      out.push_back(to_edge(i));
    }
    return out;
  }

 private:
  const Pocket& pocket(int i) const { return piston_.pockets[static_cast<std::size_t>(i)]; }
  MetalLeft named(int i, MetalLeft::To to, std::string other = {}) const {
    MetalLeft left;
    left.pocket = piston_.step ? engine_.valves[static_cast<std::size_t>(i)].name : pocket(i).name;
    left.to = to;
    left.other = std::move(other);
    return left;
  }

  std::vector<bool> faces_of(int i) const {
    std::vector<bool> wanted;
    for (const Face& face : crown_.faces) wanted.push_back(face.pocket == i);
    return wanted;
  }
  std::vector<bool> dish_faces() const {
    std::vector<bool> wanted;
    for (const Face& face : crown_.faces)
      wanted.push_back(face.group == Group::dish_floor || face.group == Group::dish_corner ||
                       face.group == Group::dish_wall);
    return wanted;
  }

  MetalLeft told(MetalLeft left, const LeastMetal& least) const {
    left.value = least.value;
    left.low = least.low;
    left.point = least.point;
    left.beyond = least.beyond;
    if (least.face >= 0) left.face = crown_.faces[static_cast<std::size_t>(least.face)].name;
    left.state = least.value > kTouches ? MetalLeft::State::measured : MetalLeft::State::open;
    if (left.state == MetalLeft::State::open && left.to != MetalLeft::To::ring_groove) left.value = left.low = 0;
    return left;
  }

  MetalLeft to_groove(int i) const {
    MetalLeft left = named(i, MetalLeft::To::ring_groove);
    if (!piston_.top_land_height) left.missing = "piston.top_land_height";
    if (!piston_.ring_groove_depth)
      left.missing += (left.missing.empty() ? "" : ", ") + std::string("piston.ring_groove_depth");
    if (radius_ == 0) left.missing += (left.missing.empty() ? "" : ", ") + std::string("piston.crown_diameter");
    if (!left.missing.empty()) return left;
    const double inner = radius_ - *piston_.ring_groove_depth, below = *piston_.top_land_height;
    return told(left, least_metal(crown_, faces_of(i), [=](Vec3 p) { return see_groove(inner, below, p); }));
  }

  MetalLeft to_underside(int i) const {
    MetalLeft left = named(i, MetalLeft::To::underside);
    if (!piston_.underside) {
      left.missing = "piston.underside";
      return left;
    }
    const double below = *piston_.underside;
    return told(left, least_metal(crown_, faces_of(i), [=](Vec3 p) { return see_underside(below, p); }));
  }

  MetalLeft to_edge(int i) const {
    const double chamfer = piston_.top_chamfer;
    return told(named(i, MetalLeft::To::edge),
                least_metal(
                    crown_, faces_of(i), [=, this](Vec3 p) { return see_edge(radius_, chamfer, p); }, kTouches));
  }

  /// From the first's own faces to the other as a whole; where the other's mouth is broken, from its faces as well, and
  /// from rim to rim.
  MetalLeft to_pocket(int i, int k) const {
    MetalLeft left = named(i, MetalLeft::To::neighbour, pocket(k).name + " pocket");
    const auto here = tool_of(i), there = tool_of(k);
    if (!here || !there) return left;  // no such crown is made
    LeastMetal least = least_metal(crown_, faces_of(i), ToolBeyond(*there, top_, radius_), kTouches);
    if (pocket(k).mouth_break > 0) {
      LeastMetal back = least_metal(crown_, faces_of(k), ToolBeyond(*here, top_, radius_));
      if (back.value < least.value) {
        std::swap(back.point, back.beyond);
        back.face = -1;
        least = back;
      }
      if (pocket(i).mouth_break > 0) {
        const LeastMetal rims = least_between_edges(crown_, faces_of(i), faces_of(k));
        if (rims.value < least.value) least = rims;
      }
    }
    return told(left, least);
  }

  MetalLeft to_dish(int i) const {
    MetalLeft left = named(i, MetalLeft::To::neighbour, "dish");
    return told(left, least_metal(crown_, faces_of(i), ToolBeyond(dish_tool(*piston_.dish), top_, radius_), kTouches));
  }

  std::optional<Tool> tool_of(int i) const {
    const auto valve = std::ranges::find_if(engine_.valves, [&](const Valve& each) { return each.pocket == i; });
    return pocket_tool(pocket(i), valve == engine_.valves.end() ? nullptr : &*valve, radius_);
  }

  const Engine& engine_;
  const Piston& piston_;
  const Crown& crown_;
  double radius_, top_ = 0;
};

}  // namespace

std::vector<MetalLeft> crown_left(const Engine& engine, const Crown& crown) {
  return CrownLeft(engine, crown).find();
}

std::string name_beyond(const MetalLeft& left) {
  switch (left.to) {
    case MetalLeft::To::ring_groove:
      return "ring groove";
    case MetalLeft::To::underside:
      return "underside";
    case MetalLeft::To::neighbour:
      return left.other;
    case MetalLeft::To::edge:
      return "crown's edge";
  }
  return {};
}

}  // namespace eyebrow
