#include "solid/named_surface.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "solid/exact_surface.hpp"
#include "solid/tolerances.hpp"
#include "solid/valve_outline.hpp"

namespace eyebrow {
namespace {

// Directions of one surface agree better than this (over 100 mm it is kSameSurface).
constexpr double kSameDirection = 1e-7;

bool parallel(Vec3 a, Vec3 b) {
  return norm(cross(a, b)) < kSameDirection;
}

double from_axis(const Frame& frame, Vec3 p) {
  return norm(cross(p - frame.origin, frame.z));
}

bool same_surface(const Face& asked, const Face& found) {
  // The modeller knows no sheared cone; told apart by their owners, as free-form faces are.
  if (asked.kind == Surface::sheared_cone) return found.kind == Surface::free_form;
  if (asked.kind != found.kind) return false;
  const auto close = [](double a, double b) { return std::fabs(a - b) < kSameSurface; };
  switch (asked.kind) {
    case Surface::plane:
      return parallel(asked.frame.z, found.frame.z) && close(off_surface(asked, found.frame.origin), 0);
    case Surface::cylinder:
      return close(asked.radius, found.radius) && parallel(asked.frame.z, found.frame.z) &&
             from_axis(asked.frame, found.frame.origin) < kSameSurface;
    case Surface::cone: {
      const Vec3 on_circle = found.frame.origin + found.radius * found.frame.x;
      return std::fabs(asked.radius2 - found.radius2) < kSameDirection && parallel(asked.frame.z, found.frame.z) &&
             from_axis(asked.frame, found.frame.origin) < kSameSurface && close(off_surface(asked, on_circle), 0);
    }
    case Surface::sphere:
      return close(asked.radius, found.radius) && norm(asked.frame.origin - found.frame.origin) < kSameSurface;
    case Surface::torus:
      return close(asked.radius, found.radius) && close(asked.radius2, found.radius2) &&
             parallel(asked.frame.z, found.frame.z) && norm(asked.frame.origin - found.frame.origin) < kSameSurface;
    case Surface::sheared_cone:
    case Surface::free_form:
      return true;  // told apart by their owners
  }
  return false;
}

}  // namespace

Face named(Group group, std::string name, Surface kind, const Frame& frame, double radius, double radius2) {
  Face face;
  face.kind = kind;
  face.group = group;
  face.name = std::move(name);
  face.frame = frame;
  face.radius = radius;
  face.radius2 = radius2;
  return face;
}

std::vector<NamedSurface> surfaces_of(const Tool& tool, Group floor, Group corner, Group wall, int pocket,
                                      const std::string& what) {
  const Frame frame = tool_frame(tool.floor_centre, tool.up, 0);
  const auto raised = [&](double w) {
    Frame moved = frame;
    moved.origin = frame.origin + w * frame.z;
    return moved;
  };
  const auto r_of = [frame](Vec3 p) { return from_axis(frame, p); };
  const auto w_of = [frame](Vec3 p) { return dot(p - frame.origin, frame.z); };
  const double flat = tool.radius - tool.corner, inner = tool.recess != 0 ? tool.recess_radius : 0;

  std::vector<NamedSurface> surfaces;
  if (tool.recess != 0) {
    const bool domed = tool.recess > 0;
    const FaceSphere ball = face_sphere(domed ? FaceShape::domed : FaceShape::dished, std::fabs(tool.recess), inner);
    Frame centre = raised(ball.centre);
    if (domed) centre = {centre.origin, centre.x, -centre.y, -centre.z};  // a sphere's z points to the piece in use
    surfaces.push_back({named(floor, what + " floor", Surface::sphere, centre, ball.radius),
                        [=](Vec3 p) { return r_of(p) <= inner + kSameSurface; }});
  }
  if (flat > inner) {
    surfaces.push_back({named(floor, what + (inner > 0 ? " floor edge" : " floor"), Surface::plane, frame),
                        [=](Vec3 p) { return r_of(p) <= flat + kSameSurface && r_of(p) >= inner - kSameSurface; }});
  }
  if (tool.corner > 0) {
    surfaces.push_back({named(corner, what + " corner", Surface::torus, raised(tool.corner), flat, tool.corner),
                        [=](Vec3 p) { return r_of(p) >= flat && w_of(p) <= tool.corner; }});
  }
  surfaces.push_back({named(wall, what + " wall", Surface::cylinder, frame, tool.radius),
                      [=](Vec3 p) { return w_of(p) >= tool.corner - kSameSurface; }});
  for (NamedSurface& surface : surfaces) surface.face.pocket = pocket;
  return surfaces;
}

const NamedSurface* recognise(const TopoDS_Face& face, const std::vector<NamedSurface>& surfaces) {
  const Face found = read_surface(face);
  for (const NamedSurface& surface : surfaces) {
    if (!same_surface(surface.face, found)) continue;
    if (surface.face.kind == Surface::plane && dot(surface.face.frame.z, outward_at_middle(face)) < 0) continue;
    if (!surface.owns || surface.owns(point_inside(face))) return &surface;
  }
  return nullptr;
}

void number_names(std::vector<Face>& faces) {
  std::vector<std::size_t> by_area(faces.size());
  std::iota(by_area.begin(), by_area.end(), std::size_t{0});
  std::stable_sort(by_area.begin(), by_area.end(),
                   [&](std::size_t a, std::size_t b) { return faces[a].area > faces[b].area; });
  std::map<std::string, int> met;
  for (const std::size_t i : by_area) {
    if (const int number = ++met[faces[i].name]; number > 1) faces[i].name += fmt::format(" {}", number);
  }
}

}  // namespace eyebrow
