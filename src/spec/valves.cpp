// [valve.NAME].
#include <fmt/format.h>

#include "spec/rim_height.hpp"
#include "spec/rocker.hpp"
#include "spec/sections.hpp"
#include "spec/step_file.hpp"
#include "spec/tilt.hpp"
#include "spec/valve_links.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// Of the cone under the head, where it is not stated: between tulip and nail-head, and far from any piston.
constexpr double kUnderheadAngle = 20 * kDegree;

const Section::Choices<Role> kRoles = {{"intake", Role::intake}, {"exhaust", Role::exhaust}};

/// What the file says must not be said again; what only checks it may, and has to: readings of the real valve, which
/// tell a wrong file or unit.
void read_shape_of_step(Context& context, Section& section, Valve& valve) {
  Section step = section.table("step");
  StepFileRead read = read_step_file(context, step);
  if (step.exists()) step.finish();
  valve.step = StepValve{std::move(read.file), std::move(read.text), std::move(read.solid)};
  valve.head_diameter = section.need("head_diameter");
  valve.stem_diameter = section.need("stem_diameter");
  for (const char* key :
       {"margin", "seat_angle", "seat_width", "face", "face_depth", "rim_radius", "underhead_angle"}) {
    section.know(key);
    if (section.has(key))
      context.fault(section.place(key),
                    fmt::format("{}: the valve is taken from STEP ([{}.step]), which has no such number: change the "
                                "valve there, or leave this out",
                                section.key_path(key), section.path()));
  }
}

void read_head_shape(Context& context, Section& section, Valve& valve) {
  if (section.has("step")) return read_shape_of_step(context, section, valve);
  section.know("step");
  valve.head_diameter = section.need("head_diameter");
  valve.margin = section.need("margin");
  valve.seat_angle = section.need("seat_angle");
  valve.seat_width = section.need("seat_width");
  valve.stem_diameter = section.need("stem_diameter");
  valve.underhead_angle = section.number_or("underhead_angle", kUnderheadAngle);
  valve.rim_radius = section.number_or("rim_radius", 0);
  const auto face = section.choice<FaceShape>(
      "face", {{"flat", FaceShape::flat}, {"dished", FaceShape::dished}, {"domed", FaceShape::domed}});
  valve.face = face.value_or(FaceShape::flat);
  if (valve.face != FaceShape::flat) {
    valve.face_depth = section.need("face_depth");
  } else {
    section.know("face_depth");
    if (section.has("face_depth") && (face || !section.has("face")))
      context.fault(section.place("face_depth"), fmt::format("{} is of use with face = \"dished\" or \"domed\" only",
                                                             section.key_path("face_depth")));
  }

  const double radius = valve.head_diameter / 2, stem = valve.stem_diameter / 2;
  const auto text = [&](double mm) { return context.length_text(mm); };
  if (valve.rim_radius > valve.margin)
    context.fault(section.place("rim_radius"),
                  fmt::format("{}: {} does not fit into the margin, {}", section.key_path("rim_radius"),
                              text(valve.rim_radius), text(valve.margin)));
  const double seat_inside = radius - valve.seat_width * std::cos(valve.seat_angle);
  if (stem >= radius)
    context.fault(section.place("stem_diameter"),
                  fmt::format("{} is {}; it must be less than head_diameter, {}", section.key_path("stem_diameter"),
                              text(valve.stem_diameter), text(valve.head_diameter)));
  else if (seat_inside <= stem)
    context.fault(section.place("seat_width"),
                  fmt::format("{}: {} reaches into the stem; allowed is less than {}", section.key_path("seat_width"),
                              text(valve.seat_width), text((radius - stem) / std::cos(valve.seat_angle))));
  if (valve.face_depth > radius)
    context.fault(section.place("face_depth"),
                  fmt::format("{}: {} is more than half a ball; allowed is to {}", section.key_path("face_depth"),
                              text(valve.face_depth), text(radius)));
}

void read_train(Context& context, Section& section, const Engine& engine, Valve& valve) {
  bool at_lobe = false;
  for (const Lobe& lobe : engine.lobes)
    if (lobe.name == valve.lobe) at_lobe = lobe.measured == LiftAt::lobe;
  read_rocker(context, section, at_lobe, valve);
  valve.lash = section.need("lash");
}

}  // namespace

void read_valves(Context& context, Section& top, Engine& engine) {
  top.need_table("valve", "one table a valve: [valve.intake], [valve.exhaust]");
  const auto sections = top.named("valve", kMostValves);
  if (sections.empty() && top.has("valve"))
    context.fault(top.place("valve"), "[valve] holds no valve: one table each, [valve.intake], [valve.exhaust]");
  for (Section section : sections) {
    Valve valve;
    valve.name = section.name();
    const auto by_name = role_from_name(valve.name);
    const auto role = by_name ? section.choice<Role>("role", kRoles) : section.need_choice<Role>("role", kRoles);
    valve.role = role.value_or(by_name.value_or(Role::intake));
    if (role || by_name)
      valve.lobe = find_lobe(context, section, engine, valve.role);
    else
      section.know("lobe");
    read_head_shape(context, section, valve);
    valve.x = section.need("x");
    valve.y = section.need("y");
    const Tilt tilt = read_tilt(context, section);
    valve.tilt = tilt.tilt;
    valve.lean = tilt.lean;
    valve.rim_height = read_rim_height(context, section, valve.tilt, valve.head_diameter / 2);
    valve.sunk = section.number_or("sunk", 0);
    read_train(context, section, engine, valve);
    valve.pocket = find_pocket(context, section, engine, valve);
    section.finish();
    engine.valves.push_back(std::move(valve));
  }
}

}  // namespace eyebrow
