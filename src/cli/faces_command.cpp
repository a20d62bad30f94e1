#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "commands.hpp"
#include "eyebrow/step_faces.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"

namespace eyebrow::cli {
namespace {

/// Coarse: only where a face is, is told.
constexpr double kCoarse = 0.02;

const char* kind_text(Surface kind) {
  switch (kind) {
    case Surface::plane:
      return "plane";
    case Surface::cylinder:
      return "cylinder";
    case Surface::cone:
      return "cone";
    case Surface::sphere:
      return "sphere";
    case Surface::torus:
      return "torus";
    case Surface::sheared_cone:
      return "sheared cone";
    case Surface::free_form:
      break;
  }
  return "free form";
}

struct Reach {
  double low = INFINITY, high = -INFINITY;
};

std::vector<Reach> reaches(const Crown& crown) {
  std::vector<Reach> of(crown.faces.size());
  for (const Triangle& triangle : crown.triangles) {
    Reach& reach = of[static_cast<std::size_t>(triangle.face)];
    for (const int vertex : triangle.vertex) {
      const double z = crown.points[static_cast<std::size_t>(vertex)].z;
      reach = {std::min(reach.low, z), std::max(reach.high, z)};
    }
  }
  return of;
}

std::string faces_text(const Crown& crown, const std::vector<std::string>& in_step, LengthUnit unit) {
  const bool inches = unit == LengthUnit::inch;
  const double per = inches ? kInch : 1;
  const int digits = inches ? 4 : 3;
  std::string out = fmt::format(
      "Lengths in {}; heights from the crown flat, up. Of a named surface gaps are exact, a free form is known by its "
      "mesh.\n\n{:>4}  {:<28} {:<12} {:>10} {:>9} {:>9}  {}\n",
      inches ? "inches" : "mm", "", "taken for", "surface", inches ? "area, in2" : "area, mm2", "lowest", "highest",
      in_step.empty() ? "" : "in the file");
  const std::vector<Reach> reach = reaches(crown);
  const auto height = [&](double mm) {  // no zero has a sign
    const double step = std::pow(10, -digits);
    return std::round(mm / per / step) * step + 0.0;
  };
  for (std::size_t i = 0; i < crown.faces.size(); ++i) {
    const Face& face = crown.faces[i];
    out += fmt::format("{:>4}{} {:<28} {:<12} {:>10.{}f} {:>9.{}f} {:>9.{}f}  {}\n", i + 1, face.stated ? "*" : " ",
                       face.name, kind_text(face.kind), face.area / (per * per), inches ? 3 : 1, height(reach[i].low),
                       digits, height(reach[i].high), digits, i < in_step.size() ? in_step[i] : "");
  }
  if (std::ranges::any_of(crown.faces, [](const Face& face) { return face.stated; }))
    out += "\n* as the engine file says (piston.step.faces)\n";
  return out;
}

/// The outline that a valve from STEP was found to have.
std::string outline_text(const Valve& valve, const Profile& profile, LengthUnit unit) {
  const bool inches = unit == LengthUnit::inch;
  const double per = inches ? kInch : 1;
  const int digits = inches ? 4 : 3;
  std::string out = fmt::format(
      "\nValve \"{}\", from its axis on the combustion side outward and up the stem: r from its axis, w up from the "
      "rim plane.\n\n{:<28} {:<10} {:>9} {:>9} {:>9} {:>9} {:>9}\n",
      valve.name, "", "", "from r", "from w", "to r", "to w", "radius");
  for (const ProfileElement& e : profile.elements)
    out += fmt::format("{:<28} {:<10} {:>9.{}f} {:>9.{}f} {:>9.{}f} {:>9.{}f} {:>9}\n", to_string(e.part),
                       e.radius == 0 ? "straight"
                       : e.bulges    ? "rounded"
                                     : "hollow",
                       e.from.r / per, digits, e.from.w / per, digits, e.to.r / per, digits, e.to.w / per, digits,
                       e.radius == 0 ? "" : fmt::format("{:.{}f}", e.radius / per, digits));
  return out;
}

}  // namespace

int run(const FacesArguments& arguments) {
  Warnings warnings(arguments.engine);
  const EngineFile file = read_engine(arguments.engine, arguments.overrides);
  warnings.add(file.warnings);
  stop_if_asked();
  const Parts parts = build_parts(file.engine, file.origins, kCoarse);
  warnings.add(parts.warnings);
  if (arguments.quiet) return kHolds;
  const LengthUnit unit = arguments.units.value_or(file.engine.units);
  print(faces_text(parts.crown, names_in_step(parts), unit));
  for (std::size_t i = 0; i < file.engine.valves.size(); ++i)
    if (file.engine.valves[i].step) print(outline_text(file.engine.valves[i], parts.profiles[i], unit));
  return kHolds;
}

}  // namespace eyebrow::cli
