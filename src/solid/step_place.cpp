#include "solid/step_place.hpp"

#include <BRepBuilderAPI_Transform.hxx>
#include <BRep_Tool.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Lin.hxx>
#include <gp_Trsf.hxx>

#include <fmt/format.h>

#include "solid/faults.hpp"
#include "solid/occt.hpp"
#include "solid/step_surface.hpp"
#include "solid/tolerances.hpp"
#include "solid/unit_hint.hpp"

namespace eyebrow {
namespace {

/// Crowns are about 0.99 of the bore (common practice); wider than the bore it does not go in.
constexpr double kLeastOfBore = 0.9;
/// A stated crown diameter is a reading: the drawing's may differ by so much, mm.
constexpr double kDiameterReading = 0.25;
/// Axes and planes of one file that are meant to be the same, drawn by hand or converted from inches.
constexpr double kSameLine = 1e-3;
/// A stated crown flat is rounded to a thousandth of a mm or a ten-thousandth of an inch.
constexpr double kFlatReading = 0.005;
constexpr double kSquare = 1e-6;
/// A stated direction must be nearer to the axis than to any other of the file's.
constexpr double kLeastAlong = 0.8;
/// Of two planes that may be the crown flat the larger is believed where it is so many times the other.
constexpr double kMuchLarger = 3;
/// The crown flat ends at the crown's edge, or at what breaks or rounds that edge.
constexpr double kEdgeShare = 0.9;

/// Does a cylinder that wide fit the stated crown diameter, else the bore?
bool fits_as_outside(double diameter, const Engine& engine) {
  const double bore = engine.cylinder.bore, stated = engine.piston.crown_diameter;
  return stated > 0 ? std::fabs(diameter - stated) <= kDiameterReading
                    : diameter >= kLeastOfBore * bore && diameter <= bore;
}

bool bulges_outward(const TopoDS_Face& shape, const Face& cylinder) {
  const Vec3 from = point_inside(shape) - cylinder.frame.origin;
  return dot(from - dot(from, cylinder.frame.z) * cylinder.frame.z, outward_at_middle(shape)) >= 0;
}

class Placer {
 public:
  Placer(const TopoDS_Shape& solid, const Engine& engine, const Origins& origins, std::vector<Fault>& warnings)
      : solid_(solid), engine_(engine), step_(*engine.piston.step), origins_(origins), warnings_(warnings) {}

  Frame frame() {
    find_axis();
    double flat = step_.flat ? *step_.flat : find_flat();
    if (step_.flat) check_stated_flat(flat);
    Frame frame;
    frame.z = up_;
    frame.origin = on_axis_ + (flat - dot(on_axis_, up_)) * up_;
    const Vec3 front = find_front();
    frame.y = std::cos(step_.turn) * front - std::sin(step_.turn) * cross(up_, front);
    frame.x = cross(frame.y, up_);
    tell(frame, flat);
    return frame;
  }

 private:
  [[noreturn]] void refuse(const std::string& key, std::string message) const {
    throw InputError({fault_at(origins_, "piston.step." + key, fmt::format("{}: {}", step_.file, message))});
  }
  std::string length(double mm) const { return length_text(mm, engine_.units); }

  /// Of the outside cylinders the one that fits the bore.
  void find_axis() {
    double widest = 0;
    std::vector<Face> fitting;
    for (TopExp_Explorer each(solid_, TopAbs_FACE); each.More(); each.Next()) {
      const TopoDS_Face shape = TopoDS::Face(each.Current());
      const Face face = step_surface(shape);
      ++faces_;
      free_form_ += face.kind == Surface::free_form;
      if (face.kind != Surface::cylinder) continue;
      if (!bulges_outward(shape, face)) continue;
      const double diameter = 2 * face.radius;
      widest = std::max(widest, diameter);
      if (fits_as_outside(diameter, engine_)) fitting.push_back(face);
    }
    if (fitting.empty()) no_cylinder(widest);
    const Face& first = fitting.front();
    diameter_ = 2 * first.radius;
    up_ = first.frame.z;
    on_axis_ = first.frame.origin;
    for (const Face& other : fitting) {
      diameter_ = std::max(diameter_, 2 * other.radius);
      if (norm(cross(other.frame.z, up_)) > kSquare * 10 || norm(cross(other.frame.origin - on_axis_, up_)) > kSameLine)
        refuse("file", fmt::format("the bore axis is not clear: outside cylinders of {} and {} that fit the bore are "
                                   "about different axes",
                                   length(2 * first.radius), length(2 * other.radius)));
    }
    const Vec3 toward = step_.up.value_or(Vec3{0, 0, 1});
    const double along = dot(up_, toward);
    if (std::fabs(along) < kLeastAlong)
      refuse(step_.up ? "up" : "file",
             fmt::format("the crown's outside cylinder is about the direction ({:.4f}, {:.4f}, {:.4f}), {}", up_.x,
                         up_.y, up_.z,
                         step_.up ? "not about the stated one: up is the file's axis that points to the head"
                                  : "not about the file's z: say which of the file's axes points to the head, "
                                    "for example up = \"+y\""));
    if (along < 0) up_ = -up_;
    // As far as it is an axis of the file it is exactly that: a direction cosine of 1e-17 would move the whole solid.
    if (std::fabs(along) > 1 - 1e-14) up_ = toward;
  }

  [[noreturn]] void no_cylinder(double widest) const {
    const double wanted = engine_.piston.crown_diameter > 0 ? engine_.piston.crown_diameter : engine_.cylinder.bore;
    const std::string fits = engine_.piston.crown_diameter > 0
                                 ? fmt::format("the stated crown_diameter of {}", length(wanted))
                                 : fmt::format("the bore of {}", length(wanted));
    if (widest == 0)
      refuse("file", fmt::format("no crown: the solid has no outside cylinder, so none that fits {}{}", fits,
                                 free_form_ > 0 ? fmt::format("; {} of its {} faces are free form: planes and "
                                                              "cylinders must be exported as such",
                                                              free_form_, faces_)
                                                : ""));
    refuse("file", fmt::format("no outside cylinder of the solid fits {}: its widest is {}{}", fits, length(widest),
                               unit_hint(widest, wanted)));
  }

  struct Plane {
    double height, area;
  };

  /// Does the face go out to the crown's edge?
  bool reaches_edge(const TopoDS_Face& face) const {
    double furthest = 0;
    for (TopExp_Explorer each(face, TopAbs_VERTEX); each.More(); each.Next()) {
      const Vec3 from = to_vec(BRep_Tool::Pnt(TopoDS::Vertex(each.Current()))) - on_axis_;
      furthest = std::max(furthest, norm(cross(from, up_)));
    }
    return furthest >= kEdgeShare * diameter_ / 2;
  }

  /// Planes square to the axis that face the head with no metal above, out to the crown's edge; from the top.
  std::vector<Plane> flats() const {
    IntCurvesFace_ShapeIntersector above;
    above.Load(solid_, 1e-7);
    std::vector<Plane> planes;
    for (TopExp_Explorer each(solid_, TopAbs_FACE); each.More(); each.Next()) {
      const TopoDS_Face shape = TopoDS::Face(each.Current());
      const Face face = step_surface(shape);
      if (face.kind != Surface::plane || norm(cross(face.frame.z, up_)) > kSquare) continue;
      if (dot(outward_at_middle(shape), up_) < 0 || !reaches_edge(shape)) continue;
      const Vec3 inside = point_inside(shape);
      above.Perform(gp_Lin(to_pnt(inside), to_dir(up_)), 1e-4, 1e5);
      if (above.NbPnt() > 0) continue;
      const double height = dot(face.frame.origin, up_);
      const auto same = std::find_if(planes.begin(), planes.end(),
                                     [&](const Plane& p) { return std::fabs(p.height - height) < kSameSurface; });
      if (same != planes.end())
        same->area += area_of(shape);
      else
        planes.push_back({height, area_of(shape)});
    }
    std::sort(planes.begin(), planes.end(), [](const Plane& a, const Plane& b) { return a.area > b.area; });
    return planes;
  }

  double find_flat() {
    const std::vector<Plane> planes = flats();
    if (planes.empty())
      refuse("file",
             "no crown flat: no plane square to the bore axis faces the head out to the crown's edge; say where "
             "compression height is measured to: flat = ..., along `up` from the file's origin");
    if (planes.size() > 1 && planes[0].area < kMuchLarger * planes[1].area)
      refuse("file", fmt::format("the crown flat is not clear: planes square to the bore axis at {} ({}) and {} ({}) "
                                 "face the head; say which: flat = ..., along `up` from the file's origin",
                                 length(planes[0].height), area_text(planes[0].area), length(planes[1].height),
                                 area_text(planes[1].area)));
    area_ = planes[0].area;
    return planes[0].height;
  }

  /// A plane within rounding of the stated height is what is meant.
  void check_stated_flat(double& flat) {
    for (const Plane& plane : flats()) {
      if (std::fabs(plane.height - flat) > kFlatReading) continue;
      flat = plane.height;
      return;
    }
    warnings_.push_back(fault_at(
        origins_, "piston.step.flat",
        fmt::format(
            "{}: no plane square to the bore axis lies at the stated flat, {}: heights count from there all the "
            "same, but the file has no crown flat",
            step_.file, length(flat))));
  }

  Vec3 find_front() const {
    const Vec3 stated = step_.front.value_or(Vec3{0, 1, 0});
    const Vec3 across = stated - dot(stated, up_) * up_;
    if (norm(across) < kLeastAlong)
      refuse(step_.front ? "front" : "file",
             fmt::format("{} along the bore axis; say which of the file's axes points to the engine's front, for "
                         "example front = \"-z\"",
                         step_.front ? "the stated front lies" : "the file's y lies"));
    return unit(across);
  }

  void tell(const Frame& frame, double flat) {
    std::string settle;
    const auto add = [&](const std::string& what) { settle += (settle.empty() ? "" : ", ") + what; };
    if (!step_.flat) add(fmt::format("flat = \"{}\"", length(flat)));
    if (!step_.up) add("up = \"+z\"");
    if (!step_.front) add("front = \"+y\"");
    if (settle.empty()) return;
    warnings_.push_back(fault_at(
        origins_, "piston.step.file",
        fmt::format("{}: taken as found: an outside of {} about the bore axis, the crown flat {} along `up` from the "
                    "file's origin ({}), the file's {} toward the head, its {} toward the front; if that is so, say {}",
                    step_.file, length(diameter_), length(flat), area_text(area_), axis_text(frame.z),
                    axis_text(frame.y), settle)));
  }

  std::string area_text(double mm2) const {
    return engine_.units == LengthUnit::inch ? fmt::format("{:.2f} in2", mm2 / (kInch * kInch))
                                             : fmt::format("{:.0f} mm2", mm2);
  }

  /// "+z", or the direction.
  static std::string axis_text(Vec3 v) {
    for (const auto& [axis, name] :
         {std::pair{Vec3{1, 0, 0}, "x"}, std::pair{Vec3{0, 1, 0}, "y"}, std::pair{Vec3{0, 0, 1}, "z"}})
      if (std::fabs(dot(v, axis)) > 1 - 1e-9) return fmt::format("{}{}", dot(v, axis) > 0 ? '+' : '-', name);
    return fmt::format("({:.4f}, {:.4f}, {:.4f})", v.x, v.y, v.z);
  }

  const TopoDS_Shape& solid_;
  const Engine& engine_;
  const StepCrown& step_;
  const Origins& origins_;
  std::vector<Fault>& warnings_;
  Vec3 up_, on_axis_;
  double diameter_ = 0, area_ = 0;
  int faces_ = 0, free_form_ = 0;
};

}  // namespace

Frame piston_frame(const TopoDS_Shape& solid, const Engine& engine, const Origins& origins,
                   std::vector<Fault>& warnings) {
  return Placer(solid, engine, origins, warnings).frame();
}

bool fits_bore(const TopoDS_Shape& solid, const Engine& engine) {
  for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next()) {
    const TopoDS_Face shape = TopoDS::Face(each.Current());
    const Face face = step_surface(shape);
    if (face.kind == Surface::cylinder && fits_as_outside(2 * face.radius, engine) && bulges_outward(shape, face))
      return true;
  }
  return false;
}

TopoDS_Shape in_frame(const TopoDS_Shape& solid, const Frame& frame) {
  gp_Trsf move;
  move.SetTransformation(gp_Ax3(to_pnt(frame.origin), to_dir(frame.z), to_dir(frame.x)));
  return BRepBuilderAPI_Transform(solid, move, true).Shape();
}

}  // namespace eyebrow
