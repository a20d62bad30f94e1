// How the exact gaps look for a least: on edges, faces and planes. For the parts of ExactGaps only.
#pragma once
#include "exact_functions.hpp"
#include "exact_gaps.hpp"
#include "line_search.hpp"
#include "sheet_search.hpp"

namespace eyebrow::gap {

inline Found found_of(const Nearest& best, double tolerance) {
  Found found;
  if (best.face < 0) return found;
  found.value = best.value;
  found.point = best.point;
  found.face = best.face;
  found.low = best.value - tolerance;
  return found;
}

template <class Function>
bool ExactGaps::search(const SheetSet& set, const Function& function, Vec3 centre, double tolerance, Nearest& best,
                       long budget) const {
  return SheetSearch(set, function, into(centre), tolerance, budget, best).run();
}

template <class Function>
bool ExactGaps::search_whole(const SheetSet& set, const Function& function, Vec3 centre, double tolerance,
                             Nearest& best) const {
  Nearest whole{best.value, {}, -1};
  if (!search(set, function, centre, tolerance, whole)) return false;
  if (whole.face >= 0) take(best, whole.value, centre + out(whole.point), whole.face, centre);
  return true;
}

template <class Function>
bool ExactGaps::search_plane(const Plane& plane, const Function& function, Vec3 centre, double tolerance, Nearest& best,
                             double within) const {
  Nearest whole{best.value, {}, -1};
  if (!least_on_plane(function, into(plane.origin - centre), plane.turned, within, tolerance, whole, plane.face))
    return false;
  if (whole.face >= 0) take(best, whole.value, centre + out(whole.point), whole.face, centre);
  return true;
}

/// Edges first: where a function falls across a face's border, only what is known of the border ends the search there.
template <class Function>
bool ExactGaps::search_edges_and_curved(const Function& function, Vec3 centre, double tolerance, Nearest& best) const {
  return search(edges_, function, centre, tolerance, best) && search(curved_, function, centre, tolerance, best);
}

template <class Function>
bool ExactGaps::search_everything(const Function& function, Vec3 centre, Nearest& best) const {
  for (const Plane& plane : planes_)
    if (!search_plane(plane, function, centre, kSearch, best)) return false;
  return search_edges_and_curved(function, centre, kSearch, best);
}

}  // namespace eyebrow::gap
