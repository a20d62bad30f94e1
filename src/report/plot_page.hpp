// A page to draw on: SVG, PDF and PNG get the same strokes. Lengths in points, x to the right, y down.
#pragma once
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/plot.hpp"

namespace eyebrow::plot {

struct Place {
  double x = 0, y = 0;
};

struct Box {
  double left = 0, top = 0, right = 0, bottom = 0;
  double width() const { return right - left; }
  double height() const { return bottom - top; }
  bool meets(const Box& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
  bool holds(Place p) const { return p.x >= left && p.x <= right && p.y >= top && p.y <= bottom; }
  bool holds(const Box& b) const { return holds(Place{b.left, b.top}) && holds(Place{b.right, b.bottom}); }
  Box grown(double by) const { return {left - by, top - by, right + by, bottom + by}; }
};

struct Ink {
  double red = 0, green = 0, blue = 0;  ///< 0 ... 1, sRGB
};

struct Stroke {
  Ink ink;
  double width = 1;
  std::vector<double> dash = {};  ///< lengths of strokes and gaps; empty = drawn through
};

enum class Shape { circle, square, triangle, diamond, cross };
enum class Anchor { left, middle, right };  ///< which place of a text stands at the place given

struct Lettering {
  double size = 12;
  bool bold = false;
  Ink ink = {0.1, 0.1, 0.1};
  Anchor anchor = Anchor::left;
  bool halo = false;    ///< white around the letters, for texts on lines and fills
  bool upright = true;  ///< false: it runs upward
};

/// Widths are those of DejaVu Sans, or of what stands in for it.
double text_width(const std::string& text, double size, bool bold = false);
/// The text in lines of at most `width`, broken at spaces; a longer word is cut with "...".
std::vector<std::string> text_lines(const std::string& text, double size, double width);
/// The text, cut with "..." where it is wider; with what is no printable UTF-8 replaced by '?'.
std::string fitted(const std::string& text, double size, double width, bool bold = false);

using Polygon = std::vector<Place>;

/// The pieces of parallel lines at 45 degrees, `apart` from each other, that lie over convex polygons; `crossed`: of
/// lines both ways. The lines stand where they do whatever the polygons are: those over neighbours meet.
std::vector<std::pair<Place, Place>> hatch_lines(const std::vector<Polygon>& polygons, double apart, bool crossed);

class Page {
 public:
  /// What a PDF's pages are as large as: as the drawing, or A4 on its side, with the drawing as large as fits.
  enum class Paper { as_drawn, a4 };
  /// `title` goes into the file, for those who cannot see it.
  Page(PlotFile kind, double width, double height, std::string title, Paper paper = Paper::as_drawn);
  Page(Page&&) noexcept;
  ~Page();

  double width() const;
  double height() const;

  /// Draws what `draw` draws within the box only.
  void within(const Box& box, const std::function<void()>& draw);
  void line(const std::vector<Place>& places, const Stroke& stroke);
  void box(const Box& box, const Stroke& stroke);
  /// All polygons as one: sides that two of them share leave no seam, as long as they turn the same way.
  void fill(const std::vector<Polygon>& polygons, Ink ink);
  void fill(const Box& box, Ink ink);
  /// See hatch_lines.
  void hatch(const std::vector<Polygon>& polygons, const Stroke& stroke, double apart, bool crossed = false);
  void hatch(const Box& box, const Stroke& stroke, double apart, bool crossed = false);
  /// A marker with a white edge. `name` is kept beside its place, see marked().
  void mark(Shape shape, Place at, double size, Ink ink, const std::string& name = "");
  /// At the text's left end, middle or right end, on its base line. Returns what it covers.
  Box text(const std::string& text, Place at, const Lettering& lettering);

  /// A PDF's next page; no other file has one.
  void next();

  /// The file. Nothing can be drawn after that.
  std::string finish();

  /// What was written and marked so far, for tests.
  struct Written {
    std::string text;
    Box box;
  };
  struct Marked {
    std::string name;
    Place at;
  };
  const std::vector<Written>& written() const;
  const std::vector<Marked>& marked() const;

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace eyebrow::plot
