#include "scene/section_dimensions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/words.hpp"
#include "scene/lit_gaps.hpp"
#include "study/clock.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kIsTheGap = 0.002;                       // mm; both are within 1 um of the exact value
constexpr double kSquareEnough = 1e-6;                    // a face's normal, out of the plane
constexpr double kAsNear = 1e-4;                          // mm; places as near as that are one patch ...
constexpr double kTravelShare = 0.35, kFaceShare = 0.65;  // ... on which the two stand beside each other
constexpr double kArcStep = 2 * kDegree;

/// In the plane: u across the valve's axis, w along it, from the rim's centre.
struct InPlane {
  double u = 0, w = 0;
};

struct CutLine {
  InPlane a, b;
  int face;
};

/// A length in the plane, from the valve to the piston.
struct Measured {
  double value;
  InPlane from, to;
};

bool nearer(const std::optional<Measured>& best, double value) {
  return !best || value < best->value;
}

/// The combustion side from the axis to the top of the margin, u >= 0.
std::vector<InPlane> underside_of(const Profile& profile) {
  std::vector<InPlane> out;
  for (const ProfileElement& e : profile.elements) {
    if (e.part != ValvePart::face && e.part != ValvePart::rim_edge && e.part != ValvePart::margin) break;
    out.push_back({e.from.r, e.from.w});
    if (e.radius > 0) {
      const double begin = std::atan2(e.from.w - e.centre.w, e.from.r - e.centre.r);
      const double turn = std::remainder(std::atan2(e.to.w - e.centre.w, e.to.r - e.centre.r) - begin, 2 * kPi);
      const int count = std::max(1, static_cast<int>(std::ceil(std::fabs(turn) / kArcStep)));
      for (int i = 1; i < count; ++i)
        out.push_back({e.centre.r + e.radius * std::cos(begin + turn * i / count),
                       e.centre.w + e.radius * std::sin(begin + turn * i / count)});
    }
    out.push_back({e.to.r, e.to.w});
  }
  return out;
}

class Measurer {
 public:
  Measurer(const study::Setup& setup, int valve, double crank, const ValveSection& section, const Cut& cut)
      : setup_(setup),
        valve_(setup.engine.valves.at(static_cast<std::size_t>(valve))),
        pocket_(own_pocket(setup.engine, static_cast<std::size_t>(valve))),
        section_(section) {
    const study::ValveSetup& of = setup.valves.at(static_cast<std::size_t>(valve));
    up_ = of.place.up;
    centre_ = of.to_piston.rim_centre(setup.pose(valve, crank));
    reach_ = of.asked.reach;
    profile_ = &of.to_piston.profile();
    const auto flat = [&](int point) {
      const Vec3 arm = cut.points[static_cast<std::size_t>(point)] - centre_;
      return InPlane{dot(arm, section.across), dot(arm, up_)};
    };
    for (const Cut::Line& line : cut.lines) lines_.push_back({flat(line.ends[0]), flat(line.ends[1]), line.face});
    for (const InPlane p : underside_of(*profile_)) {
      outline_.push_back(p);
      if (p.u > 0) outline_.insert(outline_.begin(), {-p.u, p.w});
    }
  }

  /// Along the axis.
  std::optional<Measured> travel() const {
    std::vector<double> places;
    for (const InPlane p : outline_) places.push_back(p.u);
    for (const CutLine& line : lines_) places.insert(places.end(), {line.a.u, line.b.u});
    std::optional<Measured> best;
    std::vector<Measured> all;
    for (const double u : places)
      if (const auto here = travel_at(u)) {
        all.push_back(*here);
        if (nearer(best, here->value)) best = here;
      }
    if (!best) return best;
    std::erase_if(all, [&](const Measured& each) { return each.value > best->value + kAsNear; });
    const auto [low, high] = std::ranges::minmax(all, {}, [](const Measured& each) { return each.from.u; });
    const auto beside = travel_at(low.from.u + kTravelShare * (high.from.u - low.from.u));
    return beside && beside->value <= best->value + kAsNear ? beside : best;
  }

  /// Square to the plane faces that stand square to the section.
  std::optional<Measured> face() const {
    std::optional<Measured> best;
    std::vector<Measured> all;
    for (const CutLine& line : lines_) {
      const std::optional<InPlane> normal = normal_of(line);
      if (!normal) continue;
      for (const InPlane p : outline_)
        if (const auto here = square_to(line, *normal, p)) all.push_back(*here);
      for (const InPlane foot : {line.a, line.b})
        if (const auto met = outward(foot, *normal)) all.push_back(*met);
    }
    for (const Measured& each : all)
      if (nearer(best, each.value)) best = each;
    if (!best) return best;
    std::erase_if(all, [&](const Measured& each) { return each.value > best->value + kAsNear; });
    const auto [low, high] = std::ranges::minmax(all, {}, [](const Measured& each) { return each.from.u; });
    const double wished = low.from.u + kFaceShare * (high.from.u - low.from.u);
    // On a patch every foot between two is as near.
    if (std::optional<Measured> between = face_at(wished); between && between->value <= best->value + kAsNear)
      return between;
    return *std::ranges::min_element(all, {}, [&](const Measured& each) { return std::fabs(each.from.u - wished); });
  }

  /// Square to the axis, on one side of it (1 or -1), while the rim goes on by at most `sweep`.
  std::optional<Measured> radial(double side, double sweep) const {
    std::optional<Measured> best;
    const double rim = profile_->rim_radius, low = -sweep, high = profile_->margin;
    for (const CutLine& line : lines_) {
      const Face& face = setup_.parts.crown.faces[static_cast<std::size_t>(line.face)];
      const bool of_the_side = face.group == Group::wall || face.group == Group::corner || face.group == Group::mouth;
      if (!of_the_side || face.pocket != pocket_) continue;
      const double from = std::max(low, std::min(line.a.w, line.b.w)),
                   to = std::min(high, std::max(line.a.w, line.b.w));
      if (from > to) continue;
      for (const double w : {from, to}) {
        const double share = line.a.w == line.b.w ? 0 : (w - line.a.w) / (line.b.w - line.a.w);
        const double u = line.a.u + share * (line.b.u - line.a.u);
        if (side * u > 0 && nearer(best, side * u - rim)) best = Measured{side * u - rim, {side * rim, w}, {u, w}};
      }
    }
    return best;
  }

  /// The kernel's own, where it lies in the plane.
  std::optional<Measured> in_plane(const Gap& gap) const {
    const auto off = [&](Vec3 p) { return std::fabs(dot(p - centre_, section_.plane.normal)); };
    if (off(gap.on_valve) > kIsTheGap || off(gap.on_other) > kIsTheGap) return std::nullopt;
    const auto flat = [&](Vec3 p) { return InPlane{dot(p - centre_, section_.across), dot(p - centre_, up_)}; };
    return Measured{gap.value, flat(gap.on_valve), flat(gap.on_other)};
  }

  double reach() const { return reach_; }

  /// Into the block frame.
  Vec3 place(InPlane p, double crank) const {
    const Vec3 piston{0, 0, setup_.engine.gasket.thickness + setup_.motion.height(crank)};
    return piston + centre_ + p.u * section_.across + p.w * up_;
  }

 private:
  std::optional<Measured> travel_at(double u) const {
    if (std::fabs(u) > profile_->rim_radius) return std::nullopt;
    std::optional<double> low, top;
    for (std::size_t i = 0; i + 1 < outline_.size(); ++i)
      if (const auto w = height_at({outline_[i], outline_[i + 1], -1}, u)) low = std::min(low.value_or(*w), *w);
    for (const CutLine& line : lines_)
      if (const auto w = height_at(line, u)) top = std::max(top.value_or(*w), *w);
    if (!low || !top) return std::nullopt;
    return Measured{*low - *top, {u, *low}, {u, *top}};
  }

  /// Under the place of the outline that is at `u`.
  std::optional<Measured> face_at(double u) const {
    std::optional<double> low;
    for (std::size_t i = 0; i + 1 < outline_.size(); ++i)
      if (const auto w = height_at({outline_[i], outline_[i + 1], -1}, u)) low = std::min(low.value_or(*w), *w);
    if (!low) return std::nullopt;
    std::optional<Measured> best;
    for (const CutLine& line : lines_)
      if (const std::optional<InPlane> normal = normal_of(line))
        if (const auto here = square_to(line, *normal, {u, *low}); here && nearer(best, here->value)) best = here;
    return best;
  }

  /// From a line to a place over it.
  static std::optional<Measured> square_to(const CutLine& line, InPlane normal, InPlane p) {
    const InPlane along{line.b.u - line.a.u, line.b.w - line.a.w};
    const double length = std::hypot(along.u, along.w);
    const double s = ((p.u - line.a.u) * along.u + (p.w - line.a.w) * along.w) / length;
    if (s < 0 || s > length) return std::nullopt;
    const InPlane foot{line.a.u + along.u * s / length, line.a.w + along.w * s / length};
    return Measured{(p.u - foot.u) * normal.u + (p.w - foot.w) * normal.w, p, foot};
  }

  static std::optional<double> height_at(const CutLine& line, double u) {
    const double left = std::min(line.a.u, line.b.u), right = std::max(line.a.u, line.b.u);
    if (u < left || u > right) return std::nullopt;
    if (left == right) return std::max(line.a.w, line.b.w);
    return line.a.w + (u - line.a.u) / (line.b.u - line.a.u) * (line.b.w - line.a.w);
  }

  /// Out of the metal; none where the face is none that face gaps are measured from, or not square to the section.
  std::optional<InPlane> normal_of(const CutLine& line) const {
    const Face& face = setup_.parts.crown.faces[static_cast<std::size_t>(line.face)];
    const bool measured_from = face.group == Group::flat || face.group == Group::floor ||
                               face.group == Group::dish_floor || face.group == Group::dome;
    if (!measured_from || face.kind != Surface::plane) return std::nullopt;
    if (std::fabs(dot(face.frame.z, section_.plane.normal)) > kSquareEnough) return std::nullopt;
    if (std::hypot(line.b.u - line.a.u, line.b.w - line.a.w) <= 0) return std::nullopt;
    return InPlane{dot(face.frame.z, section_.across), dot(face.frame.z, up_)};
  }

  /// From a foot along a normal to the first meeting with the valve.
  std::optional<Measured> outward(InPlane foot, InPlane normal) const {
    std::optional<Measured> best;
    for (std::size_t i = 0; i + 1 < outline_.size(); ++i) {
      const InPlane p = outline_[i], q = outline_[i + 1];
      const double du = q.u - p.u, dw = q.w - p.w, cross = normal.u * dw - normal.w * du;
      if (cross == 0) continue;
      const double way = ((p.u - foot.u) * dw - (p.w - foot.w) * du) / cross;
      const double share = ((p.u - foot.u) * normal.w - (p.w - foot.w) * normal.u) / cross;
      if (way < 0 || share < 0 || share > 1 || !nearer(best, way)) continue;
      best = Measured{way, {p.u + share * du, p.w + share * dw}, foot};
    }
    return best;
  }

  const study::Setup& setup_;
  const Valve& valve_;
  int pocket_;
  const ValveSection& section_;
  const Profile* profile_;
  Vec3 up_, centre_;  // piston frame
  double reach_ = 0;
  std::vector<CutLine> lines_;
  std::vector<InPlane> outline_;  // from rim to rim
};

using What = SectionDimension::What;

}  // namespace

GapKind kind_of(SectionDimension::What what) {
  switch (what) {
    case What::travel:
      return GapKind::travel;
    case What::face:
      return GapKind::face;
    case What::radial:
    case What::radial_opposite:
      break;
  }
  return GapKind::radial;
}

ValveSection valve_section(const study::Setup& setup, int valve, double clock, double crank, const PoseGaps& gaps,
                           std::optional<Vec3> focus) {
  const study::ValveSetup& of = setup.valves.at(static_cast<std::size_t>(valve));
  const Vec3 up = of.place.up, centre = setup.rim_centre(valve, setup.motion.lift(valve, crank));
  Vec3 across{NAN, NAN, NAN};
  const auto toward = [&](Vec3 arm) {
    if (!std::isfinite(dot(across, across))) across = unit(arm - dot(arm, up) * up);
  };
  if (!std::isnan(clock)) across = study::direction_at(clock, centre, up);
  if (focus) toward(*focus - centre);
  for (const GapKind kind : {GapKind::radial, GapKind::closest})
    if (gaps[kind].measured()) toward(gaps[kind].on_other - of.to_piston.rim_centre(setup.pose(valve, crank)));
  if (!std::isfinite(dot(across, across))) across = frame_about(centre, up).x;
  return {{centre, cross(across, up)}, across};
}

std::vector<SectionDimension> section_dimensions(const study::Setup& setup, int valve, double crank,
                                                 const ValveSection& section, const Cut& crown, const PoseGaps& gaps,
                                                 const Format& format) {
  const Measurer measurer(setup, valve, crank, section, crown);
  std::vector<SectionDimension> out;
  const auto add = [&](What what, std::optional<Measured> found) {
    const Gap& gap = gaps[kind_of(what)];
    if (!gap.measured()) return;
    // Less than the least around the whole valve: the plane's own rules do not see what the kernel sees.
    if (found && found->value < gap.value - kIsTheGap) found.reset();
    // A wall that just ends in the plane is met by the kernel alone.
    const bool elsewhere = !found || found->value > gap.value + kIsTheGap;
    if (const auto known = measurer.in_plane(gap); known && elsewhere && what != What::radial_opposite) found = known;
    if (!found) return;
    SectionDimension dimension;
    dimension.what = what;
    dimension.is_gap = found->value <= gap.value + kIsTheGap;
    dimension.value = dimension.is_gap ? gap.value : found->value;
    dimension.from = measurer.place(found->from, crank);
    dimension.to = measurer.place(found->to, crank);
    dimension.on_rim = on_rim_now(setup, valve, crank, dimension.from);
    const LitKind kind = lit_kind(kind_of(what));
    const double asked = asked_for(setup, valve, kind);
    dimension.is_short = is_short_of(dimension.value, asked);
    dimension.label = gap_words(kind, dimension.value, asked, dimension.is_short, format);
    if (!dimension.is_gap)
      dimension.label += fmt::format("\nin this section; least {}{}", Lengths(format).gap(gap.value),
                                     is_short_of(gap.value, asked) && !dimension.is_short ? "  SHORT" : "");
    out.push_back(std::move(dimension));
  };
  const std::optional<Measured> travel = measurer.travel();
  add(What::travel, travel);
  add(What::face, measurer.face());
  const double sweep = std::clamp(travel ? travel->value : measurer.reach(), 0.0, measurer.reach());
  std::optional<Measured> near = measurer.radial(1, sweep), far = measurer.radial(-1, sweep);
  if (!near || (far && far->value < near->value)) std::swap(near, far);
  add(What::radial, near);
  if (far) add(What::radial_opposite, far);
  return out;
}

}  // namespace eyebrow::scene
