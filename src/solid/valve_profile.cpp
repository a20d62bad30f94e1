#include "eyebrow/profile.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solid/faults.hpp"
#include "solid/tolerances.hpp"
#include "solid/valve_outline.hpp"

namespace eyebrow {
namespace {

/// The corners of the outline, before any check.
struct Corners {
  double face_radius = 0;  ///< where the valve face meets the rim's edge radius
  Point2 seat_end, stem_foot;
};

Corners corners_of(const Valve& valve) {
  Corners corners;
  const double radius = valve.head_diameter / 2, stem = valve.stem_diameter / 2;
  corners.face_radius = radius - valve.rim_radius;
  corners.seat_end = {radius - valve.seat_width * std::cos(valve.seat_angle),
                      valve.margin + valve.seat_width * std::sin(valve.seat_angle)};
  corners.stem_foot = {stem, corners.seat_end.w + (corners.seat_end.r - stem) * std::tan(valve.underhead_angle)};
  return corners;
}

double distance_to_segment(Point2 p, Point2 a, Point2 b) {
  const double dr = b.r - a.r, dw = b.w - a.w;
  const double t = std::clamp(((p.r - a.r) * dr + (p.w - a.w) * dw) / (dr * dr + dw * dw), 0.0, 1.0);
  return std::hypot(a.r + t * dr - p.r, a.w + t * dw - p.w);
}

/// Collects the faults of one valve.
class OutlineChecker {
 public:
  OutlineChecker(const Valve& valve, LengthUnit unit, const Origins& origins)
      : valve_(valve), unit_(unit), origins_(origins) {}

  void above_zero(const char* key, double value) {
    if (!(value > 0) || !std::isfinite(value)) say(key, fmt::format("{} must be above 0, not {}", key, length(value)));
  }
  void not_negative(const char* key, double value) {
    if (!(value >= 0) || !std::isfinite(value)) {
      say(key, fmt::format("{} must not be negative, but is {}", key, length(value)));
    }
  }
  void angle(const char* key, double value, bool zero_allowed) {
    if ((zero_allowed ? value >= 0 : value > 0) && value < kPi / 2) return;
    say(key, fmt::format("{} must be {} 0 and below 90 degrees, not {:.4g}", key, zero_allowed ? "at least" : "above",
                         value / kDegree));
  }
  void say(const char* key, const std::string& text) {
    faults_.push_back(fault_at(origins_, fmt::format("valve.{}.{}", valve_.name, key),
                               fmt::format("valve {}: {}", valve_.name, text)));
  }
  std::string length(double mm) const { return length_text(mm, unit_); }
  std::vector<Fault> take() { return std::move(faults_); }
  bool clean() const { return faults_.empty(); }

 private:
  const Valve& valve_;
  LengthUnit unit_;
  const Origins& origins_;
  std::vector<Fault> faults_;
};

void check_single_numbers(const Valve& valve, OutlineChecker& check) {
  check.above_zero("head_diameter", valve.head_diameter);
  check.above_zero("margin", valve.margin);
  check.above_zero("seat_width", valve.seat_width);
  check.above_zero("stem_diameter", valve.stem_diameter);
  check.not_negative("rim_radius", valve.rim_radius);
  check.angle("seat_angle", valve.seat_angle, false);
  check.angle("underhead_angle", valve.underhead_angle, true);
  if (valve.face != FaceShape::flat) check.above_zero("face_depth", valve.face_depth);
}

/// The outline must not fold or cross itself.
void check_folds(const Valve& valve, double stem_length, OutlineChecker& check) {
  const Corners corners = corners_of(valve);
  const double stem = valve.stem_diameter / 2;
  if (valve.rim_radius > valve.margin) {
    check.say("rim_radius", fmt::format("rim_radius {} does not fit in the margin of {}",
                                        check.length(valve.rim_radius), check.length(valve.margin)));
  }
  if (valve.rim_radius >= valve.head_diameter / 2) {
    check.say("rim_radius", fmt::format("rim_radius {} leaves nothing of a head of {}", check.length(valve.rim_radius),
                                        check.length(valve.head_diameter)));
  }
  if (corners.seat_end.r <= stem) {
    check.say("seat_width",
              fmt::format("a seat of {} at {:.4g} degrees reaches inward to a radius of {}, inside the stem's {}",
                          check.length(valve.seat_width), valve.seat_angle / kDegree, check.length(corners.seat_end.r),
                          check.length(stem)));
  }
  if (!check.clean()) return;
  if (corners.stem_foot.w >= stem_length) {
    check.say("underhead_angle",
              fmt::format("the head's back meets the stem {} above the rim plane, beyond the end of the stem at {}",
                          check.length(corners.stem_foot.w), check.length(stem_length)));
  }
  if (valve.face == FaceShape::flat) return;
  if (valve.face_depth >= corners.face_radius) {
    check.say("face_depth", fmt::format("face_depth {} is more than half a ball: it must be below {}",
                                        check.length(valve.face_depth), check.length(corners.face_radius)));
    return;
  }
  if (valve.face != FaceShape::dished) return;
  // The dish is the part of a ball above the rim plane; it breaks through where a segment of the back enters the ball.
  const FaceSphere ball = face_sphere(valve.face, valve.face_depth, corners.face_radius);
  const Point2 centre{0, ball.centre};
  const Point2 margin_top{valve.head_diameter / 2, valve.margin};
  if (distance_to_segment(centre, margin_top, corners.seat_end) <= ball.radius ||
      distance_to_segment(centre, corners.seat_end, corners.stem_foot) <= ball.radius) {
    check.say("face_depth",
              fmt::format("a dish {} deep breaks through the back of the head", check.length(valve.face_depth)));
  }
}

ProfileElement straight(ValvePart part, Point2 from, Point2 to) {
  ProfileElement element;
  element.part = part;
  element.from = from;
  element.to = to;
  return element;
}

ProfileElement arc(ValvePart part, Point2 from, Point2 to, Point2 centre, double radius, bool bulges) {
  ProfileElement element = straight(part, from, to);
  element.centre = centre;
  element.radius = radius;
  element.bulges = bulges;
  return element;
}

/// The valve face and, where the rim is rounded, its edge. The edge's arc touches the margin, and a flat or domed face:
/// the dome's ball is then larger than the one to the edge's centre by the edge's radius, and the two touch in line
/// with their centres.
void add_face_and_edge(const Valve& valve, double face_radius, std::vector<ProfileElement>& elements) {
  const double edge = valve.rim_radius, depth = valve.face_depth;
  Point2 end{face_radius, 0};
  const Point2 middle{face_radius, edge};  // of the edge's arc
  if (valve.face == FaceShape::flat) {
    elements.push_back(straight(ValvePart::face, {0, 0}, end));
  } else if (valve.face == FaceShape::dished) {
    const FaceSphere ball = face_sphere(valve.face, depth, face_radius);
    elements.push_back(arc(ValvePart::face, {0, depth}, end, {0, ball.centre}, ball.radius, false));
  } else {
    const FaceSphere to_middle = face_sphere(valve.face, depth, face_radius);
    const double share = edge / to_middle.radius;
    end = {face_radius * (1 + share), share * depth};
    elements.push_back(
        arc(ValvePart::face, {0, -depth}, end, {0, to_middle.centre + edge}, to_middle.radius + edge, true));
  }
  if (edge > 0) elements.push_back(arc(ValvePart::rim_edge, end, {face_radius + edge, edge}, middle, edge, true));
}

}  // namespace

FaceSphere face_sphere(FaceShape shape, double depth, double a) {
  const double radius = (a * a + depth * depth) / (2 * depth);  // closed form: chord 2a, height `depth`
  return {radius, shape == FaceShape::dished ? depth - radius : radius - depth};
}

std::vector<Fault> valve_faults(const Valve& valve, double stem_length, LengthUnit unit, const Origins& origins) {
  OutlineChecker check(valve, unit, origins);
  check_single_numbers(valve, check);
  if (check.clean()) check_folds(valve, stem_length, check);
  return check.take();
}

Profile valve_profile(const Valve& valve, double stem_length) {
  if (std::vector<Fault> faults = valve_faults(valve, stem_length, LengthUnit::mm, {}); !faults.empty()) {
    throw InputError(std::move(faults));
  }
  const double radius = valve.head_diameter / 2, edge = valve.rim_radius;
  const Corners corners = corners_of(valve);
  const Point2 stem_top{corners.stem_foot.r, stem_length};

  Profile profile;
  profile.rim_radius = radius;
  profile.margin = valve.margin;
  profile.edge_radius = edge;
  profile.lowest = valve.face == FaceShape::domed ? -valve.face_depth : 0.0;
  profile.top = stem_length;

  auto& elements = profile.elements;
  add_face_and_edge(valve, corners.face_radius, elements);
  // An edge radius may take up the whole margin; an outline holds no piece of no length.
  if (valve.margin - edge > kLeastPiece) {
    elements.push_back(straight(ValvePart::margin, {radius, edge}, {radius, valve.margin}));
  }
  const Point2 seat_start = elements.back().to;
  elements.push_back(straight(ValvePart::seat, seat_start, corners.seat_end));
  elements.push_back(straight(ValvePart::underhead, corners.seat_end, corners.stem_foot));
  elements.push_back(straight(ValvePart::stem, corners.stem_foot, stem_top));
  elements.push_back(straight(ValvePart::stem, stem_top, {0, stem_length}));
  return profile;
}

Profile with_stem(Profile profile, double stem_length) {
  const std::size_t count = profile.elements.size();
  ProfileElement &stem = profile.elements.at(count - 2), &end = profile.elements.at(count - 1);
  profile.top = std::max(stem_length, stem.from.w + kLeastPiece);
  stem.to.w = end.from.w = end.to.w = profile.top;
  return profile;
}

}  // namespace eyebrow
