#include "plot_page.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <algorithm>
#include <cmath>

#include "plot_svg.hpp"

namespace eyebrow::plot {
namespace {

// Picture points of a PNG for a point of the page: letters of 11 points are readable on a screen at half size.
constexpr double kPngScale = 2;
constexpr Ink kWhite{1, 1, 1};

cairo_status_t append(void* to, const unsigned char* bytes, unsigned int count) {
  // An exception must not pass through the C library.
  try {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
  } catch (...) {
    return CAIRO_STATUS_WRITE_ERROR;
  }
}

void check(cairo_status_t status) {
  if (status != CAIRO_STATUS_SUCCESS)
    throw MachineError(std::string("the plot cannot be drawn: ") + cairo_status_to_string(status));
}

constexpr double kA4Long = 297 / 25.4 * 72, kA4Short = 210 / 25.4 * 72;  // points (ISO 216)

cairo_surface_t* make_surface(PlotFile kind, double width, double height, std::string& bytes) {
  if (kind == PlotFile::svg) return cairo_svg_surface_create_for_stream(append, &bytes, width, height);
  if (kind == PlotFile::pdf) return cairo_pdf_surface_create_for_stream(append, &bytes, width, height);
  return cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(std::ceil(width * kPngScale)),
                                    static_cast<int>(std::ceil(height * kPngScale)));
}

/// The part of a line from `a` to `b` within the box (Liang and Barsky, ACM Transactions on Graphics 3, 1984): the
/// drawing library wraps what lies millions of points away around.
bool clip(Place& a, Place& b, const Box& box) {
  double from = 0, to = 1;
  const double dx = b.x - a.x, dy = b.y - a.y;
  const auto side = [&](double along, double room) {
    if (along == 0) return room >= 0;
    const double at = room / along;
    if (along < 0)
      from = std::max(from, at);
    else
      to = std::min(to, at);
    return from <= to;
  };
  if (!side(-dx, a.x - box.left) || !side(dx, box.right - a.x) || !side(-dy, a.y - box.top) ||
      !side(dy, box.bottom - a.y))
    return false;
  const Place start = a;
  if (to < 1) b = {start.x + to * dx, start.y + to * dy};
  if (from > 0) a = {start.x + from * dx, start.y + from * dy};
  return true;
}

}  // namespace

struct Page::Inner {
  PlotFile kind;
  double width, height;
  std::string title, bytes;
  cairo_surface_t* surface = nullptr;
  cairo_t* context = nullptr;
  std::vector<Written> written;
  std::vector<Marked> marked;

  Inner(PlotFile of, double w, double h, std::string name, bool on_a4)
      : kind(of),
        width(w),
        height(h),
        title(std::move(name)),
        surface(make_surface(of, on_a4 ? kA4Long : w, on_a4 ? kA4Short : h, bytes)) {
    context = cairo_create(surface);
    if (on_a4) {
      const double scale = std::min(kA4Long / width, kA4Short / height);
      cairo_translate(context, (kA4Long - scale * width) / 2, (kA4Short - scale * height) / 2);
      cairo_scale(context, scale, scale);
    }
    if (kind == PlotFile::png) cairo_scale(context, kPngScale, kPngScale);
    if (kind == PlotFile::svg) cairo_svg_surface_restrict_to_version(surface, CAIRO_SVG_VERSION_1_1);
    if (kind == PlotFile::pdf) {
      cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
      cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "eyebrow");
      // Else it would have the time of day in it: the same input must give the same bytes.
      cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    }
    // Letters look and measure the same whatever the machine's screen is set to.
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(context, options);
    cairo_font_options_destroy(options);
    cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
    ink(kWhite);
    cairo_paint(context);
  }
  Inner(const Inner&) = delete;
  Inner& operator=(const Inner&) = delete;
  ~Inner() {
    cairo_destroy(context);
    cairo_surface_destroy(surface);
  }

  void ink(Ink of) { cairo_set_source_rgb(context, of.red, of.green, of.blue); }
  void set(const Stroke& stroke) {
    ink(stroke.ink);
    cairo_set_line_width(context, stroke.width);
    cairo_set_dash(context, stroke.dash.data(), static_cast<int>(stroke.dash.size()), 0);
    cairo_set_line_cap(context, CAIRO_LINE_CAP_BUTT);
  }
  void path(const std::vector<Polygon>& polygons) {
    cairo_new_path(context);
    for (const Polygon& polygon : polygons) {
      for (const Place& p : polygon) cairo_line_to(context, p.x, p.y);
      cairo_close_path(context);
      cairo_new_sub_path(context);
    }
  }
  Box everywhere() const { return {-width, -height, 2 * width, 2 * height}; }
};

Page::Page(PlotFile kind, double width, double height, std::string title, Paper paper)
    : inner_(std::make_unique<Inner>(kind, width, height, fitted(title, 1, 1000),
                                     kind == PlotFile::pdf && paper == Paper::a4)) {
  check(cairo_status(inner_->context));
}
Page::Page(Page&&) noexcept = default;
Page::~Page() = default;

double Page::width() const {
  return inner_->width;
}
double Page::height() const {
  return inner_->height;
}
const std::vector<Page::Written>& Page::written() const {
  return inner_->written;
}
const std::vector<Page::Marked>& Page::marked() const {
  return inner_->marked;
}

void Page::within(const Box& box, const std::function<void()>& draw) {
  cairo_save(inner_->context);
  cairo_rectangle(inner_->context, box.left, box.top, box.width(), box.height());
  cairo_clip(inner_->context);
  draw();
  cairo_restore(inner_->context);
}

void Page::line(const std::vector<Place>& places, const Stroke& stroke) {
  inner_->set(stroke);
  cairo_new_path(inner_->context);
  Place last{NAN, NAN};
  for (std::size_t i = 1; i < places.size(); ++i) {
    Place a = places[i - 1], b = places[i];
    if (!clip(a, b, inner_->everywhere())) continue;
    if (a.x != last.x || a.y != last.y) cairo_move_to(inner_->context, a.x, a.y);
    cairo_line_to(inner_->context, b.x, b.y);
    last = b;
  }
  cairo_stroke(inner_->context);
}

void Page::box(const Box& box, const Stroke& stroke) {
  inner_->set(stroke);
  cairo_rectangle(inner_->context, box.left, box.top, box.width(), box.height());
  cairo_stroke(inner_->context);
}

void Page::fill(const std::vector<Polygon>& polygons, Ink ink) {
  inner_->ink(ink);
  inner_->path(polygons);
  cairo_fill(inner_->context);
}

void Page::fill(const Box& box, Ink ink) {
  inner_->ink(ink);
  cairo_rectangle(inner_->context, box.left, box.top, box.width(), box.height());
  cairo_fill(inner_->context);
}

void Page::hatch(const std::vector<Polygon>& polygons, const Stroke& stroke, double apart, bool crossed) {
  inner_->set(stroke);
  cairo_new_path(inner_->context);
  for (const auto& [from, to] : hatch_lines(polygons, apart, crossed)) {
    cairo_move_to(inner_->context, from.x, from.y);
    cairo_line_to(inner_->context, to.x, to.y);
  }
  cairo_stroke(inner_->context);
}

void Page::hatch(const Box& box, const Stroke& stroke, double apart, bool crossed) {
  hatch({{{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}}}, stroke, apart,
        crossed);
}

void Page::mark(Shape shape, Place at, double size, Ink ink, const std::string& name) {
  cairo_t* context = inner_->context;
  const double r = size / 2;
  cairo_new_path(context);
  const auto outline = [&](const std::vector<Place>& corners) {
    for (const Place& p : corners) cairo_line_to(context, at.x + p.x * r, at.y + p.y * r);
    cairo_close_path(context);
  };
  if (shape == Shape::circle) {
    cairo_arc(context, at.x, at.y, r, 0, 2 * kPi);
    cairo_close_path(context);
  }
  if (shape == Shape::square) outline({{-0.9, -0.9}, {0.9, -0.9}, {0.9, 0.9}, {-0.9, 0.9}});
  // Its middle, and not the middle of its height, is the place.
  if (shape == Shape::triangle) outline({{0, -1.2}, {1.1, 0.7}, {-1.1, 0.7}});
  if (shape == Shape::diamond) outline({{0, -1.25}, {1.25, 0}, {0, 1.25}, {-1.25, 0}});
  if (shape == Shape::cross)
    outline({{-0.3, -1.3},
             {0.3, -1.3},
             {0.3, -0.3},
             {1.3, -0.3},
             {1.3, 0.3},
             {0.3, 0.3},
             {0.3, 1.3},
             {-0.3, 1.3},
             {-0.3, 0.3},
             {-1.3, 0.3},
             {-1.3, -0.3},
             {-0.3, -0.3}});
  inner_->set({kWhite, 2.5});
  cairo_stroke_preserve(context);
  inner_->ink(ink);
  cairo_fill(context);
  if (!name.empty()) inner_->marked.push_back({name, at});
}

Box Page::text(const std::string& text, Place at, const Lettering& lettering) {
  cairo_t* context = inner_->context;
  const std::string shown = fitted(text, lettering.size, INFINITY, lettering.bold);
  cairo_select_font_face(context, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         lettering.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(context, lettering.size);
  const double width = text_width(shown, lettering.size, lettering.bold);
  const double before = lettering.anchor == Anchor::left ? 0 : lettering.anchor == Anchor::middle ? width / 2 : width;
  const double up = 0.76 * lettering.size, down = 0.24 * lettering.size;
  cairo_save(context);
  cairo_translate(context, at.x, at.y);
  if (!lettering.upright) cairo_rotate(context, -kPi / 2);
  if (lettering.halo) {
    inner_->set({kWhite, 3});
    cairo_move_to(context, -before, 0);
    cairo_text_path(context, shown.c_str());
    cairo_stroke(context);
  }
  inner_->ink(lettering.ink);
  cairo_move_to(context, -before, 0);
  cairo_show_text(context, shown.c_str());
  cairo_new_path(context);
  cairo_restore(context);
  const Box box = lettering.upright ? Box{at.x - before, at.y - up, at.x - before + width, at.y + down}
                                    : Box{at.x - up, at.y + before - width, at.x + down, at.y + before};
  if (!shown.empty()) inner_->written.push_back({shown, box});
  return box;
}

void Page::next() {
  cairo_show_page(inner_->context);
}

std::string Page::finish() {
  check(cairo_status(inner_->context));
  if (inner_->kind == PlotFile::png)
    check(cairo_surface_write_to_png_stream(inner_->surface, append, &inner_->bytes));
  else
    cairo_surface_finish(inner_->surface);
  check(cairo_surface_status(inner_->surface));
  if (inner_->kind != PlotFile::svg) return std::move(inner_->bytes);
  std::vector<std::string> texts;
  for (const Written& each : inner_->written) texts.push_back(each.text);
  return finished_svg(inner_->bytes, inner_->title, texts);
}

}  // namespace eyebrow::plot
