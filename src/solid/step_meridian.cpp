#include "solid/step_meridian.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepClass3d.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "solid/occt.hpp"
#include "solid/outline_volume.hpp"
#include "solid/step_surface.hpp"

namespace eyebrow {
namespace {

/// Ends of faces that are meant to meet, and axes that are meant to be one; mm and radians.
constexpr double kMeet = 1e-3, kOneAxis = 1e-6;
/// A face that is known by its points turns about the axis when they keep their distance so well, mm.
constexpr double kTurned = 1e-4;
constexpr int kAlongEdge = 8, kAroundFace = 12, kAlongCurve = 400;

bool same(Point2 a, Point2 b) {
  return std::hypot(a.r - b.r, a.w - b.w) < kMeet;
}

double turn_of(Point2 a, Point2 b, Point2 c) {
  return (b.r - a.r) * (c.w - a.w) - (b.w - a.w) * (c.r - a.r);
}

class MeridianReader {
 public:
  MeridianReader(const TopoDS_Shape& solid, const std::vector<std::string>& names, const Frame& axis)
      : names_(names), axis_(axis) {
    TopTools_IndexedMapOfShape outer;  // a hollow inside, as of a cooled valve, is not met by anything
    for (TopExp_Explorer each(BRepClass3d::OuterShell(TopoDS::Solid(solid)), TopAbs_FACE); each.More(); each.Next())
      outer.Add(each.Current());
    for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next()) {
      ++number_;
      if (outer.Contains(each.Current())) add(TopoDS::Face(each.Current()));
    }
  }

  std::vector<MeridianPiece> chained() {
    std::vector<MeridianPiece> chain;
    const auto on_axis = [](Point2 p) { return p.r < kMeet; };
    const auto start = std::find_if(pieces_.begin(), pieces_.end(), [&](const MeridianPiece& piece) {
      return on_axis(piece.shape.from) || on_axis(piece.shape.to);
    });
    if (start == pieces_.end())
      throw NotRevolved("its outline nowhere meets its axis: it is hollow all the way through");
    if (!on_axis(start->shape.from)) turn(*start);
    chain.push_back(*start);
    pieces_.erase(start);
    while (!on_axis(chain.back().shape.to)) {
      const Point2 end = chain.back().shape.to;
      const auto next = std::find_if(pieces_.begin(), pieces_.end(), [&](const MeridianPiece& piece) {
        return same(piece.shape.from, end) || same(piece.shape.to, end);
      });
      if (next == pieces_.end()) throw NotRevolved(fmt::format("{} goes on nowhere", chain.back().face));
      if (!same(next->shape.from, end)) turn(*next);
      MeridianPiece piece = *next;
      pieces_.erase(next);
      piece.shape.from = end;
      if (!piece.points.empty()) piece.points.front() = end;
      chain.push_back(std::move(piece));
    }
    if (!pieces_.empty()) throw NotRevolved(fmt::format("{} is no part of one outline", pieces_.front().face));
    chain.front().shape.from.r = chain.back().shape.to.r = 0;
    return chain;
  }

 private:
  std::string name() const {
    const auto i = static_cast<std::size_t>(number_) - 1;
    return i < names_.size() && !names_[i].empty() ? fmt::format("face {} (\"{}\")", number_, names_[i])
                                                   : fmt::format("face {}", number_);
  }
  [[noreturn]] void refuse(const std::string& why) const { throw NotRevolved(fmt::format("{} {}", name(), why)); }

  Vec3 from_axis(Vec3 p) const {
    const Vec3 from = p - axis_.origin;
    return from - dot(from, axis_.z) * axis_.z;
  }
  Point2 in_plane(Vec3 p) const { return {norm(from_axis(p)), dot(p - axis_.origin, axis_.z)}; }
  bool about_axis(Vec3 origin, Vec3 along) const {
    return norm(cross(along, axis_.z)) < kOneAxis && norm(from_axis(origin)) < kMeet;
  }

  static void turn(MeridianPiece& piece) {
    std::swap(piece.shape.from, piece.shape.to);
    std::reverse(piece.points.begin(), piece.points.end());
  }

  void add(const TopoDS_Face& shape) {
    const Face face = step_surface(shape);
    const Vec3 inside = point_inside(shape);
    MeridianPiece piece;
    piece.face = name();
    std::vector<Point2> ends = ends_of(shape);
    switch (face.kind) {
      case Surface::plane:
        if (norm(cross(face.frame.z, axis_.z)) > kOneAxis)
          refuse("is a plane that is not square to the axis: a flat, a keyway or lettering");
        if (ends.size() == 1) ends.push_back({0, ends.front().w});
        break;
      case Surface::cylinder:
        if (!about_axis(face.frame.origin, face.frame.z)) refuse("is a cylinder about another axis: a hole or a slot");
        break;
      case Surface::cone:
        if (!about_axis(face.frame.origin, face.frame.z)) refuse("is a cone about another axis");
        if (ends.size() == 1)
          ends.push_back(
              {0, in_plane(face.frame.origin).w - dot(face.frame.z, axis_.z) * face.radius / std::tan(face.radius2)});
        break;
      case Surface::torus:
        if (!about_axis(face.frame.origin, face.frame.z)) refuse("is a torus about another axis");
        piece.shape.radius = face.radius2;
        piece.shape.centre = {face.radius, in_plane(face.frame.origin).w};
        break;
      case Surface::sphere:
        if (norm(from_axis(face.frame.origin)) > kMeet) refuse("is a ball that is not centred on the axis");
        piece.shape.radius = face.radius;
        piece.shape.centre = {0, in_plane(face.frame.origin).w};
        if (ends.size() == 1) {
          const double up = in_plane(inside).w > ends.front().w ? 1 : -1;
          ends.push_back({0, piece.shape.centre.w + up * face.radius});
        }
        break;
      default:
        add_curve(shape, piece, ends);
        break;
    }
    if (ends.size() != 2) refuse(fmt::format("meets the rest of the outline at {} places instead of two", ends.size()));
    piece.shape.from = ends[0];
    piece.shape.to = ends[1];
    if (piece.shape.radius > 0) check_arc(piece, in_plane(inside));
    const bool known = std::any_of(pieces_.begin(), pieces_.end(), [&](const MeridianPiece& other) {
      const bool one_way = same(other.shape.from, ends[0]) && same(other.shape.to, ends[1]);
      const bool other_way = same(other.shape.from, ends[1]) && same(other.shape.to, ends[0]);
      return (one_way || other_way) && std::fabs(other.shape.radius - piece.shape.radius) < kMeet &&
             same(other.shape.centre, piece.shape.centre);
    });  // halves of one face
    if (!known) pieces_.push_back(std::move(piece));
  }

  void check_arc(const MeridianPiece& piece, Point2 inside) const {
    const ProfileElement& arc = piece.shape;
    for (const Point2 end : {arc.from, arc.to})
      if (std::fabs(std::hypot(end.r - arc.centre.r, end.w - arc.centre.w) - arc.radius) > kMeet)
        refuse("ends off its own circle");
    if (turn_of(arc.from, arc.to, inside) * turn_of(arc.from, arc.to, arc.centre) > 0)
      refuse("is rounded by more than half a turn");
  }

  /// Where the face's borders are, each once: circles about the axis are points, and so are poles.
  std::vector<Point2> ends_of(const TopoDS_Face& shape) const {
    std::vector<Point2> ends;
    const auto take = [&](Point2 p) {
      if (std::none_of(ends.begin(), ends.end(), [&](Point2 known) { return same(known, p); })) ends.push_back(p);
    };
    for (TopExp_Explorer each(shape, TopAbs_VERTEX); each.More(); each.Next())
      if (const Point2 p = in_plane(to_vec(BRep_Tool::Pnt(TopoDS::Vertex(each.Current())))); p.r < kMeet)
        take({0, p.w});
    for (TopExp_Explorer each(shape, TopAbs_EDGE); each.More(); each.Next()) {
      const TopoDS_Edge edge = TopoDS::Edge(each.Current());
      if (BRep_Tool::Degenerated(edge)) continue;
      if (const std::optional<Point2> end = circle_of(edge)) take(*end);
    }
    return ends;
  }

  /// Nothing of an edge that runs along the axis within a plane through it.
  std::optional<Point2> circle_of(const TopoDS_Edge& edge) const {
    const BRepAdaptor_Curve curve(edge);
    std::vector<Vec3> points;
    for (int k = 0; k <= kAlongEdge; ++k)
      points.push_back(to_vec(
          curve.Value(curve.FirstParameter() + (curve.LastParameter() - curve.FirstParameter()) * k / kAlongEdge)));
    const Point2 first = in_plane(points.front());
    if (std::all_of(points.begin(), points.end(), [&](Vec3 p) { return same(in_plane(p), first); })) return first;
    const Vec3 out = from_axis(*std::max_element(
        points.begin(), points.end(), [&](Vec3 a, Vec3 b) { return norm(from_axis(a)) < norm(from_axis(b)); }));
    const Vec3 side = cross(axis_.z, unit(out));
    for (const Vec3 p : points)
      if (std::fabs(dot(from_axis(p), side)) > kMeet || dot(from_axis(p), out) < -kMeet)
        refuse(
            "ends at an edge that runs neither around the axis nor straight along it: a flat, a keyway, a hole or "
            "lettering");
    return std::nullopt;
  }

  /// A face that is none of the plain ones, where its points show that it turns about the axis.
  void add_curve(const TopoDS_Face& shape, MeridianPiece& piece, std::vector<Point2>& ends) const {
    double range[2][2];
    BRepTools::UVBounds(shape, range[0][0], range[0][1], range[1][0], range[1][1]);
    const BRepAdaptor_Surface surface(shape);
    const auto at = [&](int way, double along, double around) {
      const double a = range[way][0] + (range[way][1] - range[way][0]) * along;
      const double b = range[1 - way][0] + (range[1 - way][1] - range[1 - way][0]) * around;
      return in_plane(to_vec(way == 0 ? surface.Value(a, b) : surface.Value(b, a)));
    };
    for (const int way : {0, 1}) {
      double spread = 0;
      for (int i = 0; i <= kAroundFace; ++i)
        for (int j = 1; j <= kAroundFace; ++j) {
          const double along = static_cast<double>(i) / kAroundFace;
          const Point2 p = at(way, along, 0), q = at(way, along, static_cast<double>(j) / kAroundFace);
          spread = std::max(spread, std::hypot(p.r - q.r, p.w - q.w));
        }
      if (spread > kTurned) continue;
      for (int i = 0; i <= kAlongCurve; ++i) piece.points.push_back(at(way, static_cast<double>(i) / kAlongCurve, 0));
      for (Point2* end : {&piece.points.front(), &piece.points.back()})
        if (end->r < kMeet && std::none_of(ends.begin(), ends.end(), [&](Point2 p) { return same(p, *end); }))
          ends.push_back({0, end->w});
      if (ends.size() == 2 && same(piece.points.front(), ends[1]))
        std::reverse(piece.points.begin(), piece.points.end());
      if (ends.size() == 2 && !(same(piece.points.front(), ends[0]) && same(piece.points.back(), ends[1])))
        refuse("is free form, and ends elsewhere than its own surface");
      return;
    }
    refuse("is free form and does not turn about the axis");
  }

  const std::vector<std::string>& names_;
  const Frame& axis_;
  int number_ = 0;
  std::vector<MeridianPiece> pieces_;
};

}  // namespace

std::vector<MeridianPiece> meridian_of(const TopoDS_Shape& solid, const std::vector<std::string>& face_names,
                                       const Frame& axis) {
  return MeridianReader(solid, face_names, axis).chained();
}

double swept_volume(const std::vector<MeridianPiece>& outline) {
  Profile all;
  for (const MeridianPiece& piece : outline) {
    if (piece.points.empty()) {
      all.elements.push_back(piece.shape);
      continue;
    }
    for (std::size_t i = 1; i < piece.points.size(); ++i) {
      ProfileElement chord;
      chord.from = piece.points[i - 1];
      chord.to = piece.points[i];
      all.elements.push_back(chord);
    }
  }
  return std::fabs(outline_volume(all));
}

}  // namespace eyebrow
