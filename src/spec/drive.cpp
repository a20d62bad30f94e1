// [drive]: belt or chain of overhead cams.
#include <fmt/format.h>

#include "spec/sections.hpp"

namespace eyebrow {
namespace {

/// The pitch diameter, from itself or from the pitch and each cam's teeth.
void read_size(Context& context, Section& section, const Engine& engine, CamDrive& drive) {
  const auto diameter = section.number("pulley_diameter"), pitch = section.number("pitch");
  drive.pulley_diameter = diameter.value_or(0);
  drive.pitch = pitch.value_or(0);
  if (diameter && pitch)
    context.fault(section.place("pitch"),
                  "[drive] gives the pulley's size twice: either pulley_diameter, or pitch and "
                  "the cams' teeth");
  if (diameter || drive.retimed) return;
  if (!pitch) {
    section.need("pulley_diameter", "pitch");
    return;
  }
  for (const Cam& cam : engine.cams) {
    const std::string path = context.tables.count("cam." + cam.name) ? "cam." + cam.name : "cam";
    if (cam.teeth == 0)
      context.fault(context.place_of(path), fmt::format("missing key \"teeth\" in [{}]: with drive.pitch they make the "
                                                        "diameter of its pulley",
                                                        path));
  }
}

}  // namespace

void read_drive(Context& context, Section& top, Engine& engine) {
  Section section = top.table("drive");
  if (!section.exists()) return;
  CamDrive drive;
  drive.retimed = section.flag("retimed").value_or(false);
  read_size(context, section, engine, drive);
  drive.deck_cut = section.number_or("deck_cut", 0);
  const auto needed = [&](const char* key) { return drive.retimed ? section.number_or(key, 0) : section.need(key); };
  drive.run_angle = needed("run_angle");
  drive.gasket_when_timed = needed("gasket_when_timed");
  if (engine.head.angle_milled && !drive.retimed)
    context.fault(section.place(),
                  "[drive] does not know how far an angle milled head has turned the cam aside: time the cam on the "
                  "head as it is now, state its advance as found, and retimed = true");
  section.finish();
  engine.drive = drive;
}

}  // namespace eyebrow
