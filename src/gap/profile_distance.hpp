// Signed distance to a valve, a solid of revolution, from its outline in the half plane (r, w).
#pragma once
#include <array>
#include <vector>

#include "eyebrow/profile.hpp"

namespace eyebrow::gap {

inline constexpr int kMaxElements = 16;

/// What one outline element knows of a point.
struct ElementView {
  double distance;        ///< to the element's curve, >= 0; to its convex side's hull where the arc bulges
  double dr, dw;          ///< gradient of `distance`
  double side;            ///< signed: the element's line or circle carried on; negative in the metal
  double sr, sw;          ///< gradient of `side`
  double from_by, to_by;  ///< how far inside the element the foot lies, counted from either end
  double inside_by;       ///< the lesser: how far the point may move and keep its foot inside; negative = foot outside
  double bend;            ///< `distance` + bend |p|^2 / 2 is convex in the half plane: 0 except where an arc is hollow
};

struct SignedDistance {
  double value = 0;  ///< negative inside
  double dr = 0, dw = 0;
  int element = -1;
};

/// An element's chord: unit direction and length, and how far the arc stands off it.
struct Straight {
  double tr, tw, length, sagitta;
};

struct Box2 {
  Point2 low, high;
};

class ProfileDistance {
 public:
  /// Throws Error when the outline has more than kMaxElements elements.
  explicit ProfileDistance(const Profile& profile);

  int size() const { return static_cast<int>(elements_.size()); }
  ElementView view(int element, double r, double w) const;
  SignedDistance eval(double r, double w) const;

  /// Nothing in the box is nearer to the metal than this; -infinity when the box may reach into it.
  double box_bound(const Box2& box) const;

  /// The outline's point with the least a r + b w: the first to meet a plane that comes from below.
  Point2 support(double a, double b) const;

  /// Least and greatest w of the metal at radius r, 0 <= r <= R.
  double lowest(double r) const;
  double highest(double r) const;
  /// Least of `lowest` over [from, to].
  double lowest_over(double from, double to) const;
  /// d lowest / d r; infinite where an edge's arc ends upright at the rim.
  double lowest_slope(double r) const;
  /// `lowest` + bend r^2 / 2 is convex over 0 ... R: 0 unless the face is dished, infinite where it has a hollow
  /// corner.
  double lowest_bend() const { return lowest_bend_; }
  bool inside(double r, double w) const;
  /// Does the whole valve lie behind every plane that touches the element from outside?
  bool supporting(int element) const { return supporting_[element]; }

  double rim_radius() const { return rim_radius_; }
  /// Within the metal near the joint of this element with the next, where are the feet? Inside one of the two: always
  /// where the joint is not hollow. Inside this one: where it turns by 90 degrees or more.
  bool joint_covers(int element) const { return joints_[element] >= Joint::smooth; }
  bool joint_keeps(int element) const { return joints_[element] == Joint::sharp; }

  const std::vector<ProfileElement>& elements() const { return elements_; }
  const Straight& straight(int element) const { return straight_[element]; }

 private:
  enum class Joint { hollow, smooth, sharp };
  static Joint joint(const ProfileElement& before, const ProfileElement& after);
  bool supports(int element) const;

  std::vector<ProfileElement> elements_;
  std::vector<Straight> straight_;  ///< one an element
  std::vector<bool> supporting_;    ///< one an element
  std::vector<Joint> joints_;  ///< of each element with the next; the last one's end, on the axis, counts as smooth
  int first_upper_ = 0;        ///< elements before it bound the metal from below or at the margin
  double rim_radius_ = 0, lowest_bend_ = 0;
};

}  // namespace eyebrow::gap
