// Texts of a plot: what can be written, how wide it is, and where it breaks.
#include <cairo.h>

#include <cstdint>
#include <memory>
#include <sstream>

#include "lines.hpp"
#include "plot_page.hpp"

namespace eyebrow::plot {
namespace {

/// Bytes of the code point that starts at `at`; 0 = it is none by RFC 3629, or one that XML 1.0 does not allow.
std::size_t code_point_at(const std::string& text, std::size_t at) {
  const auto byte = [&](std::size_t i) -> std::uint32_t {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0;
  };
  const std::uint32_t first = byte(at);
  if (first < 0x80) return 1;
  const std::size_t count = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4) return 0;
  std::uint32_t code = first & (0x7F >> count);
  for (std::size_t i = 1; i < count; ++i) {
    if ((byte(at + i) & 0xC0) != 0x80) return 0;
    code = code << 6 | (byte(at + i) & 0x3F);
  }
  constexpr std::uint32_t kLeast[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool allowed = code >= kLeast[count] && code <= 0x10FFFF && !(code >= 0xD800 && code <= 0xDFFF) &&
                       code != 0xFFFE && code != 0xFFFF;
  return allowed ? count : 0;
}

std::string writable(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t count = code_point_at(text, i);
    out += count == 0 ? "?" : text.substr(i, count);
    i += count == 0 ? 1 : count;
  }
  return printable(out, 100000);
}

struct Destroy {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
};

}  // namespace

double text_width(const std::string& text, double size, bool bold) {
  const std::unique_ptr<cairo_surface_t, Destroy> surface(cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1));
  const std::unique_ptr<cairo_t, Destroy> context(cairo_create(surface.get()));
  const std::unique_ptr<cairo_font_options_t, Destroy> options(cairo_font_options_create());
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_set_font_options(context.get(), options.get());
  cairo_select_font_face(context.get(), "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(context.get(), size);
  cairo_text_extents_t extents{};
  cairo_text_extents(context.get(), text.c_str(), &extents);
  return extents.x_advance;
}

std::string fitted(const std::string& text, double size, double width, bool bold) {
  std::string out = writable(text);
  if (out.size() > 2000) out = writable(out.substr(0, 2000));
  if (text_width(out, size, bold) <= width) return out;
  while (!out.empty() && text_width(out + "...", size, bold) > width) {
    while (!out.empty() && (static_cast<unsigned char>(out.back()) & 0xC0) == 0x80) out.pop_back();
    if (!out.empty()) out.pop_back();
  }
  return out + "...";
}

std::vector<std::string> text_lines(const std::string& text, double size, double width) {
  std::vector<std::string> out;
  std::istringstream words(writable(text));
  for (std::string word; words >> word;) {
    word = fitted(word, size, width);
    if (!out.empty() && text_width(out.back() + ' ' + word, size) <= width)
      out.back() += ' ' + word;
    else
      out.push_back(word);
  }
  return out;
}

}  // namespace eyebrow::plot
