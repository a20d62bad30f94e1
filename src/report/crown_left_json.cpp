#include "crown_left_json.hpp"

namespace eyebrow {
namespace {

Json metal_place(const MetalLeft& left, Vec3 p) {
  if (std::isnan(left.value)) return nullptr;
  return Json::array({json_number(p.x), json_number(p.y), json_number(p.z)});
}

const char* metal_state(MetalLeft::State state) {
  switch (state) {
    case MetalLeft::State::measured:
      return "measured";
    case MetalLeft::State::open:
      return "open";
    case MetalLeft::State::not_known:
      break;
  }
  return "not known";
}

}  // namespace

Json json_metal(const MetalLeft& left) {
  return {{"pocket", left.pocket},
          {"to", name_beyond(left)},
          {"state", metal_state(left.state)},
          {"value", json_number(left.value)},
          {"low", json_number(left.low)},
          {"point_pocket", metal_place(left, left.point)},
          {"point_beyond", metal_place(left, left.beyond)},
          {"face", left.face.empty() ? Json(nullptr) : Json(left.face)},
          {"missing", left.missing.empty() ? Json(nullptr) : Json(left.missing)}};
}

Json json_compression(const Compression& of) {
  return {{"ratio", json_number(of.ratio())},
          {"swept", json_number(of.swept)},
          {"clearance", json_number(of.clearance())},
          {"chamber", json_number(of.chamber)},
          {"gasket", json_number(of.gasket)},
          {"deck", json_number(of.deck)},
          {"notches", json_number(of.notches)},
          {"crown", json_number(of.crown)},
          {"top_land_not_counted", json_number(of.top_land)}};
}

}  // namespace eyebrow
