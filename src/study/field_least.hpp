// The least gaps of many courses from fields: where each is least is looked up, and the kernel is asked there.
#pragma once
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "eyebrow/field.hpp"
#include "study/course.hpp"
#include "study/refine.hpp"

namespace eyebrow::study {

/// A place on the cycle where a field is low.
struct Low {
  double value = INFINITY;
  double crank = 0;
  double under = 0;  ///< the greatest lift there, mm
  /// In cells where the gap jumps, which the course passes between these angles: the value is the least on the lower
  /// side in them. NaN = no such.
  double from = NAN, to = NAN;
  bool jump() const { return !std::isnan(from); }
};

/// What look-ups tell of one kind of gap over every crank angle.
struct Screened {
  /// False: the course leaves the region that the fields were made for, its least is above what they are fine for, or
  /// it may choose among lifts where the gap jumps.
  bool known = true;
  int count = 0;
  std::array<Low, 6> lows;  ///< the first `count`, lowest first; none: there is no such gap at any angle
  double value() const { return count > 0 ? lows[0].value : INFINITY; }
  void offer(const Low& low);
};

/// One valve's fields, and the stretches of crank angle in which some course of a set may have its least.
class FieldLeast {
 public:
  /// What is asked later should lie among `courses`, or no further from one of them than `margin` (mm, of height and of
  /// lift): what does not is searched with the kernel, slowly.
  FieldLeast(const Setup& setup, int valve, std::span<const Course> courses, double margin = 0);

  /// All kinds, in the order of kGapKinds: within the fields' tolerance (0.5 um where the gap is smooth) and what a
  /// parabola through three angles leaves, some tenths of a micrometre. A gap that jumps where it is least is told to
  /// the size of the fields' cells.
  std::array<Screened, std::size(kGapKinds)> screened(const Course& course) const;

  /// The kernel's gap where the fields say that it is least, on the lower side of a jump to a micrometre; `proven` and
  /// the span are not told. Where the fields do not know, or do not agree with the kernel, the proven search.
  /// `changed`: the engine that `course` is of.
  Least least(const Course& course, const Engine& changed, const Screened& screened, GapKind kind) const;

  std::size_t cells() const;

 private:
  /// From one angle of the grid to the next; a set of kinds is one bit each, in the order of kGapKinds.
  struct Near {
    double from, to;
    SlideBox box;            ///< where any of the courses may be
    std::uint8_t kinds = 0;  ///< may have their least here
    std::uint8_t jumps = 0;  ///< and jump here, for some course
  };
  struct Angle {
    double crank;
    std::uint8_t kinds;  ///< whose value counts
    bool follows;        ///< the one before is next to it on the grid
  };

  struct Spot {
    double crank;
    Slide at;
    double value;
  };

  static std::vector<Near> stretches(const Setup& setup, int valve, std::span<const Course> courses, double margin,
                                     double upto);
  std::vector<SlideBox> region() const;
  /// Marks the stretches that a kind can be least in.
  void mark(std::size_t kind);
  void list_angles();
  FieldGap look_up(std::size_t kind, const Pose& pose) const;
  /// The lowest over the lifts that the course may have at a crank angle; `value` NaN: some are not known.
  Low lowest(const Course& course, std::size_t kind, double crank) const;
  /// With the lift narrowed.
  Low settled_lift(const Course& course, std::size_t kind, Low low) const;
  FieldRange within(std::size_t kind, const SlideBox& box) const;
  /// Lower than three angles, the middle one of which is the lowest.
  Low narrowed(const Course& course, std::size_t kind, std::array<double, 3> crank, std::array<double, 3> value) const;
  /// Where the gap jumps between two angles. `sag`: what the course is off the straight line between them, at most.
  void look_closely(const Course& course, std::size_t kind, const Spot& from, const Spot& to, double sag,
                    Screened& found, Low& run) const;
  /// Does the gap jump between two angles, where it may lie below `value` at some lift that the course may have?
  bool may_jump_below(const Course& course, std::size_t kind, double from, double to, double value) const;
  Spot spot(const Course& course, std::size_t kind, double crank) const;
  double ask(const Course& course, GapKind kind, double crank, double under) const;
  /// Where the kernel's value is least in the cells of a jump.
  Low settled(const Course& course, GapKind kind, const Low& low) const;

  const Setup& setup_;
  int valve_;
  std::array<double, std::size(kGapKinds)> upto_{};  ///< above this no course has its least, or it is not known
  std::vector<Near> near_;                           ///< in order of angle
  std::vector<Angle> angles_;                        ///< their ends
  ContactLift travel_;
  std::vector<GapField> fields_;  ///< of the kinds but travel
};

}  // namespace eyebrow::study
