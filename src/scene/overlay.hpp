// What is drawn flat over the solids, so that none of it hides: lines, markers, texts. Pixels, y up; painted in the
// order of the calls, texts last.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "scene/label_places.hpp"
#include "scene/palette.hpp"

class vtkRenderer;

namespace eyebrow::scene {

struct Writing {
  double size = 14;  ///< pixels
  bool bold = false;
  Color color = kInk;
};

class Overlay {
 public:
  explicit Overlay(vtkRenderer* renderer);
  ~Overlay();
  Overlay(const Overlay&) = delete;
  Overlay& operator=(const Overlay&) = delete;

  /// Begins anew.
  void clear();
  void polygon(const std::vector<Spot2>& corners, Color color, double opacity = 1);
  void area(const Area& area, Color color, double opacity = 1);
  void line(Spot2 from, Spot2 to, double width, Color color, const std::vector<double>& dash = {});
  /// `corners` as LitStyle; hollow: paper inside.
  void marker(Spot2 at, double radius, const LitStyle& style, bool hollow);
  /// A head that points to `tip`, coming from the direction of `from`.
  void arrow_head(Spot2 from, Spot2 tip, double size, Color color);
  /// Its left end and base line there.
  void text(const std::string& text, Spot2 at, const Writing& writing);
  double width_of(const std::string& text, const Writing& writing) const;
  /// Nothing appears before this.
  void finish();

  /// What was written, for tests.
  struct Written {
    std::string text;
    Spot2 at;
  };
  const std::vector<Written>& written() const;

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace eyebrow::scene
