// The four gaps by the words of their definitions, from dense samples of every crown triangle and a pattern search
// about the best of them. Shares nothing with src/gap but the data of Crown and Profile. The mesh counts as the exact
// crown. Every value is attained at a place that was tried, so closest, face and radial can only be too large, and
// travel ahead too: by kSagitta (over the sine of the angle of incidence along a ray) where the search ended in the
// right valley, by up to the sample spacing where it did not.
#pragma once
#include <vector>

#include "dense_outline.hpp"
#include "eyebrow/crown.hpp"

namespace eyebrow::dense {

struct Answer {
  double value = kNone;
  Vec3 at;  ///< crown's frame
  int triangle = -1;
  bool met() const { return value < kNone; }
};

/// A valve's place: rim-plane centre and stem's direction in the crown's frame.
struct Place {
  Vec3 centre, up, x, y;
  Place(Vec3 rim_centre, Vec3 stem)
      : centre(rim_centre),
        up(stem),
        x(unit(cross(up, std::fabs(up.y) < 0.8 ? Vec3{0, 1, 0} : Vec3{1, 0, 0}))),
        y(cross(up, x)) {}
  Vec3 in(Vec3 p) const { return turn_in(p - centre); }
  Vec3 turn_in(Vec3 v) const { return {dot(v, x), dot(v, y), dot(v, up)}; }
};

inline double around(Vec3 q) {
  return std::sqrt(q.x * q.x + q.y * q.y);
}

class Sampling {
 public:
  Sampling(const Crown& crown, const Profile& profile, int pocket, double spacing)
      : crown_(crown), outline_(profile), coarse_(profile, 1e-3), spacing_(spacing) {
    for (std::size_t i = 0; i < crown.triangles.size(); ++i) sample(static_cast<int>(i));
    for (const Face& f : crown.faces) {
      const bool foot =
          f.group == Group::flat || f.group == Group::dish_floor || f.group == Group::dome || f.group == Group::floor;
      const bool side = f.group == Group::wall || f.group == Group::corner || f.group == Group::mouth;
      feet_.push_back(foot);
      sides_.push_back(side && pocket >= 0 && f.pocket == pocket);
    }
  }

  const Outline& outline() const { return outline_; }

  double signed_distance(const Place& place, Vec3 p) const {
    const Vec3 q = place.in(p);
    return outline_.signed_distance(around(q), q.z);
  }

  /// Least signed distance from the valve to a point of the crown.
  Answer closest(const Place& place) const {
    double enough = kNone;  // the best so far: a sample further off by the spacing's worth need not be worked out
    return least([&](Vec3 p, int) {
      const Vec3 q = place.in(p);
      const double r = around(q);
      const double off = std::max({r - outline_.rim_radius(), outline_.lowest() - q.z, q.z - outline_.top()});
      if (off > enough + 4 * spacing_) return kNone;
      const double d = outline_.signed_distance(r, q.z);
      enough = std::min(enough, d);
      return d;
    });
  }

  /// How far the valve may move along its axis before a point of the crown is touched; what it touches already, the
  /// least that it must withdraw until it touches nothing.
  Answer travel(const Place& place) const {
    std::vector<Touch> touches = touches_of(place);
    Answer answer = last_of(touches);
    // The ends found are good to the spacing; sharpen those next to the answer, and chain again.
    std::vector<Touch*> near;
    for (Touch& t : touches)
      if (t.from < answer.value + 2 * spacing_ && t.to > answer.value - 2 * spacing_) near.push_back(&t);
    std::sort(near.begin(), near.end(), [](const Touch* a, const Touch* b) { return a->from < b->from; });
    if (near.size() > kTried) near.resize(kTried);
    for (Touch* t : near)
      t->from = descend(
          t->triangle, t->at, t->from, [&](Vec3 p) { return touch(place, p, false); }, t->at);
    return last_of(touches);
  }

  /// Shift at which a point of the crown is first touched (`last`: minus the shift at which it is let go).
  double touch(const Place& place, Vec3 p, bool last) const {
    const Vec3 q = place.in(p);
    double low, high;
    if (!outline_.column(around(q), low, high)) return kNone;
    return last ? q.z - high : low - q.z;
  }

  /// Least way from a foot on flat, dish floor, dome or floor, outward along its normal, to the valve, through void.
  Answer face(const Place& place) const {
    return least(
        [&](Vec3 p, int triangle) { return ray(place, p, triangle); },
        [&](Vec3 p, int triangle, double value) { return value <= 0 || clear(p, p + value * outward(p, triangle)); },
        [&](Vec3 p, int triangle) {
          return feet_[crown_.triangles[triangle].face] ? ray(place, p, triangle, coarse_) : kNone;
        });
  }

  double ray(const Place& place, Vec3 p, int triangle) const { return ray(place, p, triangle, outline_); }

  /// Least way, square to the axis and through void, from the rim on its path of `reach` to the own pocket's sides.
  Answer radial(const Place& place, double reach) const {
    return least(

        [&](Vec3 p, int triangle) { return sides_[crown_.triangles[triangle].face] ? beside(place, p, reach) : kNone; },
        [&](Vec3 p, int, double value) {
          return value <= 0 || clear(p, p + (value / around(place.in(p))) * to_axis(place, p));
        });
  }

  double beside(const Place& place, Vec3 p, double reach) const {
    const Vec3 q = place.in(p);
    // On the path from now to `reach` the point's height above the rim plane runs from q.z to q.z + reach.
    const double high = std::min(q.z + reach, outline_.margin());
    if (high < 0 || q.z > outline_.margin()) return kNone;
    return around(q) - outline_.rim_at(high);
  }

  /// Unit normal of the exact face beside p: the gradient of its equation for balls and cones, the triangle's
  /// otherwise.
  Vec3 outward(Vec3 p, int triangle) const {
    const Vec3 flat = normal(triangle);
    const Face& face = crown_.faces[crown_.triangles[triangle].face];
    const Vec3 d = p - face.frame.origin;
    Vec3 exact = flat;
    if (face.kind == Surface::sphere) exact = d;
    if (face.kind == Surface::cone) {
      const double x = dot(d, face.frame.x), y = dot(d, face.frame.y), r = std::hypot(x, y);
      exact = (x / r) * face.frame.x + (y / r) * face.frame.y - std::tan(face.radius2) * face.frame.z;
    }
    return (dot(exact, flat) < 0 ? -1 : 1) * unit(exact);
  }

  Vec3 normal(int triangle) const {
    const auto& v = crown_.triangles[triangle].vertex;
    return unit(cross(crown_.points[v[1]] - crown_.points[v[0]], crown_.points[v[2]] - crown_.points[v[0]]));
  }

  /// The triangle's point nearest to p.
  Vec3 onto(int triangle, Vec3 p) const {
    const auto& v = crown_.triangles[triangle].vertex;
    const Vec3 n = normal(triangle);
    const Vec3 q = p - dot(n, p - crown_.points[v[0]]) * n;
    bool in = true;
    Vec3 best;
    double least = kNone;
    for (int k = 0; k < 3; ++k) {
      const Vec3 a = crown_.points[v[k]], e = crown_.points[v[(k + 1) % 3]] - a;
      if (dot(n, cross(e, q - a)) < 0) in = false;
      const Vec3 s = a + std::clamp(dot(q - a, e) / dot(e, e), 0.0, 1.0) * e;
      if (norm(s - q) < least) {
        least = norm(s - q);
        best = s;
      }
    }
    return in ? q : best;
  }

  /// Distance from a point to the triangles of one face (-1: of all).
  double off_mesh(Vec3 p, int face) const {
    double least = kNone;
    for (std::size_t i = 0; i < crown_.triangles.size(); ++i)
      if (face < 0 || crown_.triangles[i].face == face) least = std::min(least, norm(p - onto(static_cast<int>(i), p)));
    return least;
  }

  /// Does no triangle cross the open segment?
  bool clear(Vec3 a, Vec3 b) const {
    constexpr double kEnd = 1e-6;  // mm; the surfaces that the segment ends on do not count
    const double length = norm(b - a);
    for (const Triangle& t : crown_.triangles) {
      const Vec3 u = crown_.points[t.vertex[0]], v = crown_.points[t.vertex[1]], w = crown_.points[t.vertex[2]];
      const Vec3 n = cross(v - u, w - u);
      const double da = dot(n, a - u), db = dot(n, b - u);
      if ((da > 0) == (db > 0)) continue;
      const double along = da / (da - db);
      if (along * length < kEnd || (1 - along) * length < kEnd) continue;
      const Vec3 p = a + along * (b - a);
      if (dot(n, cross(v - u, p - u)) > 0 && dot(n, cross(w - v, p - v)) > 0 && dot(n, cross(u - w, p - w)) > 0)
        return false;
    }
    return true;
  }

 private:
  double ray(const Place& place, Vec3 p, int triangle, const Outline& outline) const {
    const Vec3 q = place.in(p), n = place.turn_in(outward(p, triangle));
    // No meeting where the line passes the valve's cylinder.
    const double flat = n.x * n.x + n.y * n.y, miss = std::fabs(q.x * n.y - q.y * n.x);
    if (flat > 0 ? miss > outline.rim_radius() * std::sqrt(flat) : around(q) > outline.rim_radius()) return kNone;
    return outline.meeting(q, n);
  }

  static constexpr std::size_t kTried = 12;  ///< triangles that a pattern search is spent on

  struct Sample {
    Vec3 p;
    int triangle;
  };

  struct Touch {
    double from = kNone, to = -kNone;
    Vec3 at;
    int triangle = -1;
  };

  /// Rows from one corner to the shortest side, no two neighbours further apart than the spacing.
  void sample(int triangle) {
    const auto& v = crown_.triangles[triangle].vertex;
    Vec3 c[3] = {crown_.points[v[0]], crown_.points[v[1]], crown_.points[v[2]]};
    int apex = 0;
    for (int k = 1; k < 3; ++k)
      if (norm(c[(k + 2) % 3] - c[(k + 1) % 3]) < norm(c[(apex + 2) % 3] - c[(apex + 1) % 3])) apex = k;
    const Vec3 a = c[apex], b = c[(apex + 1) % 3], d = c[(apex + 2) % 3];
    const int rows = static_cast<int>(std::ceil(std::max(norm(b - a), norm(d - a)) / spacing_));
    samples_.push_back({a, triangle});
    for (int i = 1; i <= rows; ++i) {
      const double t = static_cast<double>(i) / rows;
      const int parts = static_cast<int>(std::ceil(t * norm(d - b) / spacing_));
      if (parts <= 1 && i < rows) {
        samples_.push_back({a + t * (0.5 * (b + d) - a), triangle});
        continue;
      }
      for (int j = 0; j <= parts; ++j) samples_.push_back({a + t * (b - a) + (t * j / parts) * (d - b), triangle});
    }
  }

  /// Pattern search within one triangle: eight directions, turned with every halving of the step.
  template <class F>
  double descend(int triangle, Vec3 start, double value, const F& f, Vec3& at) const {
    const auto& v = crown_.triangles[triangle].vertex;
    const Vec3 n = normal(triangle), x = unit(crown_.points[v[1]] - crown_.points[v[0]]), y = cross(n, x);
    at = start;
    int turn = 0;
    for (double step = spacing_; step > 1e-9; step *= 0.5, ++turn) {
      for (int moves = 0; moves < 40; ++moves) {
        bool moved = false;
        for (int k = 0; k < 8 && !moved; ++k) {
          const double a = k * kPi / 4 + turn;
          const Vec3 p = onto(triangle, at + step * (std::cos(a) * x + std::sin(a) * y));
          const double there = f(p);
          if (there >= value - 1e-14) continue;
          at = p;
          value = there;
          moved = true;
        }
        if (!moved) break;
      }
    }
    return value;
  }

  /// Least f over the crown. `valid` is asked of what would become the answer; `screen` stands for f where the search
  /// may start.
  template <class F, class V, class S>
  Answer least(const F& f, const V& valid, const S& screen) const {
    std::vector<Answer> best;
    for (std::size_t i = 0; i < samples_.size();) {
      Answer own;
      for (const int t = samples_[i].triangle; i < samples_.size() && samples_[i].triangle == t; ++i) {
        const double value = screen(samples_[i].p, t);
        if (value < own.value) own = {value, samples_[i].p, t};
      }
      if (own.met()) best.push_back(own);
    }
    std::sort(best.begin(), best.end(), [](const Answer& a, const Answer& b) { return a.value < b.value; });
    Answer answer;
    std::size_t tried = 0;
    for (const Answer& start : best) {
      if (start.value > answer.value + 2 * spacing_ || tried >= kTried) break;
      const auto valid_f = [&](Vec3 p) {
        const double value = f(p, start.triangle);
        return value < kNone && valid(p, start.triangle, value) ? value : kNone;
      };
      Answer own{valid_f(start.at), start.at, start.triangle};
      if (!own.met()) continue;
      ++tried;
      // Most often nothing is in the way, and asking at the end is enough.
      own.value = descend(
          start.triangle, start.at, own.value, [&](Vec3 p) { return f(p, start.triangle); }, own.at);
      if (!valid(own.at, start.triangle, own.value))
        own.value = descend(start.triangle, start.at, valid_f(start.at), valid_f, own.at);
      if (own.value < answer.value) answer = own;
    }
    return answer;
  }

  template <class F, class V>
  Answer least(const F& f, const V& valid) const {
    return least(f, valid, f);
  }

  template <class F>
  Answer least(const F& f) const {
    return least(f, [](Vec3, int, double) { return true; });
  }

  static Vec3 to_axis(const Place& place, Vec3 p) {
    const Vec3 d = p - place.centre;
    return dot(d, place.up) * place.up - d;
  }

  /// All shifts of the valve at which a triangle is touched: one span each, as its part under the valve is in one
  /// piece.
  std::vector<Touch> touches_of(const Place& place) const {
    std::vector<Touch> touches;
    for (std::size_t i = 0; i < samples_.size();) {
      Touch own;
      own.triangle = samples_[i].triangle;
      for (; i < samples_.size() && samples_[i].triangle == own.triangle; ++i) {
        const double from = touch(place, samples_[i].p, false);
        if (from == kNone) continue;
        own.to = std::max(own.to, -touch(place, samples_[i].p, true));
        if (from >= own.from) continue;
        own.from = from;
        own.at = samples_[i].p;
      }
      if (own.from < kNone) touches.push_back(own);
    }
    return touches;
  }

  /// Backward from shift 0 through all that is touched without a break; ahead when nothing is touched at 0.
  static Answer last_of(std::vector<Touch> touches) {
    std::sort(touches.begin(), touches.end(), [](const Touch& a, const Touch& b) { return a.to > b.to; });
    Answer ahead, back;
    back.value = 0;
    for (const Touch& t : touches) {
      if (t.from >= 0) {
        if (t.from < ahead.value) ahead = {t.from, t.at, t.triangle};
      } else if (t.to >= back.value && t.from < back.value) {
        back = {t.from, t.at, t.triangle};
      }
    }
    return back.triangle >= 0 ? back : ahead;
  }

  const Crown& crown_;
  Outline outline_, coarse_;  ///< coarse: to choose where to look
  double spacing_;
  std::vector<Sample> samples_;  // by triangle
  std::vector<bool> feet_, sides_;
};

}  // namespace eyebrow::dense
