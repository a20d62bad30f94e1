#include "outline.hpp"

#include <algorithm>
#include <cmath>

namespace eyebrow::gap {
namespace {

constexpr double kInLine = 1e-9;  // radians: two elements that go on smoothly

/// Unit normal out of the metal at one end of an element.
Point2 normal_at(const ProfileElement& e, Point2 end) {
  const Point2 along = direction_at(e, end);
  return {along.w, -along.r};
}

Point2 moved(Point2 p, Point2 a, Point2 b, double grow) {
  const double share = grow / (1 + a.r * b.r + a.w * b.w);
  return {p.r + share * (a.r + b.r), p.w + share * (a.w + b.w)};
}

/// The dome slid out by `sideways` is flat about the axis, then its own arc. The arc from the axis to the same rim with
/// the dome's height lies at most its steepest slope times `sideways` above that, so what is below the margin goes down
/// by it.
void widen_dome(Profile& profile, std::size_t margin, double sideways) {
  auto& elements = profile.elements;
  ProfileElement& face = elements.front();
  const double height = face.to.w - face.from.w, half = face.to.r;
  face.radius = (half * half + height * height) / (2 * height);
  face.centre = {0, face.from.w + face.radius};
  const double down = sideways * half / (face.radius - height);
  for (std::size_t i = 0; i < margin; ++i) {
    elements[i].from.w -= down;
    elements[i].to.w -= down;
    elements[i].centre.w -= down;
  }
  elements[margin].from.w -= down;
  profile.lowest -= down;
}

/// The dish slid about is hollow only where it was hollow all round by `sideways`: at least its steepest slope times
/// that less. From where the lowered arc comes out the lip goes on level.
void widen_dish(Profile& profile, const ProfileElement& dish, double sideways) {
  auto& elements = profile.elements;
  const double down = sideways * dish.to.r / (dish.to.w - dish.centre.w);
  const Point2 lip = elements.front().to;
  const double top = dish.from.w - down, centre = dish.centre.w - down, rise = lip.w - centre;
  if (top <= lip.w) {
    elements.front() = {ValvePart::face, {0, lip.w}, lip, {}, 0, true};
    return;
  }
  const Point2 out{std::sqrt(dish.radius * dish.radius - rise * rise), lip.w};
  elements.front() = {ValvePart::face, {0, top}, out, {0, centre}, dish.radius, false};
  elements.insert(elements.begin() + 1, {ValvePart::face, out, lip, {}, 0, true});
}

}  // namespace

Point2 direction_at(const ProfileElement& e, Point2 end) {
  if (e.radius > 0) {
    const double sign = (e.bulges ? 1.0 : -1.0) / e.radius;
    return {-sign * (end.w - e.centre.w), sign * (end.r - e.centre.r)};
  }
  const double dr = e.to.r - e.from.r, dw = e.to.w - e.from.w, length = std::hypot(dr, dw);
  return {dr / length, dw / length};
}

Profile offset_outline(const Profile& profile, double grow) {
  Profile result = profile;
  if (grow == 0) return result;
  auto& elements = result.elements;
  const std::size_t n = elements.size();
  for (std::size_t i = 0; i < n; ++i) {
    const ProfileElement& e = profile.elements[i];
    // On the axis the outline meets its own mirror image, so the end stays on the axis.
    const Point2 first = normal_at(e, e.from), last = normal_at(e, e.to);
    elements[i].from = i == 0 ? Point2{0, e.from.w + grow * first.w}
                              : moved(e.from, normal_at(profile.elements[i - 1], e.from), first, grow);
    elements[i].to = i + 1 == n ? Point2{0, e.to.w + grow * last.w}
                                : moved(e.to, last, normal_at(profile.elements[i + 1], e.to), grow);
    if (e.radius > 0) elements[i].radius = e.radius + (e.bulges ? grow : -grow);
  }
  result.rim_radius += grow;
  result.margin += grow;
  if (profile.edge_radius > 0) result.edge_radius += grow;
  result.lowest -= grow;
  result.top += grow;
  return result;
}

std::size_t margin_of(const std::vector<ProfileElement>& elements) {
  std::size_t rounding = 0;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    if (elements[i].part == ValvePart::margin) return i;
    if (elements[i].part == ValvePart::rim_edge) rounding = i;
  }
  return rounding;
}

const ProfileElement* rim_edge_of(const std::vector<ProfileElement>& elements) {
  for (const ProfileElement& e : elements)
    if (e.part == ValvePart::rim_edge) return &e;
  return nullptr;
}

bool hollow_below(const Profile& profile) {
  const ProfileElement &face = profile.elements.front(), &next = profile.elements[1];
  if (!(face.radius > 0)) return false;
  if (!face.bulges) return true;
  const Point2 before = direction_at(face, face.to), after = direction_at(next, next.from);
  return next.part == ValvePart::rim_edge && before.r * after.w - before.w * after.r < -kInLine;
}

std::vector<Vec3> brink_places(const Profile& profile) {
  constexpr int kAround = 16;
  const ProfileElement& face = profile.elements.front();
  std::vector<Vec3> places;
  if (!(face.radius > 0) || face.bulges) return places;
  for (int i = 0; i < kAround; ++i) {
    const double turn = 2 * kPi * i / kAround;
    places.push_back({face.to.r * std::cos(turn), face.to.r * std::sin(turn), face.to.w});
  }
  return places;
}

Profile filled_outline(Profile profile) {
  if (!hollow_below(profile)) return profile;
  auto& elements = profile.elements;
  ProfileElement& face = elements.front();
  if (!face.bulges) {
    face.radius = 0;
    face.from = {0, face.to.w};
    // A widened dish has a level lip, which goes on in line.
    if (elements[1].part == ValvePart::face) {
      face.to = elements[1].to;
      elements.erase(elements.begin() + 1);
    }
    // Of an outline moved out the brink lies beside the rounded edge's foot and a hair below it: the lid goes to the
    // foot, or the two would turn in and the rim would be no part of the head's convex solid. The valve moved out in
    // earnest reaches no lower than that foot.
    ProfileElement& edge = elements[1];
    if (edge.part == ValvePart::rim_edge && face.to.r < edge.centre.r) {
      edge.from = {edge.centre.r, edge.centre.w - edge.radius};
      face = {ValvePart::face, {0, edge.from.w}, edge.from, {}, 0, true};
    }
    return profile;
  }
  // The common tangent's unit normal n, out of the metal: n . (centre to centre) = difference of the radii.
  ProfileElement& edge = elements[1];
  const double dr = edge.centre.r - face.centre.r, dw = edge.centre.w - face.centre.w, apart = std::hypot(dr, dw);
  const double along = (face.radius - edge.radius) / apart, across = std::sqrt(std::max(0.0, 1 - along * along));
  const Point2 n{(along * dr + across * dw) / apart, (along * dw - across * dr) / apart};
  face.to = {face.centre.r + face.radius * n.r, face.centre.w + face.radius * n.w};
  edge.from = {edge.centre.r + edge.radius * n.r, edge.centre.w + edge.radius * n.w};
  ProfileElement lid{ValvePart::face, face.to, edge.from, {}, 0, true};
  elements.insert(elements.begin() + 1, lid);
  return profile;
}

Profile widened_outline(const Profile& profile, double sideways, double up) {
  Profile result = profile;
  // Of a disc that slides every slice square to the axis grows by `sideways`, so all that looks away from the axis
  // moves out by it; what bounds the metal from above moves up.
  auto& elements = result.elements;
  std::size_t margin = margin_of(elements);
  if (elements[margin].part != ValvePart::margin && up > 0) {
    const Point2 top = elements[margin].to;
    elements.insert(elements.begin() + static_cast<std::ptrdiff_t>(++margin),
                    {ValvePart::margin, top, top, {}, 0, true});
  }
  for (std::size_t i = 0; i < elements.size(); ++i) {
    ProfileElement& e = elements[i];
    const double rise_from = i > margin ? up : 0, rise_to = i >= margin ? up : 0;
    e.from = {i == 0 ? 0 : e.from.r + sideways, e.from.w + rise_from};
    e.to = {i + 1 == elements.size() ? 0 : e.to.r + sideways, e.to.w + rise_to};
    e.centre = {e.centre.r + sideways, e.centre.w + rise_to};
  }
  result.rim_radius += sideways;
  result.margin += up;
  result.top += up;
  const ProfileElement& face = profile.elements.front();
  if (face.radius == 0) return result;
  if (face.bulges)
    widen_dome(result, margin, sideways);
  else
    widen_dish(result, face, sideways);
  return result;
}

}  // namespace eyebrow::gap
