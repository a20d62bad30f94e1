// The gaps by their definitions on the crown's exact faces: dense samples, then a pattern search within a face and a
// golden section along an edge from the best of them. Nothing of src/gap, nothing of the mesh but what is free-form.
//
// Every value is attained by a point of the crown that was tried, so the exact value is no greater: `high`. It is less
// than `low` only where the search ended in the wrong valley: the places lie kSpacing apart and each valley within
// twice that of the best is gone into. `seen` (where the kernel says its own value is attained) starts one search more,
// so a kernel that tells too little is not covered by a reference that missed.
#pragma once
#include <algorithm>
#include <vector>

#include "dense_outline.hpp"
#include "dense_sampling.hpp"
#include "exact_faces.hpp"
#include "exact_outline.hpp"

namespace eyebrow::exact {

using dense::Place;

inline constexpr double kStep = 1e-8;       ///< mm; a search ends with steps of this
inline constexpr double kSettled = 2e-6;    ///< mm; what such an end may lie above its valley's bottom (kinks)
inline constexpr double kBrink = 1e-7;      ///< mm; this near to where a rim ends still counts as under it
inline constexpr std::size_t kStarts = 12;  ///< valleys gone into

struct Answer {
  double value = kNone;
  Site site;
  bool met() const { return value < kNone; }
  double low() const { return value - kSettled; }
  double high() const { return value + kSettled; }
};

/// Where a definition ends: the rim's cylinder (travel), two planes square to the stem (radial). A least may lie there
/// with nothing stationary about it, so it is looked for along the face's curve in it.
struct Brink {
  bool plane = false;
  double at = 0;  ///< radius about the stem, or height above the rim plane
};

class Reference {
 public:
  Reference(const Faces& faces, const Profile& profile, int pocket)
      : faces_(faces), outline_(profile), chords_(profile), pocket_(pocket) {}

  const Outline& outline() const { return outline_; }
  const Faces& faces() const { return faces_; }

  double signed_distance(const Place& place, Vec3 p) const {
    const Vec3 q = place.in(p);
    return outline_.signed_distance(std::sqrt(q.x * q.x + q.y * q.y), q.z);
  }
  Answer closest(const Place& place, const Vec3* seen, int seen_on) const {
    const Profile& v = outline_.profile();
    double enough = kNone;
    return least([&](Vec3 p, int) { return signed_distance(place, p); },
                 [&](Vec3 p, int) {
                   const Vec3 q = place.in(p);
                   const double r = std::sqrt(q.x * q.x + q.y * q.y);
                   if (std::max({r - v.rim_radius, v.lowest - q.z, q.z - v.top}) > enough + 4 * faces_.spacing())
                     return kNone;
                   const double d = outline_.signed_distance(r, q.z);
                   enough = std::min(enough, d);
                   return d;
                 },
                 seen, seen_on);
  }

  /// Of a valve that touches nothing: how far it may move along its axis.
  double touch(const Place& place, Vec3 p) const {
    const Vec3 q = place.in(p);
    const double r = std::sqrt(q.x * q.x + q.y * q.y), rim = outline_.profile().rim_radius;
    const double low = outline_.low(r > rim && r < rim + kBrink ? rim : r);
    return low == kNone || low < q.z - kBrink ? kNone : low - q.z;
  }
  Answer travel(const Place& place, const Vec3* seen, int seen_on) const {
    const auto f = [&](Vec3 p, int) { return touch(place, p); };
    return least(f, f, seen, seen_on, place, {{false, outline_.profile().rim_radius}});
  }

  bool side(int f) const {
    const Face& face = faces_.face(f);
    return pocket_ >= 0 && face.pocket == pocket_ &&
           (face.group == Group::wall || face.group == Group::corner || face.group == Group::mouth);
  }
  /// From the rim on its path of `reach` square to the axis to a point of the own pocket's sides.
  /// `edge_on`: up to this sine a side that turns its back counts as well (negative: only what looks at the rim by as
  /// much).
  double beside(const Place& place, double reach, Vec3 p, int f, double edge_on) const {
    if (!side(f)) return kNone;
    const Vec3 q = place.in(p);
    const double high = std::min(q.z + reach, outline_.profile().margin);
    if (high < outline_.rim_foot() - kBrink || q.z > outline_.profile().margin + kBrink) return kNone;
    const double r = std::sqrt(q.x * q.x + q.y * q.y), value = r - outline_.rim_at(std::max(high, outline_.rim_foot()));
    // A wall that turns its back is behind metal.
    if (value > 0) {
      const Vec3 n = place.turn_in(faces_.outward(f, p));
      if (n.x * q.x + n.y * q.y >= edge_on * r) return kNone;
    }
    return value;
  }
  Answer radial(const Place& place, double reach, double edge_on, const Vec3* seen, int seen_on) const {
    const auto f = [&](Vec3 p, int on) { return beside(place, reach, p, on, edge_on); };
    const double margin = outline_.profile().margin;
    return least(f, f, seen, seen_on, place,
                 {{true, outline_.rim_foot() - reach}, {true, margin - reach}, {true, margin}});
  }

  /// Highest (sign 1) or lowest (-1) place of the own pocket's sides along a direction; -kNone without sides.
  double extreme(Vec3 along, double sign) const {
    const auto f = [&](Vec3 p, int on) { return side(on) ? -sign * dot(p, along) : kNone; };
    return -sign * least(f, f, nullptr, -1).value;
  }

  /// Does metal stand in the open segment, by the mesh, further than `end` from both its ends?
  bool blocked(Vec3 a, Vec3 b, double end) const {
    const Crown& crown = faces_.crown();
    const double length = norm(b - a);
    for (const Triangle& t : crown.triangles) {
      const auto corner = [&](std::size_t k) { return crown.points[static_cast<std::size_t>(t.vertex[k])]; };
      const Vec3 u = corner(0), v = corner(1), w = corner(2), n = cross(v - u, w - u);
      const double da = dot(n, a - u), db = dot(n, b - u);
      if ((da > 0) == (db > 0)) continue;
      const double along = da / (da - db);
      if (along * length < end || (1 - along) * length < end) continue;
      const Vec3 p = a + along * (b - a);
      if (dot(n, cross(v - u, p - u)) > 0 && dot(n, cross(w - v, p - v)) > 0 && dot(n, cross(u - w, p - w)) > 0)
        return true;
    }
    return false;
  }

  bool foot(int f) const {
    const Group g = faces_.face(f).group;
    return g == Group::flat || g == Group::dish_floor || g == Group::dome || g == Group::floor;
  }
  /// Along a foot's normal to the valve, which is a fine polygon here; whatever stands in the way does not count.
  double ray(const Place& place, Vec3 p, int f) const {
    if (!foot(f)) return kNone;
    const Vec3 q = place.in(p), n = place.turn_in(faces_.outward(f, p));
    const double flat = n.x * n.x + n.y * n.y, miss = std::fabs(q.x * n.y - q.y * n.x), rim = chords_.rim_radius();
    if (flat > 1e-18 ? miss > rim * std::sqrt(flat) : q.x * q.x + q.y * q.y > rim * rim) return kNone;
    return chords_.meeting(q, n);
  }
  Answer face(const Place& place, const Vec3* seen, int seen_on) const {
    const auto f = [&](Vec3 p, int on) { return ray(place, p, on); };
    return least(f, f, seen, seen_on);
  }

 private:
  struct Start {
    double value;
    Site site;
  };

  template <class F, class S>
  Answer least(const F& f, const S& screen, const Vec3* seen, int seen_on, const Place& place = {{}, {0, 0, 1}},
               const std::vector<Brink>& brinks = {}) const {
    std::vector<Start> all;
    double best = kNone;
    for (const Site& s : faces_.sites()) {
      double value = screen(s.p, s.face);
      if (s.edge >= 0) value = std::min(value, screen(s.p, faces_.edge(s.edge).faces[1]));
      if (value > best + 2 * faces_.spacing()) continue;
      best = std::min(best, value);
      if (value < kNone) all.push_back({value, s});
    }
    std::erase_if(all, [&](const Start& s) { return s.value > best + 2 * faces_.spacing(); });
    std::sort(all.begin(), all.end(), [](const Start& a, const Start& b) { return a.value < b.value; });
    std::vector<Start> starts;
    for (const Start& s : all) {
      const bool near = std::any_of(starts.begin(), starts.end(), [&](const Start& t) {
        return t.site.face == s.site.face && t.site.edge == s.site.edge &&
               norm(t.site.p - s.site.p) < 2.5 * faces_.spacing();
      });
      if (near) continue;
      starts.push_back(s);
      if (starts.size() == kStarts) break;
    }
    Answer answer;
    const auto take = [&](const Start& s) {
      if (s.value < answer.value) answer = {s.value, s.site};
    };
    const auto go_into = [&](const Start& s) {
      if (s.site.edge >= 0) return take(slide(f, s));
      const Start end = descend(f, s);
      take(end);
      for (const Brink& brink : brinks) take(along(f, place, brink, end));
    };
    for (const Start& s : starts) go_into(s);
    if (seen && seen_on >= 0) {
      Start start{kNone, {faces_.put(seen_on, *seen), seen_on}};
      for (const double off : {0.0, 1e-7, 1e-5, 1e-3})  // the kernel's point may be as much as its mesh off the face
        for (int k = 0; k < 6 && start.value == kNone; ++k) {
          const double by = k % 2 ? -off : off;
          const Vec3 p =
              faces_.put(seen_on, *seen + Vec3{k / 2 == 0 ? by : 0, k / 2 == 1 ? by : 0, k / 2 == 2 ? by : 0});
          if (faces_.holds(seen_on, p)) start = {f(p, seen_on), {p, seen_on}};
        }
      if (start.value < kNone) go_into(start);
      for (const Brink& brink : brinks) take(along(f, place, brink, {kNone, {faces_.put(seen_on, *seen), seen_on}}));
      take(beside_border(f, *seen, seen_on));
    }
    return answer;
  }

  /// From the nearest place on the face's border.
  template <class F>
  Start beside_border(const F& f, Vec3 p, int on) const {
    Site nearest;
    double least = kNone;
    for (int e = 0; e < static_cast<int>(faces_.crown().edges.size()); ++e) {
      const auto& of = faces_.edge(e).faces;
      if ((of[0] != on && of[1] != on) || of[0] == of[1]) continue;
      const std::vector<Vec3>& chain = faces_.chain_of(e);
      for (std::size_t i = 0; i < chain.size(); ++i)
        if (const double off = norm(chain[i] - p); off < least) {
          least = off;
          nearest = {chain[i], of[0], e, static_cast<double>(i)};
        }
    }
    if (nearest.edge < 0) return {kNone, {}};
    return slide(f, {on_edge(f, nearest.edge, nearest.at), nearest});
  }

  template <class F>
  double on_edge(const F& f, int e, double at) const {
    const Vec3 p = faces_.on_edge(e, at).p;
    return std::min(f(p, faces_.edge(e).faces[0]), f(p, faces_.edge(e).faces[1]));
  }

  /// Along an edge: steps that double while they help and halve while not.
  template <class F>
  Start slide(const F& f, Start s) const {
    const std::vector<Vec3>& chain = faces_.chain_of(s.site.edge);
    const auto i = std::min(static_cast<std::size_t>(s.site.at), chain.size() - 2);
    const double unit_step = std::max(norm(chain[i + 1] - chain[i]), 1e-9);  // mm for one of `at`
    double at = s.site.at, value = on_edge(f, s.site.edge, at);
    const bool round = norm(chain.front() - chain.back()) < 1e-12;
    const double last = static_cast<double>(chain.size() - 1);
    for (double step = faces_.spacing() / 2 / unit_step; step * unit_step > kStep; step *= 0.5)
      for (int moves = 0; moves < 30; ++moves) {
        double to = kNone, there = value - 1e-14;
        for (const double sign : {-1.0, 1.0}) {
          double t = at + sign * step;
          if (round) t -= last * std::floor(t / last);
          t = std::clamp(t, 0.0, last);
          if (const double v = on_edge(f, s.site.edge, t); v < there) there = v, to = t;
        }
        if (to == kNone) break;
        at = to;
        value = there;
      }
    Site site = faces_.on_edge(s.site.edge, at);
    if (f(site.p, faces_.edge(s.site.edge).faces[1]) < f(site.p, site.face))
      site.face = faces_.edge(s.site.edge).faces[1];
    return {value, site};
  }

  /// Onto a face and a brink at once (Newton); false where the two do not meet near.
  bool put_both(int on, const Place& place, const Brink& brink, Vec3& p, Vec3& along) const {
    for (int i = 0; i < 8; ++i) {
      const Vec3 foot = faces_.put(on, p), n = square_to(faces_.face(on), foot), q = p - place.centre;
      const double w = dot(q, place.up);
      const Vec3 level = q - w * place.up, m = brink.plane ? place.up : unit(level);
      const double a = dot(p - foot, n), b = brink.plane ? w - brink.at : norm(level) - brink.at, c = dot(n, m),
                   d = 1 - c * c;
      along = cross(n, m);
      if (d < 1e-8) return false;
      if (std::fabs(a) + std::fabs(b) < 1e-10) return true;
      p = p - ((a - c * b) / d) * n - ((b - c * a) / d) * m;
    }
    return false;
  }

  /// Along the curve in which a face meets a brink, from the place on it that is nearest.
  template <class F>
  Start along(const F& f, const Place& place, const Brink& brink, const Start& from) const {
    const int on = from.site.face;
    Start s{kNone, from.site};
    Vec3 t;
    if (faces_.face(on).kind == Surface::free_form || !put_both(on, place, brink, s.site.p, t)) return s;
    if (norm(s.site.p - from.site.p) > 4 * faces_.spacing()) return s;
    if (faces_.holds(on, s.site.p)) s.value = f(s.site.p, on);
    for (double step = 2 * faces_.spacing(); step > kStep; step *= 0.5)
      for (int moves = 0; moves < 30; ++moves) {
        Start best = s;
        for (const double sign : {-1.0, 1.0}) {
          Vec3 p = s.site.p, ignored = t;
          if (!put_both(on, place, brink, p, t)) continue;
          p = s.site.p + (sign * step / norm(t)) * t;
          if (!put_both(on, place, brink, p, ignored) || !faces_.holds(on, p)) continue;
          if (const double there = f(p, on); there < best.value - 1e-14) best = {there, {p, on}};
        }
        if (best.value == s.value) break;
        s = best;
      }
    return s;
  }

  /// Within a face: eight directions in its tangent plane, turned with every halving of the step.
  template <class F>
  Start descend(const F& f, Start s) const {
    const int on = s.site.face;
    int turn = 0;
    for (double step = faces_.spacing() / 2; step > kStep; step *= 0.5, ++turn)
      for (int moves = 0; moves < 30; ++moves) {
        const Frame tangent = frame_about(s.site.p, square_to(faces_.face(on), s.site.p));
        bool moved = false;
        for (int k = 0; k < 8 && !moved; ++k) {
          const double a = k * kPi / 4 + turn;
          const Vec3 p = faces_.put(on, s.site.p + step * (std::cos(a) * tangent.x + std::sin(a) * tangent.y));
          const double there = f(p, on);
          if (there >= s.value - 1e-14) continue;
          if (faces_.face(on).kind != Surface::free_form && !faces_.holds(on, p)) continue;
          s = {there, {p, on}};
          moved = true;
        }
        if (!moved) break;
      }
    return s;
  }

  const Faces& faces_;
  Outline outline_;
  dense::Outline chords_;
  int pocket_;
};

}  // namespace eyebrow::exact
