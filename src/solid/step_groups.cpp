#include "solid/step_groups.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Lin.hxx>
#include <map>

#include <fmt/format.h>

#include "solid/faults.hpp"
#include "solid/named_surface.hpp"
#include "solid/occt.hpp"
#include "solid/step_surface.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

// A pocket is a valve's where its wall stands about the valve's axis: as far as pockets for another valve, or ill
// placed ones, go (the pocket may be for a smaller valve), and nearer than a dish does.
constexpr double kMostLean = 10 * kDegree;
constexpr double kLeastOfRim = 0.7, kMostOfRim = 1.5;
constexpr double kMostAside = 0.6;  // of the rim's radius
/// A floor without a wall is known by its slope alone.
constexpr double kSameSlope = 3 * kDegree;
constexpr double kSteep = 4 * kDegree;
/// Surfaces of one pocket that are about one axis, mm and radians.
constexpr double kSameAxis = 0.02, kParallel = 1e-3;
/// Rounding of curves' ends, as a share of the wall's radius.
constexpr double kWithin = 1e-6;
/// A mouth's edge break or rounding goes no further outward.
constexpr double kMostMouth = 1.25;
constexpr double kLevel = 1e-4;  // mm above or below the crown flat that is still level with it
constexpr int kSamples = 4;      // along and across a face
/// A place that is picked on a face, read off a screen and rounded, is so near to it.
constexpr double kPicked = 0.1;  // mm

/// A face on its way to becoming known.
struct Piece {
  TopoDS_Face shape;
  Face face;
  Vec3 inside;                 ///< a point on it
  Vec3 outward;                ///< normal out of the metal there
  bool bulges = false;         ///< curved outward from the metal
  bool known = false;          ///< group is settled
  bool stated = false;         ///< by the user
  bool in_sight = false;       ///< from above
  std::map<int, Vec3> beside;  ///< neighbours, each with a point of the common edge
};

Vec3 square_to(Vec3 v, Vec3 axis) {
  return v - dot(v, axis) * axis;
}

double angle_between(Vec3 a, Vec3 b) {
  return std::atan2(norm(cross(a, b)), dot(a, b));
}

/// Which of these surfaces does the modeller's face lie on, as far as we know surfaces? Free-form where it is none.
bool lies_on(const TopoDS_Face& shape, const Face& face) {
  double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
  BRepTools::UVBounds(shape, u0, u1, v0, v1);
  const BRepAdaptor_Surface surface(shape);
  for (int i = 0; i <= kSamples; ++i) {
    for (int j = 0; j <= kSamples; ++j) {
      const Vec3 p = to_vec(surface.Value(u0 + (u1 - u0) * i / kSamples, v0 + (v1 - v0) * j / kSamples));
      if (!(std::fabs(off_surface(face, p)) < kSameSurface)) return false;
      // The kernel's corner is the outer half of a tube: the inner half curves both ways.
      const Vec3 from = p - face.frame.origin;
      const bool inner = norm(square_to(from, face.frame.z)) < face.radius - kSameSurface;
      if (face.kind == Surface::torus && inner) {
        gp_Pnt at;
        gp_Vec outward;
        BRepGProp_Face(shape).Normal(u0 + (u1 - u0) * i / kSamples, v0 + (v1 - v0) * j / kSamples, at, outward);
        if (dot(to_vec(outward.XYZ()), off_surface_gradient(face, p)) < 0) return false;
      }
    }
  }
  return true;
}

void face_out(Piece& piece) {
  Face& face = piece.face;
  Frame& frame = face.frame;
  frame.y = cross(frame.z, frame.x);  // the modeller has left-handed ones
  const auto turn_over = [&] { frame.y = -frame.y, frame.z = -frame.z; };
  switch (face.kind) {
    case Surface::plane:
      if (dot(frame.z, piece.outward) < 0) turn_over();
      break;
    case Surface::cylinder:
    case Surface::torus:
      if (frame.z.z < 0) turn_over();
      break;
    case Surface::sphere: {  // its z points to the middle of the piece in use
      GProp_GProps properties;
      BRepGProp::SurfaceProperties(piece.shape, properties);
      const Vec3 middle = to_vec(properties.CentreOfMass()) - frame.origin;
      if (norm(middle) > kSameSurface) frame = frame_about(frame.origin, unit(middle));
      break;
    }
    default:
      break;
  }
}

class Grouper {
 public:
  Grouper(const TopoDS_Shape& solid, const Engine& engine, const Origins& origins, std::vector<Fault>& warnings)
      : solid_(solid), engine_(engine), origins_(origins), warnings_(warnings) {}

  std::vector<Face> faces(const std::vector<std::string>& file_names) {
    read();
    take_stated(file_names);
    find_level_and_side();
    for (std::size_t valve = 0; valve < engine_.valves.size(); ++valve) axes_.push_back(axis_of(engine_.valves[valve]));
    find_walls();
    for (const bool within : {true, true, false}) find_floors(within);
    find_mouths();
    find_ledges();
    find_lone_floors();
    find_rest();
    tell_missing();
    return named_faces();
  }

 private:
  struct Axis {
    Vec3 up, crossing;  ///< where it crosses the crown flat at the height of the head's deck face
    double rim;
  };

  /// As measured: milling and gasket move the crossing by little, and what is whose pocket should not hang on them.
  static Axis axis_of(const Valve& valve) {
    const Vec3 up = tilted_axis(valve.tilt, valve.lean);
    const Vec3 centre{valve.x, valve.y, valve.rim_height};
    return {up, centre - (centre.z / up.z) * up, valve.head_diameter / 2};
  }

  void read() {
    TopTools_IndexedMapOfShape faces;
    for (TopExp_Explorer each(solid_, TopAbs_FACE); each.More(); each.Next()) faces.Add(each.Current());
    for (TopExp_Explorer each(solid_, TopAbs_FACE); each.More(); each.Next()) {
      Piece piece;
      piece.shape = TopoDS::Face(each.Current());
      piece.face = step_surface(piece.shape);
      if (piece.face.kind != Surface::free_form && !lies_on(piece.shape, piece.face))
        piece.face.kind = Surface::free_form;
      piece.face.area = area_of(piece.shape);
      piece.inside = point_inside(piece.shape);
      piece.outward = outward_at(piece);
      if (piece.face.kind != Surface::free_form && piece.face.kind != Surface::plane)
        piece.bulges = dot(off_surface_gradient(piece.face, piece.inside), piece.outward) > 0;
      face_out(piece);
      pieces_.push_back(std::move(piece));
    }
    TopTools_IndexedDataMapOfShapeListOfShape around;
    TopExp::MapShapesAndUniqueAncestors(solid_, TopAbs_EDGE, TopAbs_FACE, around);
    for (int i = 1; i <= around.Extent(); ++i) {
      const int a = faces.FindIndex(around(i).First()) - 1, b = faces.FindIndex(around(i).Last()) - 1;
      if (a == b) continue;
      const BRepAdaptor_Curve edge(TopoDS::Edge(around.FindKey(i)));
      const Vec3 middle = to_vec(edge.Value((edge.FirstParameter() + edge.LastParameter()) / 2));
      at(a).beside.emplace(b, middle);
      at(b).beside.emplace(a, middle);
    }
    IntCurvesFace_ShapeIntersector above;
    above.Load(solid_, 1e-7);
    for (Piece& piece : pieces_) {
      above.Perform(gp_Lin(to_pnt(piece.inside), gp_Dir(0, 0, 1)), 1e-4, 1e5);
      piece.in_sight = piece.outward.z > 0 && above.NbPnt() == 0;
    }
  }

  /// At the point inside, by the nearest of the face's parameters.
  static Vec3 outward_at(const Piece& piece) {
    const Vec3 middle = outward_at_middle(piece.shape);
    if (piece.face.kind == Surface::plane || piece.face.kind == Surface::free_form) return unit(middle);
    double u0 = 0, u1 = 0, v0 = 0, v1 = 0;
    BRepTools::UVBounds(piece.shape, u0, u1, v0, v1);
    const Vec3 at = to_vec(BRepAdaptor_Surface(piece.shape).Value((u0 + u1) / 2, (v0 + v1) / 2));
    const double sign = dot(middle, off_surface_gradient(piece.face, at)) > 0 ? 1 : -1;
    return sign * off_surface_gradient(piece.face, piece.inside);
  }

  Piece& at(int i) { return pieces_[static_cast<std::size_t>(i)]; }

  static void settle(Piece& piece, Group group, int pocket = -1) {
    if (piece.stated) return;
    piece.face.group = group;
    piece.face.pocket = pocket;
    piece.known = true;
  }

  void take_stated(const std::vector<std::string>& file_names) {
    int number = 0;
    for (const StepFace& stated : engine_.piston.step->faces) {
      const std::string key = fmt::format("piston.step.faces.{}", ++number);
      int pocket = -1;
      for (std::size_t valve = 0; valve < engine_.valves.size(); ++valve)
        if (engine_.valves[valve].name == stated.valve) pocket = static_cast<int>(valve);
      for (const std::size_t i : stated.point ? std::vector<std::size_t>{face_at(*stated.point, file_names, key)}
                                              : faces_called(stated.face, file_names, key)) {
        Piece& piece = pieces_[i];
        if (piece.stated && (piece.face.group != stated.group || piece.face.pocket != pocket))
          throw InputError(
              {fault_at(origins_, key,
                        fmt::format("{}: face {} is said to be two things: {} and {}", engine_.piston.step->file, i + 1,
                                    to_string(piece.face.group), to_string(stated.group)))});
        settle(piece, stated.group, pocket);
        piece.stated = piece.face.stated = true;
      }
    }
  }

  std::vector<std::size_t> faces_called(const std::string& name, const std::vector<std::string>& file_names,
                                        const std::string& key) const {
    std::vector<std::size_t> called;
    for (std::size_t i = 0; i < pieces_.size(); ++i)
      if ((i < file_names.size() && file_names[i] == name) || name == fmt::format("{}", i + 1)) called.push_back(i);
    if (called.empty())
      throw InputError({fault_at(origins_, key + ".face",
                                 fmt::format("{}: has no face \"{}\": it has {} faces; `eyebrow faces` lists them",
                                             engine_.piston.step->file, name, pieces_.size()))});
    return called;
  }

  /// The one face that the place is on.
  std::size_t face_at(Vec3 place, const std::vector<std::string>& file_names, const std::string& key) const {
    const TopoDS_Vertex vertex = BRepBuilderAPI_MakeVertex(to_pnt(place));
    std::vector<std::pair<double, std::size_t>> near;
    for (std::size_t i = 0; i < pieces_.size(); ++i)
      if (const BRepExtrema_DistShapeShape between(vertex, pieces_[i].shape); between.IsDone())
        near.emplace_back(between.Value(), i);
    std::ranges::sort(near);
    const auto called = [&](std::size_t i) {
      const bool named = i < file_names.size() && !file_names[i].empty();
      return fmt::format("{}{}", i + 1, named ? fmt::format(" (\"{}\")", file_names[i]) : "");
    };
    const auto refuse = [&](const std::string& why) {
      return InputError({fault_at(origins_, key + ".point", fmt::format("{}: {}", engine_.piston.step->file, why))});
    };
    if (near.empty() || near[0].first > kPicked)
      throw refuse(fmt::format("no face is within {} of that place{}", length_text(kPicked, engine_.units),
                               near.empty() ? ""
                                            : fmt::format(": the nearest, {}, is {} away", called(near[0].second),
                                                          length_text(near[0].first, engine_.units))));
    if (near.size() > 1 && near[1].first <= kPicked)
      throw refuse(fmt::format("faces {} and {} are both within {} of that place: pick one further inside",
                               called(near[0].second), called(near[1].second), length_text(kPicked, engine_.units)));
    return near[0].second;
  }

  void find_level_and_side() {
    double outside = 0;
    const auto about_bore = [](const Face& face) {
      return norm(square_to(face.frame.z, {0, 0, 1})) < kParallel &&
             norm(square_to(face.frame.origin, {0, 0, 1})) < kSameAxis;
    };
    for (Piece& piece : pieces_) {
      const Face& face = piece.face;
      if (face.kind == Surface::plane && face.frame.z.z > 1 - 1e-12 && std::fabs(piece.inside.z) < kLevel &&
          piece.in_sight)
        settle(piece, Group::flat);
      if (face.kind == Surface::cylinder && piece.bulges && about_bore(face)) outside = std::max(outside, face.radius);
    }
    for (Piece& piece : pieces_) {
      const Face& face = piece.face;
      if (face.kind == Surface::cylinder && piece.bulges && about_bore(face) && face.radius > 0.9 * outside)
        settle(piece, Group::side);
      // What breaks or rounds the crown's edge.
      if ((face.kind == Surface::cone || face.kind == Surface::torus) && piece.bulges && about_bore(face) &&
          piece.in_sight && norm(square_to(piece.inside, {0, 0, 1})) > 0.9 * outside)
        settle(piece, Group::top_chamfer);
    }
  }

  static double reach(const Face& face) {
    return face.kind == Surface::torus ? face.radius + face.radius2 : face.radius;
  }

  /// Whose pocket a hollow cylinder or torus is a side of; -1 = nobody's.
  int whose(const Face& face) const {
    int best = -1;
    double least = INFINITY;
    for (std::size_t i = 0; i < axes_.size(); ++i) {
      const Axis& axis = axes_[i];
      const double lean = angle_between(face.frame.z, axis.up), share = reach(face) / axis.rim;
      if (lean > kMostLean || share < kLeastOfRim || share > kMostOfRim) continue;
      const Vec3 across = face.frame.origin - (face.frame.origin.z / face.frame.z.z) * face.frame.z - axis.crossing;
      const double aside = norm(square_to(across, axis.up));
      if (aside > kMostAside * axis.rim) continue;
      const double off = aside + lean * axis.rim + std::fabs(share - 1) * axis.rim / 4;
      if (off < least) least = off, best = static_cast<int>(i);
    }
    return best;
  }

  void find_walls() {
    for (Piece& piece : pieces_) {
      const bool side = piece.face.kind == Surface::cylinder || piece.face.kind == Surface::torus;
      if (piece.known || !side || piece.bulges || piece.face.frame.z.z < 0.5) continue;
      if (const int valve = whose(piece.face); valve >= 0)
        settle(piece, piece.face.kind == Surface::cylinder ? Group::wall : Group::corner, valve);
    }
  }

  bool is_side(const Piece& piece) const {
    return piece.known && piece.face.pocket >= 0 &&
           (piece.face.group == Group::wall || piece.face.group == Group::corner);
  }

  /// Below a wall or corner that it is beside, and square to its axis or about it.
  void find_floors(bool within) {
    for (Piece& piece : pieces_) {
      if (piece.known) continue;
      int best = -1;
      double least = INFINITY;
      for (const auto& [other, where] : piece.beside) {
        const Piece& side = at(other);
        const bool of_floor = side.known && side.face.group == Group::floor && side.face.pocket >= 0;
        if (!is_side(side) && !of_floor) continue;
        const Axis& axis = axes_[static_cast<std::size_t>(side.face.pocket)];
        const Vec3 up = is_side(side) && side.face.kind != Surface::free_form ? side.face.frame.z : axis.up;
        // Where they meet: a floor may bulge, and its middle stand higher than the wall's.
        if (is_side(side) && dot(where - side.inside, up) > 0) continue;
        double off = off_square(piece, up, is_side(side) ? side.face.frame.origin : on_axis_of(side));
        if (is_side(side) && side.face.kind != Surface::free_form) {
          // Of pockets that run into each other with floors alike, a floor is the one's that it lies within.
          const Reach reach = reach_from(piece, side);
          const bool outside = reach.least > 1 - kWithin;
          // A floor that goes beyond its wall is one only for want of another: else it is what a mouth ends on.
          const bool beyond = reach.most > 1 + kWithin;
          const bool not_needed = within || piece.face.kind == Surface::cone || has_floor(side.face.pocket);
          if (outside || (beyond && not_needed)) continue;
          off += std::max(0.0, reach.most - 1);
        }
        if (off < least) least = off, best = side.face.pocket;
      }
      if (best >= 0) settle(piece, Group::floor, best);
    }
  }

  struct Reach {
    double least = INFINITY, most = 0;
  };
  /// From a wall's axis, of the face's edges, as a share of the wall's radius.
  static Reach reach_from(const Piece& piece, const Piece& side) {
    Reach found;
    for (TopExp_Explorer each(piece.shape, TopAbs_EDGE); each.More(); each.Next()) {
      const TopoDS_Edge edge = TopoDS::Edge(each.Current());
      if (BRep_Tool::Degenerated(edge)) continue;
      const BRepAdaptor_Curve curve(edge);
      for (int k = 0; k <= kSamples; ++k) {
        const double t = curve.FirstParameter() + (curve.LastParameter() - curve.FirstParameter()) * k / kSamples;
        const Vec3 from = to_vec(curve.Value(t)) - side.face.frame.origin;
        const double share = norm(square_to(from, side.face.frame.z)) / reach(side.face);
        found = {std::min(found.least, share), std::max(found.most, share)};
      }
    }
    return found;
  }

  /// A point of the axis of the pocket that a floor is of: a plane has its own origin anywhere.
  Vec3 on_axis_of(const Piece& floor) const {
    for (const Piece& piece : pieces_)
      if (is_side(piece) && piece.face.pocket == floor.face.pocket && piece.face.kind != Surface::free_form)
        return piece.face.frame.origin;
    return floor.face.frame.origin;
  }

  /// Angle by which a floor is off square to the axis; infinite where it is no floor of it.
  static double off_square(const Piece& piece, Vec3 up, Vec3 on_axis) {
    if (dot(piece.outward, up) <= 0) return INFINITY;
    switch (piece.face.kind) {
      case Surface::plane: {
        const double off = angle_between(piece.outward, up);
        return off < kMostLean ? off : INFINITY;
      }
      case Surface::sphere:
        return norm(square_to(piece.face.frame.origin - on_axis, up)) < kSameAxis ? 0.0 : INFINITY;
      case Surface::cone:
        return norm(square_to(piece.face.frame.z, up)) < kParallel ? 0.0 : INFINITY;
      default:
        return INFINITY;
    }
  }

  bool has_floor(int valve) const {
    return std::any_of(pieces_.begin(), pieces_.end(), [&](const Piece& piece) {
      return piece.known && piece.face.group == Group::floor && piece.face.pocket == valve && !is_lone(piece);
    });
  }
  bool is_lone(const Piece& piece) const {
    return std::none_of(piece.beside.begin(), piece.beside.end(), [&](const auto& other) {
      const Piece& side = pieces_[static_cast<std::size_t>(other.first)];
      return is_side(side) && side.face.pocket == piece.face.pocket;
    });
  }

  /// Planes across a valve's path that lean as it does, where no wall stands.
  void find_lone_floors() {
    for (Piece& piece : pieces_) {
      if (piece.known || !piece.in_sight || piece.face.kind != Surface::plane || piece.inside.z > -kLevel) continue;
      if (piece.outward.z > std::cos(kSteep)) continue;
      int best = -1;
      double least = kSameSlope;
      for (std::size_t i = 0; i < axes_.size(); ++i) {
        const double off = angle_between(piece.outward, axes_[i].up);
        if (has_floor(static_cast<int>(i))) continue;
        const bool across = norm(square_to(piece.inside - axes_[i].crossing, axes_[i].up)) < kMostOfRim * axes_[i].rim;
        if (across && off < least) least = off, best = static_cast<int>(i);
      }
      if (best >= 0) settle(piece, Group::floor, best);
    }
  }

  /// Breaks and roundings between a wall and the crown above.
  void find_mouths() {
    for (int i = 0; i < static_cast<int>(pieces_.size()); ++i) {
      Piece& piece = at(i);
      if (piece.known) continue;
      for (const auto& [other, where] : piece.beside) {
        const Piece& side = at(other);
        if (!is_side(side) || side.face.kind == Surface::free_form) continue;
        if (!breaks(piece, side)) continue;
        const bool below = dot(piece.inside - side.inside, side.face.frame.z) < 0;
        settle(piece, below ? Group::corner : Group::mouth, side.face.pocket);
        break;
      }
    }
  }

  /// Planes that a mouth's edge break ends on.
  void find_ledges() {
    for (Piece& piece : pieces_) {
      if (piece.known || piece.face.kind != Surface::plane) continue;
      int valve = -1;
      for (const auto& [other, where] : piece.beside)
        if (at(other).known && at(other).face.group == Group::mouth) valve = at(other).face.pocket;
      for (const auto& [other, where] : piece.beside) {
        const Piece& side = at(other);
        if (valve < 0 || !is_side(side) || side.face.kind == Surface::free_form || side.face.pocket != valve) continue;
        const Reach reach = reach_from(piece, side);
        if (reach.least < 2 - kMostMouth || reach.most > kMostMouth) continue;
        settle(piece, Group::mouth, valve);
        break;
      }
    }
  }

  static bool breaks(const Piece& piece, const Piece& side) {
    const Frame& axis = side.face.frame;
    const auto about_axis = [&] {
      return norm(square_to(piece.face.frame.z, axis.z)) < kParallel &&
             norm(square_to(piece.face.frame.origin - axis.origin, axis.z)) < kSameAxis;
    };
    switch (piece.face.kind) {
      case Surface::cone:
        return !piece.bulges && about_axis();
      case Surface::torus:
        return about_axis();
      case Surface::free_form: {  // narrow, all along the wall
        const Reach reach = reach_from(piece, side);
        return reach.most < kMostMouth && reach.least > 2 - kMostMouth;
      }
      default:
        return false;
    }
  }

  void find_rest() {
    for (Piece& piece : pieces_) {
      if (piece.known) continue;
      const Face& face = piece.face;
      if (!piece.in_sight && !(std::fabs(piece.outward.z) < 0.5 && !piece.bulges && beside_top(piece))) {
        settle(piece, Group::underside);
      } else if (piece.inside.z > -kLevel) {
        settle(piece, Group::dome);
      } else if (!piece.bulges && (face.kind == Surface::cylinder || face.kind == Surface::cone) &&
                 std::fabs(piece.outward.z) < 0.5) {
        settle(piece, Group::dish_wall);
      } else if (!piece.bulges && face.kind == Surface::torus) {
        settle(piece, Group::dish_corner);
      } else {
        settle(piece, Group::dish_floor);
      }
    }
  }

  /// A wall stands upright: from above only what it is beside is in sight.
  bool beside_top(const Piece& piece) {
    return std::any_of(piece.beside.begin(), piece.beside.end(),
                       [&](const auto& other) { return at(other.first).in_sight; });
  }

  void tell_missing() {
    const std::string& file = engine_.piston.step->file;
    for (std::size_t valve = 0; valve < engine_.valves.size(); ++valve) {
      bool wall = false, floor = false;
      for (const Piece& piece : pieces_) {
        if (piece.face.pocket != static_cast<int>(valve)) continue;
        floor |= piece.face.group == Group::floor;
        wall |= piece.face.group != Group::floor;
      }
      if (wall && floor) continue;
      const char* lacks = wall ? "no floor of its pocket" : floor ? "no wall of its pocket" : "no pocket";
      warnings_.push_back(fault_at(origins_, "piston.step.file",
                                   fmt::format("{}: {} was found of valve \"{}\"{}; `eyebrow faces` shows what each "
                                               "face was taken for",
                                               file, lacks, engine_.valves[valve].name,
                                               wall ? "" : ", so its radial gap has nothing to be measured to")));
    }
  }

  std::string name_for(const Face& face) const {
    if (face.pocket >= 0) {
      const char* part = face.group == Group::floor    ? "floor"
                         : face.group == Group::corner ? "corner"
                         : face.group == Group::mouth  ? "mouth"
                                                       : "wall";
      return fmt::format("{} pocket {}", engine_.valves[static_cast<std::size_t>(face.pocket)].name, part);
    }
    return to_string(face.group);
  }

  std::vector<Face> named_faces() {
    std::vector<Face> faces;
    for (Piece& piece : pieces_) {
      piece.face.name = name_for(piece.face);
      faces.push_back(std::move(piece.face));
    }
    number_names(faces);
    return faces;
  }

  const TopoDS_Shape& solid_;
  const Engine& engine_;
  const Origins& origins_;
  std::vector<Fault>& warnings_;
  std::vector<Piece> pieces_;
  std::vector<Axis> axes_;
};

}  // namespace

std::vector<Face> step_faces(const TopoDS_Shape& solid, const std::vector<std::string>& file_names,
                             const Engine& engine, const Origins& origins, std::vector<Fault>& warnings) {
  return Grouper(solid, engine, origins, warnings).faces(file_names);
}

}  // namespace eyebrow
