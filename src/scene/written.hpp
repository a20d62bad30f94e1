// Everything that is written over the solids: captions, the scale of the colours, gaps and dimensions with their
// labels.
#pragma once
#include <cmath>
#include <set>
#include <vector>

#include "scene/captions.hpp"
#include "scene/overlay.hpp"
#include "scene/scene.hpp"

namespace eyebrow::scene {

struct Page {
  bool captions = true;
  Coloring coloring = Coloring::plain;
  std::set<Group> groups;  ///< Coloring::groups: those that there are
  Format format;
  std::vector<LitGap> lit;  ///< an empty label is not written, nor are those of dimensions
  std::vector<SectionDimension> dimensions;
  std::vector<Vec3> keep_free;  ///< places that no label should cover
  std::string veil;             ///< as Scene::veil
};

class Written {
 public:
  explicit Written(vtkRenderer* renderer) : renderer_(renderer), overlay_(renderer) {}

  /// Lays all of it out for the renderer's camera and size.
  void write(const Page& page, const Captions& captions);

  /// What captions leave: shares of the renderer's width and height in units of its height, and by how much its middle
  /// is higher than the renderer's, as a share of the height.
  struct Room {
    double width, height, middle_shift;
  };
  Room room_for_scene(bool captions) const;

  /// Is the place within the renderer's picture, captions left out?
  bool is_seen(Vec3 place) const;
  /// Pixels of a unit, which all sizes are made of.
  double unit() const;

  const Overlay& overlay() const { return overlay_; }
  /// Where the labels stand, for tests.
  const std::vector<Area>& label_areas() const { return labels_; }

 private:
  struct Line {
    LitKind kind;
    bool is_short;
    Spot2 from, to, rim;  ///< on the valve, on the piston, on the rim as it stands
    std::string label;
  };
  Spot2 pixel(Vec3 place) const;
  void write_captions(const Captions& captions);
  void write_scale(Coloring coloring, const Format& format);
  void write_groups(const std::set<Group>& groups);
  void part(std::vector<Line>& lines) const;
  void draw_line(const Line& line);
  void write_lines(const std::vector<Line>& lines, Color ink);
  void write_veil(const std::string& words);

  vtkRenderer* renderer_;
  Overlay overlay_;
  std::vector<Area> taken_, labels_;    ///< taken_: by captions and scale
  double top_ = INFINITY, bottom_ = 0;  ///< of what the captions leave, pixels
};

}  // namespace eyebrow::scene
