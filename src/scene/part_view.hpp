// One solid of the scene: its faces, its true edges, and the cap where it is cut open.
#pragma once
#include <vtkNew.h>
#include <vtkSmartPointer.h>

#include <memory>
#include <optional>
#include <string>

#include "scene/palette.hpp"
#include "scene/polydata.hpp"
#include "scene/scene.hpp"

class vtkActor;
class vtkPolyData;
class vtkPolyDataMapper;
class vtkRenderer;

namespace eyebrow::scene {

/// A band of heights (block frame) outside of which nothing is drawn.
struct HeightBand {
  double low = -std::numeric_limits<double>::infinity(), high = std::numeric_limits<double>::infinity();
};

class PartView {
 public:
  /// `solid` in a frame of its own. `shown`: which faces are drawn; the cap is that of the whole solid. `hatch`: the
  /// way of the cap's lines, 1 or -1.
  PartView(std::string name, std::shared_ptr<const Crown> solid, const ChosenFaces& shown, Color color, int hatch);
  PartView(const PartView&) = delete;
  PartView& operator=(const PartView&) = delete;
  ~PartView();

  const std::string& name() const { return name_; }
  const Crown& solid() const { return *solid_; }
  const Frame& frame() const { return frame_; }
  void add_to(vtkRenderer* renderer);
  void remove_from(vtkRenderer* renderer);

  /// Where its frame stands in the block frame, and where it is cut open (block frame; nothing = whole).
  void set_place(const Frame& frame, const std::optional<Plane>& cut);
  void set_band(const HeightBand& band);
  void set_visible(bool visible);
  void set_opacity(double opacity);
  /// Of its edges, in pixels.
  void set_line_width(double width);
  /// Draws no back sides: of a wall around the scene the near part is then not in the way.
  void cull_backs();
  /// In front of what lies in the same place.
  void draw_before(double units);
  /// Colours it by a distance for each point of a finer mesh of the same solid.
  void set_distances(const Crown& finer, const std::vector<float>& distances, const Bands& bands);
  /// Colours each face by its group.
  void set_groups();
  /// Its own colour.
  void set_plain();

  vtkActor* surface() const;
  /// The name of a face by the number of its cell.
  std::string face_of_cell(long cell) const;

 private:
  void update_planes();
  void update_cap();
  bool cut_away() const;
  void set_light(double ambient, double specular);

  struct Actors;
  std::string name_;
  std::shared_ptr<const Crown> solid_;
  ChosenFaces shown_;
  Color color_;
  Frame frame_;
  std::optional<Plane> cut_, cap_of_;  ///< cap_of_: in the solid's frame, of the cap that is made
  HeightBand band_;
  bool visible_ = true;
  double opacity_ = 1;
  std::unique_ptr<Actors> actors_;
};

}  // namespace eyebrow::scene
