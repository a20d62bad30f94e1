#include "spec/support.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <sstream>

namespace eyebrow::testing {

std::string model_path(const std::string& name) {
  return std::string(EYEBROW_MODELS) + "/" + name + ".toml";
}

std::string file_text(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  EXPECT_TRUE(file.good()) << path;
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string wedge() {
  static const std::string text = file_text(model_path("two_valve_wedge"));
  return text;
}

std::string replaced(const std::string& text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << "not in the text: " << from;
  EXPECT_EQ(text.find(from, at + 1), std::string::npos) << "twice in the text: " << from;
  if (at == std::string::npos) return text;
  return text.substr(0, at) + to + text.substr(at + from.size());
}

namespace {

std::string position_of(const std::string& text, std::size_t at) {
  const auto begin = text.begin(), end = text.begin() + static_cast<long>(at);
  const auto newline = text.rfind('\n', at == 0 ? 0 : at - 1);
  const std::size_t column = at == 0 || newline == std::string::npos ? at : at - newline - 1;
  return fmt::format("{}:{}", std::count(begin, end, '\n') + 1, column + 1);
}

}  // namespace

std::string position(const std::string& text, const std::string& piece) {
  const auto at = text.find(piece);
  EXPECT_NE(at, std::string::npos) << "not in the text: " << piece;
  EXPECT_EQ(text.find(piece, at + 1), std::string::npos) << "twice in the text: " << piece;
  return position_of(text, at == std::string::npos ? 0 : at);
}

namespace {

std::vector<std::string> texts(const std::vector<Fault>& faults) {
  std::vector<std::string> out;
  for (const Fault& fault : faults) out.push_back(to_string(fault));
  return out;
}

}  // namespace

std::vector<std::string> faults_of(const std::string& text, const std::vector<Override>& overrides) {
  try {
    parse_engine(text, "e.toml", overrides);
  } catch (const InputError& error) {
    EXPECT_FALSE(error.faults().empty());
    return texts(error.faults());
  }
  return {};
}

EngineFile parsed(const std::string& text, const std::vector<Override>& overrides) {
  return parse_engine(text, "e.toml", overrides);
}

std::vector<std::string> warnings_of(const std::string& text, const std::vector<Override>& overrides) {
  return texts(parsed(text, overrides).warnings);
}

namespace {

void expect_one_fault_at(const std::string& text, const std::string& place, const std::vector<std::string>& contains) {
  const auto faults = faults_of(text);
  ASSERT_EQ(faults.size(), 1u) << ::testing::PrintToString(faults);
  EXPECT_THAT(faults[0], ::testing::StartsWith("e.toml:" + place + ": "));
  for (const std::string& piece : contains) EXPECT_THAT(faults[0], ::testing::HasSubstr(piece));
}

}  // namespace

void expect_one_fault(const std::string& text, const std::string& at, const std::vector<std::string>& contains) {
  expect_one_fault_at(text, position(text, at), contains);
}

void expect_one_fault(const Slip& slip) {
  const std::string text = wedge_with(slip.from, slip.to);
  const auto edit = wedge().find(slip.from);
  const auto within = slip.to.find(slip.at);
  const bool in_edit = !slip.to.empty() && within != std::string::npos;
  expect_one_fault_at(text, in_edit ? position_of(text, edit + within) : position(text, slip.at), slip.contains);
}

void PrintTo(const Slip& slip, std::ostream* out) {
  *out << '"' << slip.from << "\" -> \"" << slip.to << '"';
}

std::string dump(const Engine& e) {
  std::string out;
  const auto put = [&](const std::string& key, auto value) { out += fmt::format("{} = {}\n", key, value); };
  const auto word = [&](const std::string& key, auto value) { put(key, static_cast<int>(value)); };
  put("name", e.name);
  word("units", e.units);
  put("bore", e.cylinder.bore);
  put("stroke", e.cylinder.stroke);
  put("rod_length", e.cylinder.rod_length);
  put("pin_offset", e.cylinder.pin_offset);
  word("rotation", e.cylinder.rotation);
  put("deck_clearance", e.cylinder.deck_clearance);
  for (const BoreNotch& n : e.cylinder.notches)
    put("notch " + n.name, fmt::format("{} {} {} {}", n.x, n.y, n.diameter, n.depth));
  put("gasket", fmt::format("{} {}", e.gasket.thickness, e.gasket.bore));
  put("milled", e.head.milled);
  if (const auto& a = e.head.angle_milled)
    put("angle milled", fmt::format("{} {} {} {} {}", a->deep, a->shallow, a->width, a->bore_from_deep, a->toward));
  if (const auto& d = e.drive)
    put("drive", fmt::format("{} {} {} {} {} {}", d->pulley_diameter, d->pitch, d->run_angle, d->deck_cut,
                             d->gasket_when_timed, d->retimed));
  const Piston& p = e.piston;
  put("piston", fmt::format("{} {} {} {} {}", p.crown_diameter, p.top_chamfer, p.top_land_height.value_or(-1),
                            p.ring_groove_depth.value_or(-1), p.underside.value_or(-1)));
  if (p.dish)
    put("dish",
        fmt::format("{} {} {} {} {}", p.dish->diameter, p.dish->depth, p.dish->corner_radius, p.dish->x, p.dish->y));
  if (p.round_dome)
    put("dome", fmt::format("{} {} {} {}", p.round_dome->height, p.round_dome->base_diameter,
                            static_cast<int>(p.round_dome->shape), p.round_dome->top_diameter));
  if (p.roof_dome) {
    put("roof", p.roof_dome->plateau);
    for (const RoofPlane& r : p.roof_dome->planes) put("plane", fmt::format("{} {} {}", r.slope, r.toward, r.meets));
  }
  for (const Pocket& k : p.pockets)
    put("pocket " + k.name,
        fmt::format("{} {} {} {} {} {} {} {} {} {}", k.x, k.y, k.tilt, k.lean, k.diameter, k.depth,
                    static_cast<int>(k.depth_to), k.corner_radius, k.mouth_break, static_cast<int>(k.floor)));
  for (const Cam& c : e.cams) {
    put("cam " + c.name, fmt::format("{} {}", c.advance, c.teeth));
    if (c.stops) put("stops", fmt::format("{} {}", c.stops->latest, c.stops->earliest));
  }
  for (const Lobe& l : e.lobes) {
    put("lobe " + l.name,
        fmt::format("{} {} {} {} {}", l.cam, to_string(l.role), l.centre, static_cast<int>(l.measured), l.lift));
    for (const Duration& d : l.durations) put("duration", fmt::format("{} {} {}", d.lift, d.duration, d.late));
    put("ramp", fmt::format("{} {} {}", l.ramp.value_or(-1), l.tdc_lift.value_or(-1), l.tdc_advance));
    if (l.table)
      put("table", fmt::format("{} {} {} {}", l.table->angle.size(), l.table->about_centre, l.table->reading_error,
                               l.table->stated_centre.value_or(-1)));
    if (l.law)
      put("law", fmt::format("{} {} {} {}", static_cast<int>(*l.law), l.law_duration, l.ramp_lift, l.ramp_duration));
  }
  for (const Valve& v : e.valves) {
    put("valve " + v.name, fmt::format("{} {} {}", to_string(v.role), v.lobe, v.pocket));
    put("head", fmt::format("{} {} {} {} {} {} {} {} {}", v.head_diameter, v.margin, v.seat_angle, v.seat_width,
                            static_cast<int>(v.face), v.face_depth, v.rim_radius, v.underhead_angle, v.stem_diameter));
    put("place",
        fmt::format("{} {} {} {} {} {} {} {}", v.x, v.y, v.tilt, v.lean, v.rim_height, v.sunk, v.rocker_ratio, v.lash));
  }
  for (const Valve& v : e.valves)
    for (const RatioAt& row : v.rocker_table) put("rocker " + v.name, fmt::format("{} {}", row.lift, row.ratio));
  put("running_lash", e.running_lash);
  for (const auto& [role, a] : e.asked.valve)
    put(to_string(role), fmt::format("{} {} {} {} {}", a.travel, a.face, a.radial, a.closest, a.reach));
  put("asked", fmt::format("{} {} {}", e.asked.valve_to_valve, e.asked.valve_to_bore, e.asked.piston_to_head));
  for (const auto& [role, a] : e.asked.running)
    put(to_string(role), fmt::format("running {} {} {} {} {}", a.travel, a.face, a.radial, a.closest, a.reach));
  if (e.running) {
    for (const Allowance& a : allowances(e)) {
      put("allowance " + a.name, fmt::format("{} {} {} {}", a.on, a.stated, a.source, a.note));
      put("  piston", fmt::format("{} {} {} {} {}", a.piston_up, a.gasket, a.rock, a.rock_shift, a.pin_below_crown));
      for (std::size_t i = 0; i < a.lift.size(); ++i)
        put("  valve", fmt::format("{} {} {} {}", a.early[i], a.late[i], a.lift[i], a.sideways[i]));
    }
  }
  return out;
}

}  // namespace eyebrow::testing
