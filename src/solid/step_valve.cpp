#include "solid/step_valve.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "solid/faults.hpp"
#include "solid/occt.hpp"
#include "solid/outline_cover.hpp"
#include "solid/step_in.hpp"
#include "solid/step_meridian.hpp"
#include "solid/step_surface.hpp"
#include "solid/tolerances.hpp"
#include "solid/unit_hint.hpp"

namespace eyebrow {
namespace {

/// Stated head and stem diameters are readings of the real valve, which may be worn or ground, mm.
constexpr double kReading = 0.05;
/// Pieces that are meant to be level, upright or tangent; what the file's own rounding leaves.
constexpr double kStraight = 1e-4;
/// The back of the head is replaced by straight pieces no further outside it: far below any asked gap.
constexpr double kBackWithin = 0.02;
constexpr int kBackPoints = 320;
/// Between the outline's volume and the solid's.
constexpr double kSameVolume = 1e-5;

/// Cylinders of the solid whose diameter is the stated stem's; the longest way round of a valve's axis.
std::optional<Face> stem_of(const TopoDS_Shape& solid, double diameter) {
  std::optional<Face> best;
  double most = 0;
  for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next()) {
    const Face face = step_surface(TopoDS::Face(each.Current()));
    if (face.kind != Surface::cylinder || std::fabs(2 * face.radius - diameter) > kReading) continue;
    const double area = area_of(TopoDS::Face(each.Current()));
    if (area > most) best = face, most = area;
  }
  return best;
}

/// Greatest distance of an edge from the axis.
double reach_of(const TopoDS_Shape& solid, const Frame& axis) {
  constexpr int kAlong = 16;
  double reach = 0;
  for (TopExp_Explorer each(solid, TopAbs_EDGE); each.More(); each.Next()) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(each.Current()));
    for (int k = 0; k <= kAlong; ++k) {
      const double t = curve.FirstParameter() + (curve.LastParameter() - curve.FirstParameter()) * k / kAlong;
      reach = std::max(reach, norm(cross(to_vec(curve.Value(t)) - axis.origin, axis.z)));
    }
  }
  return reach;
}

bool fits_valve(const TopoDS_Shape& solid, const Valve& valve) {
  const std::optional<Face> stem = stem_of(solid, valve.stem_diameter);
  return stem && std::fabs(2 * reach_of(solid, stem->frame) - valve.head_diameter) <= kReading;
}

bool is_straight(const MeridianPiece& piece) {
  return piece.points.empty() && piece.shape.radius == 0;
}
bool is_arc(const MeridianPiece& piece) {
  return piece.points.empty() && piece.shape.radius > 0;
}
bool is_upright(const MeridianPiece& piece) {
  return is_straight(piece) && std::fabs(piece.shape.to.r - piece.shape.from.r) < kStraight;
}
bool is_level(const MeridianPiece& piece) {
  return is_straight(piece) && std::fabs(piece.shape.to.w - piece.shape.from.w) < kStraight;
}
double height_of(const MeridianPiece& piece) {
  return std::fabs(piece.shape.to.w - piece.shape.from.w);
}

/// The other end first, or upside down.
void turn_round(std::vector<MeridianPiece>& outline) {
  std::reverse(outline.begin(), outline.end());
  for (MeridianPiece& piece : outline) {
    std::swap(piece.shape.from, piece.shape.to);
    std::reverse(piece.points.begin(), piece.points.end());
  }
}
template <class Change>
void change_points(std::vector<MeridianPiece>& outline, const Change& change) {
  for (MeridianPiece& piece : outline) {
    for (Point2* p : {&piece.shape.from, &piece.shape.to, &piece.shape.centre}) change(*p);
    for (Point2& p : piece.points) change(p);
  }
}

class ValveReader {
 public:
  ValveReader(const Engine& engine, const Valve& valve, double stem_length, const Origins& origins,
              std::vector<Fault>& warnings)
      : engine_(engine), valve_(valve), stem_length_(stem_length), origins_(origins), warnings_(warnings) {}

  Profile profile(const StepSolid& read) {
    find_outline(read);
    find_stem();
    find_rim();
    add_face();
    add(ValvePart::margin, outline_[margin_].shape);
    add_back();
    profile_.top = std::max(stem_length_, profile_.elements.back().to.w + 2 * kStraight);
    const Point2 foot = profile_.elements.back().to, top{foot.r, profile_.top};
    add_line(ValvePart::stem, foot, top);
    add_line(ValvePart::stem, top, {0, top.w});
    if (profile_.back_error > kStraight)
      warnings_.push_back(fault_at(origins_, key("file"),
                                   fmt::format("{}: the back of valve \"{}\" is simplified, at most {} outside the "
                                               "file's: so much too small a gap there may be told, and its interval "
                                               "has it; all that faces the piston is exact",
                                               valve_.step->file, valve_.name, length(profile_.back_error))));
    return std::move(profile_);
  }

  [[noreturn]] void refuse(const std::string& at, const std::string& message) const {
    throw InputError({fault_at(origins_, key(at),
                               fmt::format("{}, for valve \"{}\": {}", valve_.step->file, valve_.name, message))});
  }
  std::string key(const std::string& at) const {
    return at == "file" || at == "solid" ? fmt::format("valve.{}.step.{}", valve_.name, at)
                                         : fmt::format("valve.{}.{}", valve_.name, at);
  }

 private:
  std::string length(double mm) const { return length_text(mm, engine_.units); }

  void find_outline(const StepSolid& read) {
    const std::optional<Face> stem = stem_of(read.solid, valve_.stem_diameter);
    if (!stem) no_stem(read.solid);
    try {
      outline_ = meridian_of(read.solid, read.face_names, frame_about(stem->frame.origin, stem->frame.z));
    } catch (const NotRevolved& why) {
      refuse("file", fmt::format("no solid of revolution, as a valve is one: {}", why.what()));
    }
    const double swept = swept_volume(outline_), volume = std::fabs(volume_of(read.solid));
    // A hollow inside takes from the volume; its shell is not looked at.
    TopExp_Explorer shells(read.solid, TopAbs_SHELL);
    int count = 0;
    for (; shells.More(); shells.Next()) ++count;
    if (count == 1 && !(std::fabs(swept - volume) < kSameVolume * swept))
      refuse("file", fmt::format("no solid of revolution, as a valve is one: its outline sweeps {:.2f} mm3, and it has "
                                 "{:.2f}",
                                 swept, volume));
  }

  [[noreturn]] void no_stem(const TopoDS_Shape& solid) const {
    std::vector<double> there;
    int free_form = 0, faces = 0;
    for (TopExp_Explorer each(solid, TopAbs_FACE); each.More(); each.Next()) {
      const Face face = step_surface(TopoDS::Face(each.Current()));
      ++faces;
      free_form += face.kind == Surface::free_form;
      if (face.kind == Surface::cylinder) there.push_back(2 * face.radius);
    }
    const double stated = valve_.stem_diameter;
    if (there.empty())
      refuse("file", fmt::format("no valve: the solid has no cylinder, so no stem{}",
                                 free_form > 0 ? fmt::format("; {} of its {} faces are free form: planes and cylinders "
                                                             "must be exported as such",
                                                             free_form, faces)
                                               : ""));
    const double nearest = *std::min_element(
        there.begin(), there.end(), [&](double a, double b) { return std::fabs(a - stated) < std::fabs(b - stated); });
    std::string hint;
    for (const double diameter : there)
      if (hint.empty()) hint = unit_hint(diameter, stated);
    refuse("stem_diameter", fmt::format("no cylinder of the solid is the stated stem, {}: the nearest is {}{}",
                                        length(stated), length(nearest), hint));
  }

  /// The longest cylinder of the stem's diameter; then the outline starts at the other end, below it.
  void find_stem() {
    const auto is_stem = [&](const MeridianPiece& piece) {
      return is_upright(piece) && std::fabs(2 * piece.shape.from.r - valve_.stem_diameter) <= kReading;
    };
    const auto longest = [&] {
      std::size_t best = outline_.size();
      for (std::size_t i = 0; i < outline_.size(); ++i)
        if (is_stem(outline_[i]) && (best == outline_.size() || height_of(outline_[i]) > height_of(outline_[best])))
          best = i;
      return best;
    };
    std::size_t stem = longest();
    if (stem == outline_.size())
      refuse("stem_diameter",
             fmt::format("no cylinder of the solid is the stated stem, {}, all round", length(valve_.stem_diameter)));
    const auto widest = [&] {
      std::size_t best = 0;
      for (std::size_t i = 1; i < outline_.size(); ++i)
        if (reach(outline_[i]) > reach(outline_[best]) + kStraight) best = i;
      return best;
    };
    if (widest() > stem) {
      turn_round(outline_);
      stem = longest();
    }
    if (outline_[stem].shape.to.w < outline_[stem].shape.from.w) change_points(outline_, [](Point2& p) { p.w = -p.w; });
    const double head = 2 * reach(outline_[widest()]);
    if (std::fabs(head - valve_.head_diameter) > kReading)
      refuse("head_diameter", fmt::format("its head is {} wide, not {} as stated{}", length(head),
                                          length(valve_.head_diameter), unit_hint(head, valve_.head_diameter)));
    stem_ = stem;
  }

  static double reach(const MeridianPiece& piece) {
    double reach = std::max(piece.shape.from.r, piece.shape.to.r);
    for (const Point2& p : piece.points) reach = std::max(reach, p.r);
    return reach;
  }

  /// The margin, and with it the rim plane, which w counts from.
  void find_rim() {
    double widest = 0;
    for (const MeridianPiece& piece : outline_) widest = std::max(widest, reach(piece));
    margin_ = outline_.size();
    for (std::size_t i = 0; i < stem_; ++i)
      if (is_upright(outline_[i]) && widest - outline_[i].shape.from.r < kStraight) margin_ = i;
    if (margin_ == outline_.size())
      refuse("file", "its head has no cylinder behind the rim (the margin) where it is widest");
    if (margin_ == 0) refuse("file", "its head has no face below the margin");
    const MeridianPiece& before = outline_[margin_ - 1];
    const bool rounded = margin_ >= 2 && is_arc(before) && std::fabs(before.shape.to.r - widest) < kStraight &&
                         before.shape.centre.r > kStraight;
    edge_ = rounded ? before.shape.radius : 0;
    const double rim = rounded ? before.shape.centre.w - edge_ : outline_[margin_].shape.from.w;
    change_points(outline_, [&](Point2& p) { p.w -= rim; });
    profile_.rim_radius = outline_[margin_].shape.from.r;
    profile_.margin = outline_[margin_].shape.to.w;
    profile_.edge_radius = edge_;
  }

  [[noreturn]] void no_face(const std::string& why) const {
    refuse("file",
           fmt::format("its valve face cannot be checked: {}; it may be flat, a ball (dished or domed), or flat "
                       "with straight bevels, and its rim may be rounded",
                       why));
  }

  void add_face() {
    const std::size_t pieces = margin_ - (edge_ > 0 ? 1 : 0);
    const MeridianPiece& middle = outline_[0];
    if (!is_level(middle) && !(is_arc(middle) && middle.shape.centre.r < kStraight))
      no_face(fmt::format("{}, in its middle, is neither a plane nor a ball", middle.face));
    if (is_arc(middle) && pieces > 1) no_face(fmt::format("{} stands beside a ball", outline_[1].face));
    for (std::size_t i = 0; i < pieces; ++i) {
      ProfileElement piece = outline_[i].shape;
      if (i > 0) {
        const ProfileElement& before = outline_[i - 1].shape;
        const double turn = (before.to.r - before.from.r) * (piece.to.w - piece.from.w) -
                            (before.to.w - before.from.w) * (piece.to.r - piece.from.r);
        if (!is_straight(outline_[i])) no_face(fmt::format("{} is curved", outline_[i].face));
        if (!(turn > 0) || !(piece.to.r > piece.from.r))
          no_face(fmt::format("{} makes it hollow or stands out of it", outline_[i].face));
      }
      if (piece.radius > 0) {
        piece.centre.r = 0;
        piece.bulges = piece.centre.w > piece.from.w;
        if (piece.bulges != (piece.from.w < piece.to.w))
          no_face(fmt::format("{} is more than half a ball", middle.face));
      }
      add(ValvePart::face, piece);
    }
    profile_.lowest = std::min(0.0, middle.shape.from.w);
    if (edge_ == 0) return;
    const MeridianPiece& rounding = outline_[margin_ - 1];
    ProfileElement edge = rounding.shape;
    const ProfileElement& face = profile_.elements.back();
    const double across = edge.centre.r - edge.from.r, below = edge.centre.w - edge.from.w;
    const bool touches_margin = std::fabs(edge.centre.r + edge_ - profile_.rim_radius) < kStraight;
    bool touches_face = false;  // a dish ends at its brink, right below the rounding's middle
    if (face.radius == 0 || !face.bulges) {
      touches_face = std::fabs(across) < kStraight && std::fabs(below - edge_) < kStraight;
    } else {
      touches_face =
          std::fabs(std::hypot(edge.centre.r, edge.centre.w - face.centre.w) + edge_ - face.radius) < kStraight;
    }
    if (!touches_margin || !touches_face || pieces > 1)
      no_face(fmt::format("{} does not touch both the valve face and the margin", rounding.face));
    edge.bulges = true;
    add(ValvePart::rim_edge, edge);
  }

  /// From the margin's top to the stem: seat, underhead. It must not widen again; a stem that is thinner below is taken
  /// as thick as above.
  void add_back() {
    const double stem = outline_[stem_].shape.to.r;
    bool seated = false;
    for (std::size_t i = margin_ + 1; i < stem_; ++i) {
      const MeridianPiece& piece = outline_[i];
      if (is_straight(piece)) {
        if (to_stem(piece, {piece.shape.from, piece.shape.to}, stem, seated)) return;
      } else {
        const std::vector<Point2> curve = is_arc(piece) ? arc_points(piece.shape, kBackPoints) : piece.points;
        if (to_stem(piece, curve, stem, seated)) return;
      }
    }
    if (profile_.elements.back().to.r > stem + kStraight) {  // a flat shoulder
      add_line(ValvePart::underhead, profile_.elements.back().to, {stem, outline_[stem_].shape.from.w});
    }
    // Right onto the stem's own line.
    profile_.elements.back().to.r = stem;
  }

  /// Adds the piece as far as the stem's radius; true where it gets there.
  bool to_stem(const MeridianPiece& piece, std::vector<Point2> curve, double stem, bool& seated) {
    std::size_t reached = curve.size();
    for (std::size_t k = 1; k < curve.size(); ++k) {
      const Point2 a = curve[k - 1], b = curve[k];
      if (b.r > a.r + kStraight || b.w < a.w - kStraight)
        refuse("file",
               fmt::format("{}: an undercut behind the seat: the back of the head must not widen again", piece.face));
      const bool there = b.r <= stem || (k + 1 == curve.size() && b.r < stem + kStraight);
      if (reached == curve.size() && there) reached = k;
    }
    const bool arrives = reached < curve.size();
    if (arrives) {
      const Point2 a = curve[reached - 1], b = curve[reached];
      if (b.r < stem - kStraight) {  // thinner below than above
        double thinnest = stem;
        for (std::size_t i = margin_ + 1; i < stem_; ++i)
          thinnest = std::min({thinnest, outline_[i].shape.from.r, outline_[i].shape.to.r});
        profile_.back_error = std::max(profile_.back_error, stem - thinnest);
        const double t = (a.r - stem) / (a.r - b.r);
        curve[reached] = {stem, a.w + t * (b.w - a.w)};
      }
      curve.resize(reached + 1);
      curve.back().r = stem;
    }
    const Point2 start = profile_.elements.back().to;
    curve.front() = start;
    const bool whole =
        !arrives || std::hypot(curve.back().r - piece.shape.to.r, curve.back().w - piece.shape.to.w) < kStraight;
    if (is_straight(piece)) {
      if (std::hypot(curve.back().r - start.r, curve.back().w - start.w) > kStraight)
        add_line(seated ? ValvePart::underhead : ValvePart::seat, start, curve.back());
      seated = true;
    } else if (is_arc(piece) && whole && bulges(piece.shape)) {
      ProfileElement arc = piece.shape;
      arc.from = start;
      arc.to = curve.back();
      arc.bulges = true;
      add(ValvePart::underhead, arc);
      seated = true;
    } else if (curve.size() > 2) {
      const OutlineCover cover = cover_outside(curve, kBackWithin);
      if (cover.points.empty()) refuse("file", fmt::format("{}: cannot be simplified", piece.face));
      profile_.back_error = std::max(profile_.back_error, cover.error);
      for (std::size_t k = 1; k < cover.points.size(); ++k)
        add_line(ValvePart::underhead, cover.points[k - 1], cover.points[k]);
      seated = true;
    } else {
      add_line(ValvePart::underhead, start, curve.back());
    }
    return arrives;
  }

  /// The metal is on the left of the walk.
  static bool bulges(const ProfileElement& arc) {
    return (arc.to.r - arc.from.r) * (arc.centre.w - arc.from.w) -
               (arc.to.w - arc.from.w) * (arc.centre.r - arc.from.r) >
           0;
  }

  void add(ValvePart part, ProfileElement element) {
    element.part = part;
    if (element.radius == 0) element.centre = {};
    if (!profile_.elements.empty()) element.from = profile_.elements.back().to;
    profile_.elements.push_back(element);
  }
  void add_line(ValvePart part, Point2 from, Point2 to) { add(part, line_piece(from, to)); }

  const Engine& engine_;
  const Valve& valve_;
  double stem_length_;
  const Origins& origins_;
  std::vector<Fault>& warnings_;
  std::vector<MeridianPiece> outline_;
  std::size_t stem_ = 0, margin_ = 0;
  double edge_ = 0;
  Profile profile_;
};

}  // namespace

Profile step_valve_profile(const Engine& engine, const Valve& valve, double stem_length, const Origins& origins,
                           std::vector<Fault>& warnings) {
  const StepValve& step = *valve.step;
  ValveReader reader(engine, valve, stem_length, origins, warnings);
  const StepSource source{fmt::format("valve.{}.step", valve.name),
                          fmt::format("valve \"{}\"", valve.name),
                          step.file,
                          *step.text,
                          step.solid,
                          [&](const TopoDS_Shape& solid) { return fits_valve(solid, valve); },
                          true};
  try {
    return reader.profile(read_step(source, origins, warnings));
  } catch (const Standard_Failure& failure) {
    reader.refuse("file", fmt::format("the modeller cannot make a valve of it: {}", failure.GetMessageString()));
  }
}

}  // namespace eyebrow
