// Crowns and valves made by hand for tests of the kernel alone: no modeller involved.
#pragma once
#include <cmath>
#include <vector>

#include "eyebrow/gap.hpp"

namespace eyebrow::shapes {

/// Sharp or rounded outline of a valve with a flat, dished (depth > 0) or domed (depth < 0) face.
inline Profile outline(double rim, double margin, double edge = 0, double depth = 0, double seat = 2.0,
                       double stem = 4.0) {
  Profile p;
  const double a = kPi / 4, under = 20 * kDegree;
  Point2 face_end{rim - edge, 0};
  const Point2 margin_start{rim, edge}, margin_end{rim, margin};
  const double h = std::fabs(depth), ball = depth != 0 ? (face_end.r * face_end.r + h * h) / (2 * h) : 0;
  // A dome and the edge touch: as far beyond the edge's centre, seen from the dome's, as the edge is round.
  if (depth < 0) face_end = {face_end.r * (1 + edge / ball), h * edge / ball};
  ProfileElement face{ValvePart::face, {0, depth}, face_end, {}, 0, true};
  if (depth != 0) {
    face.radius = depth < 0 ? ball + edge : ball;
    face.bulges = depth < 0;
    face.centre = {0, depth < 0 ? depth + face.radius : depth - face.radius};
  }
  p.elements.push_back(face);
  if (edge > 0) p.elements.push_back({ValvePart::rim_edge, face_end, margin_start, {rim - edge, edge}, edge, true});
  p.elements.push_back({ValvePart::margin, margin_start, margin_end, {}, 0, true});
  const Point2 seat_end{rim - seat * std::cos(a), margin + seat * std::sin(a)};
  p.elements.push_back({ValvePart::seat, margin_end, seat_end, {}, 0, true});
  const Point2 under_end{stem, seat_end.w + (seat_end.r - stem) * std::tan(under)};
  p.elements.push_back({ValvePart::underhead, seat_end, under_end, {}, 0, true});
  p.top = 10 * rim;
  p.elements.push_back({ValvePart::stem, under_end, {stem, p.top}, {}, 0, true});
  p.elements.push_back({ValvePart::stem, {stem, p.top}, {0, p.top}, {}, 0, true});
  p.rim_radius = rim;
  p.margin = margin;
  p.edge_radius = edge;
  p.lowest = std::min(0.0, depth);
  return p;
}

struct TiltedPocket {
  double x = 0, y = 0, tilt = 0, lean = 0, radius = 20;
  double floor = 5;  ///< along the axis from the crown flat to the floor
};

/// A flat crown of one sharp pocket with all of its floor below the crown flat and all of its mouth on it.
inline Crown pocketed(double crown_radius, const TiltedPocket& pocket, int around = 720) {
  Crown crown;
  const Vec3 b = tilted_axis(pocket.tilt, pocket.lean);
  const Frame frame = frame_about(Vec3{pocket.x, pocket.y, 0} - pocket.floor * b, b);
  Face flat{Surface::plane, Group::flat, -1, "crown flat", {}, 0, 0, 0};
  Face floor{Surface::plane, Group::floor, 0, "pocket floor", frame, 0, 0, 0};
  Face wall{Surface::cylinder, Group::wall, 0, "pocket wall", frame, pocket.radius, 0, 0};
  crown.faces = {flat, floor, wall};
  const int n = around;
  for (int i = 0; i < n; ++i) {
    const double t = 2 * kPi * i / n;
    const Vec3 low = frame.origin + pocket.radius * (std::cos(t) * frame.x + std::sin(t) * frame.y);
    const Vec3 mouth = low + (-low.z / b.z) * b;
    const double out = std::atan2(mouth.y - pocket.y, mouth.x - pocket.x);
    // The crown's edge point in the same direction from the pocket's centre.
    const Vec3 d{std::cos(out), std::sin(out), 0};
    const double B = pocket.x * d.x + pocket.y * d.y;
    const double C = pocket.x * pocket.x + pocket.y * pocket.y - crown_radius * crown_radius;
    const double s = -B + std::sqrt(B * B - C);
    crown.points.push_back(low);
    crown.points.push_back(mouth);
    crown.points.push_back(Vec3{pocket.x, pocket.y, 0} + s * d);
  }
  crown.points.push_back(frame.origin);
  const int centre = 3 * n;
  Edge rim_of_mouth{{2, 0}, {}}, rim_of_floor{{1, 2}, {}}, outer{{0, -1}, {}};
  for (int i = 0; i < n; ++i) {
    const int j = (i + 1) % n;
    crown.triangles.push_back({{centre, 3 * i, 3 * j}, 1});
    crown.triangles.push_back({{3 * i, 3 * j + 1, 3 * j}, 2});
    crown.triangles.push_back({{3 * i, 3 * i + 1, 3 * j + 1}, 2});
    crown.triangles.push_back({{3 * i + 1, 3 * i + 2, 3 * j + 2}, 0});
    crown.triangles.push_back({{3 * i + 1, 3 * j + 2, 3 * j + 1}, 0});
    rim_of_mouth.points.push_back(crown.points[3 * i + 1]);
    rim_of_floor.points.push_back(crown.points[3 * i]);
    outer.points.push_back(crown.points[3 * i + 2]);
  }
  rim_of_mouth.points.push_back(rim_of_mouth.points.front());
  rim_of_floor.points.push_back(rim_of_floor.points.front());
  outer.points.push_back(outer.points.front());
  crown.edges = {rim_of_mouth, rim_of_floor, outer};
  // The outer edge is not near any pocket in these tests; the pocket's chords are what the mesh is off by.
  crown.error = pocket.radius / std::cos(pocket.tilt) * (1 - std::cos(kPi / n)) / std::cos(pocket.tilt);
  return crown;
}

/// A flat crown with no pocket.
inline Crown plain(double radius, int around = 360) {
  Crown crown;
  crown.faces = {{Surface::plane, Group::flat, -1, "crown flat", {}, 0, 0, 0}};
  for (int i = 0; i < around; ++i)
    crown.points.push_back({radius * std::cos(2 * kPi * i / around), radius * std::sin(2 * kPi * i / around), 0});
  crown.points.push_back({0, 0, 0});
  for (int i = 0; i < around; ++i) crown.triangles.push_back({{around, i, (i + 1) % around}, 0});
  crown.error = 0;
  return crown;
}

}  // namespace eyebrow::shapes
