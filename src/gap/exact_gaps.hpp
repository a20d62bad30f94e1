// Travel, face and radial gap, and the closest where the parts overlap or a valve is dished, from exact faces and edges
// instead of the mesh.
#pragma once
#include <optional>
#include <vector>

#include "convex_outline.hpp"
#include "dish.hpp"
#include "edge_search.hpp"
#include "hollow_face.hpp"
#include "outline.hpp"
#include "queries.hpp"
#include "sheet_set.hpp"

namespace eyebrow::gap {

struct Depth;
struct DishedDepth;

/// A valve as convex solids, for one outline (as it is, or made a little larger or smaller); what is hollow below is
/// filled in.
struct ConvexValve {
  explicit ConvexValve(const Profile& profile) : ConvexValve(profile, filled_outline(profile)) {}
  std::vector<ConvexOutline> pieces;  ///< head, stem
  ConvexOutline upright;              ///< upright_hull
  std::vector<OutlineCircle> circles;
  StemSide stem;            ///< stem_side
  bool filled;              ///< is something filled in?
  std::vector<Vec3> brink;  ///< brink_places
  std::optional<Dish> dish;

 private:
  ConvexValve(const Profile& profile, const Profile& whole);
};

/// A crown seen along one valve's axis, made ready for many poses.
///
/// Every gap is the least of a function of a place on the crown's surface that is convex in that place, for each convex
/// piece of the valve: the way along a line to it (travel, face), the distance from the rim's path (radial), the signed
/// distance (closest). Where the least lies on a face, and not on an edge, depends on what the face bounds:
/// - a plane, or metal that is convex there: it is the least over the whole surface, so that is looked for alone and
///   counts if it is on the face. From every other place of the face the straight way to it leads down to an edge;
/// - a void that is convex there (wall, corner): only the valve's outermost circles meet it, and only the ends of the
///   rim's path are nearest to it.
/// Edges, and where none of that holds, are searched by `SheetSearch`.
class ExactGaps {
 public:
  /// `all`, `feet`, `sides`: the crown's faces in order of preference; where a face gap may stand; the own pocket's
  /// sides. The target has to outlive this.
  ExactGaps(const Target& target, Vec3 up, const std::vector<int>& all, const std::vector<int>& feet,
            const std::vector<int>& sides);

  /// Each: nothing where the mesh has to answer. `centre`: of the rim plane, crown's frame. A result whose face and
  /// triangle are both negative says that there is none. `on_mesh`: the valve for faces that only the mesh knows.
  std::optional<Found> travel(Vec3 centre, const ConvexValve& valve, const ValveShape& shape,
                              const ValveShape& on_mesh) const;
  std::optional<Found> face(Vec3 centre, const ConvexValve& valve, const ValveShape& shape,
                            const ValveShape& on_mesh) const;
  std::optional<Found> radial(Vec3 centre, const ValveShape& shape, const ValveShape& on_mesh, double reach,
                              double astray = 0) const;
  /// The closest gap where the valve overlaps the crown, or is clear by a hair.
  std::optional<Found> overlap(Vec3 centre, const ConvexValve& valve, const ValveShape& shape) const;
  /// The closest gap of a dished valve where it is known to be clear.
  std::optional<Found> clear_of_dish(Vec3 centre, const ConvexValve& valve, const ValveShape& shape) const;

  /// The exact face's normal at a point, into the void; crown's frame.
  Vec3 normal(int face, Vec3 point) const;

 private:
  struct Plane {
    int face;
    Vec3 normal, origin;  ///< crown's frame
    Vec3 turned;          ///< the normal in the valve's axes
  };
  struct Foot {
    int plane;  ///< into planes_
    SheetSet edges;
  };
  struct Ball {
    int face;
    Vec3 centre;
    double radius;
    SheetSet edges;
  };
  struct Cone {
    int face;
    std::size_t bulge;  ///< into bulges_
    SheetSet edges;
  };
  struct Side {
    int face;
    SheetForm form;  ///< valve's axes
  };
  struct Support {
    double height;   ///< of the valve's nearest point over the plane; negative: below
    Vec3 foot;       ///< under that point, crown's frame
    bool cuts_face;  ///< the plane cuts the solid, and a place of that cut is on the face
  };

  void add_face(int index, bool foot, bool side);
  void add_edges();
  SheetSet edges_of(int face) const;
  Support support(const Plane& plane, const ConvexValve& valve, const ConvexOutline& solid, Vec3 centre,
                  Vec3 along) const;
  /// A level plane under a dish, from edges: the way is least on the dish's brink or as far out as the face goes.
  void under_dish(int face, Vec3 centre, const ConvexValve& valve, const ValveShape& shape, Nearest& best) const;
  /// Lowers `best` by the ways outward from a bulging cone to one piece; false where they overlap.
  bool off_cone(const Cone& cone, Vec3 centre, const ConvexOutline& piece, Nearest& best) const;
  bool beyond_hollow(Vec3 centre, const ConvexValve& valve) const;
  template <class Function>
  bool search(const SheetSet& set, const Function& function, Vec3 centre, double tolerance, Nearest& best,
              long budget = kSheetBudget) const;
  /// Over a whole surface: counts where it is on the face.
  template <class Function>
  bool search_whole(const SheetSet& set, const Function& function, Vec3 centre, double tolerance, Nearest& best) const;
  template <class Function>
  bool search_plane(const Plane& plane, const Function& function, Vec3 centre, double tolerance, Nearest& best,
                    double within = 1e9) const;
  template <class Function>
  bool search_edges_and_curved(const Function& function, Vec3 centre, double tolerance, Nearest& best) const;
  template <class Function>
  bool search_everything(const Function& function, Vec3 centre, Nearest& best) const;
  std::optional<Found> withdrawal(Vec3 centre, const ConvexValve& valve) const;
  /// Lowers `best` by the planes, but for their edges: of a valve that is filled in below, or needs no filling; of a
  /// dished one. What it misses is no deeper than what it returns.
  double deepest_on_planes(Vec3 centre, const Depth& depth, double tolerance, Nearest& best) const;
  double deepest_on_planes(Vec3 centre, const DishedDepth& dished, double tolerance, Nearest& best) const;
  /// Lowers `best` by what a plane has within the stem's radius, which squares of it show; false where it gave up.
  bool deepest_under_stem(const Plane& plane, Vec3 centre, const Depth& depth, double tolerance, Nearest& best) const;
  /// Lowers `best` by all exact faces and edges; false where the search gave up.
  bool deepest(Vec3 centre, const ConvexValve& valve, const ValveShape& shape, double tolerance, Nearest& best) const;
  bool holds(int face, Vec3 point) const { return target_.trims()[static_cast<std::size_t>(face)].within(point); }
  /// The lesser of what is found and what the mesh says of the faces that only it knows. `error`: of the mesh, where
  /// the valve that it was asked with does not have it yet.
  Found with_mesh(Found found, Found on_mesh, double error = 0) const;
  void take(Nearest& best, double value, Vec3 point, int face, Vec3 centre) const;
  Vec3 into(Vec3 v) const { return {dot(v, frame_.x), dot(v, frame_.y), dot(v, frame_.z)}; }
  Vec3 out(Vec3 v) const { return v.x * frame_.x + v.y * frame_.y + v.z * frame_.z; }

  const Target& target_;
  Frame frame_;  ///< directions only
  const std::vector<int>& all_;
  std::vector<double> outward_;  ///< of each face: +1 where the surface's own normal is the metal's, else -1
  std::vector<Plane> planes_;
  std::vector<SheetSet> bulges_;  ///< whole surfaces of faces whose metal is convex
  std::vector<HollowFace> hollows_;
  std::vector<Foot> feet_;
  std::vector<Ball> balls_;
  std::vector<Cone> cones_;
  std::vector<Side> slices_;                              ///< the own pocket's sides
  std::vector<int> mesh_faces_, mesh_feet_, mesh_sides_;  ///< what only the mesh search knows, of all, feet and sides
  SheetSet ahead_;                                        ///< edges, and curved faces that are none of the above
  SheetSet edges_, curved_;                               ///< edges; curved faces
  SheetSet sides_;                                        ///< the own pocket's sides: edges and faces
};

}  // namespace eyebrow::gap
