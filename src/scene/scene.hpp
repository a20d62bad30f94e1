// The engine in 3-D: solids with their true edges, the gaps lit, a section, the crown coloured by how near it is.
// A Scene draws with one vtkRenderer, which stands in a window of the caller's: on the screen or off it.
#pragma once
#include <limits>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/motion.hpp"
#include "eyebrow/parts.hpp"
#include "eyebrow/report.hpp"
#include "scene/lit_kind.hpp"

class vtkRenderer;

namespace eyebrow::scene {

struct NearestGaps;

/// What is looked at. All must be of the same engine; `check` may be missing, then no least of the cycle is told.
struct Shown {
  std::shared_ptr<const Engine> engine;
  std::shared_ptr<const Parts> parts;
  std::shared_ptr<const CheckResult> check = {};
};

enum class Coloring {
  plain,
  gap,     ///< each place of the crown by its distance to the nearest valve at this crank angle
  least,   ///< by the least such distance over the whole cycle: what clay would keep. Needs Scene::set_least()
  groups,  ///< each face of the crown by what it is taken for
};

const char* to_string(Coloring coloring);
std::optional<Coloring> coloring_of(const std::string& word);

/// A plane of the block frame. What lies on the side that `normal` points to is cut away.
struct Plane {
  Vec3 origin;
  Vec3 normal{0, -1, 0};  ///< a unit vector
};

/// Where the parts are cut open.
struct Section {
  enum class Through { nothing, valve, plane };
  Through through = Through::nothing;
  int valve = 0;  ///< Through::valve: the plane holds this valve's axis and, on its rim ...
  /// ... this place, hours as in Minimum::clock; NaN = the place of the gap that Look::focus names at this crank angle,
  /// else of the radial gap, else of the closest.
  double clock = std::numeric_limits<double>::quiet_NaN();
  Plane plane;  ///< Through::plane
};

/// How it is shown. Parts go by their names in Scene::part_names().
struct Look {
  Coloring coloring = Coloring::plain;
  Section section;
  std::set<std::string> hidden, transparent;
  /// Pairs and the bore are lit where a valve of theirs is open, or where `focus` says so.
  std::set<LitKind> lit{LitKind::travel,  LitKind::face, LitKind::radial,
                        LitKind::closest, LitKind::pair, LitKind::bore};
  /// Whose gaps are lit (index into Engine::valves); none = of each kind the tightest at this crank angle.
  std::optional<int> lit_valve;
  std::optional<int> lit_other;  ///< of pairs: with which other valve; none = the nearest
  /// Which of them View::best and View::near look at, and a section goes through; none = the least.
  std::optional<LitKind> focus;
  bool overlaps = true;  ///< where valve and crown overlap, draw what they have in common: some 0.1 s a valve
  Format format;         ///< of all lengths written
  bool captions = true;  ///< title and foot line
  bool labels = true;    ///< numbers beside what is lit and dimensioned
};

/// The same with one gap in its focus and those of its sort lit beside it (unless other kinds than usual are lit): all
/// four of the valve and the piston; pair and bore; piston to head alone. `valve`: -1 = piston to head; `other`: the
/// second of a pair, else -1.
Look with_focus(Look look, LitKind kind, int valve, int other);

/// From where one looks. `best`: from where the lit gap with the least value is seen; `near`: the same, close by;
/// `square`: square to the section.
enum class View { best, near, square, front, rear, right, left, above };
const char* to_string(View view);
/// Nothing where there is no view of that name; all are in words.hpp.
std::optional<View> view_of(const std::string& word);

/// One gap at the crank angle shown. Points in the block frame.
struct LitGap {
  LitKind kind = LitKind::travel;
  int valve = 0;   ///< -1: piston to head
  int other = -1;  ///< the second valve of a pair
  Gap gap;         ///< as the kernel has it for this pose
  double asked = 0;
  bool is_short = false;    ///< of what is asked, as it is judged
  Vec3 on_valve, on_other;  ///< piston to head: on the head's deck face, on the crown flat
  /// On the rim as it stands, where `on_valve` is a place that it comes to further along its path (radial); else the
  /// same as `on_valve`.
  Vec3 on_rim;
  std::string face;    ///< of the other part
  bool least = false;  ///< this is the place of the cycle's least, as the check found it
  std::string label;   ///< what the picture writes beside it
};

/// One dimension of the section through a valve.
struct SectionDimension {
  enum class What { travel, face, radial, radial_opposite };
  What what = What::travel;
  double value = 0;     ///< mm, measured within the section's plane
  Vec3 from, to;        ///< on the valve, on the piston; block frame
  Vec3 on_rim;          ///< as in LitGap
  bool is_gap = false;  ///< the gap itself, not only what this plane shows of it
  bool is_short = false;
  std::string label;
};

GapKind kind_of(SectionDimension::What what);

/// A face in sight, and the place of it that is looked at.
struct SeenFace {
  std::string part, face;  ///< "valve intake" and "margin"
  Vec3 place;              ///< of the crown: piston frame; of others: block frame
};

class Scene {
 public:
  Scene();
  ~Scene();
  Scene(const Scene&) = delete;
  Scene& operator=(const Scene&) = delete;

  /// The only renderer needed: give it to a window. Labels are laid out anew whenever it renders.
  vtkRenderer* renderer();

  /// Takes other parts on; the crank angle and the look stay. Throws as study::Setup.
  void show(const Shown& shown);
  /// Turns the crank: radians, -2 pi ... 2 pi.
  void place(double crank);
  double crank() const;
  void look(const Look& look);
  const Look& look() const;
  /// The colours of Coloring::least, from nearest_over_cycle(); null takes them away.
  void set_least(std::shared_ptr<const NearestGaps> least);
  /// Says over everything that it is not what counts any more ("CHECKING"), and greys it; empty: it counts.
  void veil(const std::string& words);
  const std::string& veil() const;
  /// Puts the camera there; it then stays until it is moved.
  void view(View view);
  /// Carries the eye around the bore axis, seen from above counter-clockwise. Radians.
  void turn(double angle);

  /// "crown", "bore", "gasket", "valve intake", ...
  std::vector<std::string> part_names() const;
  /// What is lit now, one a kind at most (a gap that is not there now is not among them).
  const std::vector<LitGap>& lit() const;
  /// What the section through a valve shows now.
  const std::vector<SectionDimension>& dimensions() const;
  /// What is seen at a place of the picture (pixels from the lower left); its face is empty where nothing is.
  SeenFace seen_at(int x, int y);

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace eyebrow::scene
