#include "scene/written.hpp"

#include <vtkCamera.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include <fmt/format.h>

#include "eyebrow/group_color.hpp"
#include "report/words.hpp"
#include "scene/eye.hpp"

namespace eyebrow::scene {
namespace {

// All in units: a thousandth of a picture's height where that is 1000 pixels or more.
constexpr double kLeastUnit = 0.72;  // of a pixel; smaller letters cannot be read
constexpr double kMargin = 22, kTitle = 25, kText = 17, kSmall = 14.5, kLead = 1.35;
constexpr double kTopRoom = 78, kFootLine = kSmall * kLead;
constexpr double kLine = 3.2, kMarker = 7.5, kHead = 17, kStub = 34;
constexpr double kApart = 2.9;      // of a marker's radius: two of them, their paper included, lie beside each other
constexpr double kNoLength = 1e-3;  // pixels: seen end on
constexpr double kVeil = 0.4, kStripe = 26;
constexpr double kFrame = 1.6, kShortFrame = 4;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

/// Broken at spaces where it is too wide.
std::vector<std::string> broken(const Overlay& overlay, const std::string& text, const Writing& writing, double width) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string word; in >> word;) {
    if (!out.empty() && overlay.width_of(out.back() + ' ' + word, writing) <= width)
      out.back() += ' ' + word;
    else
      out.push_back(word);
  }
  return out;
}

std::vector<double> scaled(std::vector<double> dash, double by) {
  for (double& each : dash) each *= by;
  return dash;
}

}  // namespace

double Written::unit() const {
  const int* const size = renderer_->GetSize();
  return std::max(kLeastUnit, std::min(size[1] / 1000.0, size[0] / 1300.0));
}

Written::Room Written::room_for_scene(bool captions) const {
  const int* const size = renderer_->GetSize();
  if (size[0] <= 0 || size[1] <= 0) return {1, 1, 0};
  const double high = size[1], top = captions ? kTopRoom * unit() : 0, foot = captions ? 4.6 * kFootLine * unit() : 0;
  return {size[0] / high, std::max(0.2, (high - top - foot) / high), (foot - top) / 2 / high};
}

/// By the camera alone: VTK's own way knows the aspect of the window only when it has drawn.
Spot2 Written::pixel(Vec3 place) const {
  vtkCamera* const camera = renderer_->GetActiveCamera();
  const auto vector = [](const double* p) { return Vec3{p[0], p[1], p[2]}; };
  const Vec3 toward = toward_eye(camera), right = eyebrow::unit(cross(vector(camera->GetViewUp()), toward));
  const Vec3 arm = place - vector(camera->GetFocalPoint());
  const int* const size = renderer_->GetSize();
  const double scale = size[1] / (2 * camera->GetParallelScale());
  return {size[0] / 2.0 + scale * dot(arm, right), size[1] / 2.0 + scale * dot(arm, cross(toward, right))};
}

bool Written::is_seen(Vec3 place) const {
  const Spot2 at = pixel(place);
  const int* const size = renderer_->GetSize();
  return at.x > 0 && at.x < size[0] && at.y > bottom_ && at.y < std::min<double>(top_, size[1]);
}

void Written::write(const Page& page, const Captions& captions) {
  overlay_.clear();
  taken_.clear();
  labels_.clear();
  const int* const size = renderer_->GetSize();
  top_ = size[1];
  bottom_ = 0;
  if (page.captions) write_captions(captions);
  if (page.coloring == Coloring::groups)
    write_groups(page.groups);
  else if (page.coloring != Coloring::plain)
    write_scale(page.coloring, page.format);

  std::vector<Line> lines;
  const auto add = [&](LitKind kind, bool is_short, Vec3 from, Vec3 to, Vec3 rim, const std::string& label) {
    if (is_seen(0.5 * (from + to))) lines.push_back({kind, is_short, pixel(from), pixel(to), pixel(rim), label});
  };
  for (const LitGap& each : page.lit)
    add(each.kind, each.is_short, each.on_valve, each.on_other, each.on_rim, each.label);
  for (const SectionDimension& each : page.dimensions)
    add(lit_kind(kind_of(each.what)), each.is_short, each.from, each.to, each.on_rim, each.label);
  for (const Vec3 place : page.keep_free) {
    const Spot2 at = pixel(place);
    const double around = kStub * unit();
    taken_.push_back({at.x - around, at.y - around, at.x + around, at.y + around});
  }
  part(lines);
  write_lines(lines, page.veil.empty() ? kInk : kOldInk);
  if (!page.veil.empty()) write_veil(page.veil);
  overlay_.finish();
}

/// Slanted stripes of paper, and a word in a corner on dark ground: nothing of it is lost in grey.
void Written::write_veil(const std::string& words) {
  const int* const size = renderer_->GetSize();
  const double u = unit(), wide = size[0], high = size[1];
  overlay_.area({0, bottom_, wide, top_}, kPaper, kVeil);
  for (double x = -high; x < wide; x += kStripe * u)
    overlay_.polygon({{x, bottom_},
                      {x + 0.5 * kStripe * u, bottom_},
                      {x + 0.5 * kStripe * u + high, bottom_ + high},
                      {x + high, bottom_ + high}},
                     kPaper, kVeil);
  const Writing writing{kText * u, true, kPaper};
  const double width = overlay_.width_of(words, writing), pad = 9 * u;
  overlay_.area({0, top_ - kText * u - 2 * pad, width + 3 * pad, top_}, kSoftInk);
  overlay_.text(words, {1.5 * pad, top_ - pad - 0.9 * kText * u}, writing);
}

/// Lines on top of each other are drawn beside each other.
void Written::part(std::vector<Line>& lines) const {
  const double u = unit();
  const auto near = [&](Spot2 a, Spot2 b) { return std::hypot(a.x - b.x, a.y - b.y) < kMarker * u; };
  for (std::size_t i = 0; i < lines.size(); ++i)
    for (std::size_t k = i + 1; k < lines.size(); ++k) {
      if (!near(lines[i].from, lines[k].from) || !near(lines[i].to, lines[k].to)) continue;
      const double dx = lines[i].to.x - lines[i].from.x, dy = lines[i].to.y - lines[i].from.y;
      const double length = std::hypot(dx, dy), by = 0.5 * kApart * kMarker * u;
      const Spot2 way = length > 0 ? Spot2{-dy / length * by, dx / length * by} : Spot2{by, 0};
      for (Spot2* const end : {&lines[i].from, &lines[i].to, &lines[i].rim}) *end = {end->x + way.x, end->y + way.y};
      for (Spot2* const end : {&lines[k].from, &lines[k].to, &lines[k].rim}) *end = {end->x - way.x, end->y - way.y};
    }
}

void Written::write_captions(const Captions& captions) {
  const int* const size = renderer_->GetSize();
  const double u = unit(), width = size[0] - 2 * kMargin * u;
  std::vector<std::string> foot;
  for (const std::string& each : captions.foot)
    for (const std::string& line : broken(overlay_, each, {kSmall * u, false, kInk}, width)) foot.push_back(line);
  overlay_.area({0, size[1] - kTopRoom * u, static_cast<double>(size[0]), static_cast<double>(size[1])}, kPaper);
  overlay_.area({0, 0, static_cast<double>(size[0]), (kMargin + static_cast<double>(foot.size()) * kFootLine) * u},
                kPaper);
  double y = size[1] - kMargin * u - kTitle * 0.8 * u;
  overlay_.text(captions.title, {kMargin * u, y}, {kTitle * u, true, kInk});
  y -= kText * kLead * u;
  overlay_.text(captions.subtitle, {kMargin * u, y}, {kText * u, false, kSoftInk});
  top_ = y - 0.6 * kText * u;
  y = kMargin * u * 0.7 + static_cast<double>(foot.size() - 1) * kFootLine * u;
  bottom_ = y + kFootLine * u;
  for (const std::string& line : foot) {
    overlay_.text(line, {kMargin * u, y}, {kSmall * u, false, kInk});
    y -= kFootLine * u;
  }
}

void Written::write_scale(Coloring coloring, const Format& format) {
  const int* const size = renderer_->GetSize();
  const double u = unit();
  const Bands& bands = bands_in(format.units);
  const Lengths lengths(format);
  const double high = 30 * u, wide = 26 * u, left = size[0] - kMargin * u - 128 * u;
  const double bottom = bottom_ + 10 * u, count = static_cast<double>(bands.colors.size());
  overlay_.area({left - 8 * u, bottom - 6 * u, static_cast<double>(size[0]), bottom + count * high + 68 * u}, kPaper);
  for (std::size_t i = 0; i < bands.colors.size(); ++i)
    overlay_.area(
        {left, bottom + high * static_cast<double>(i), left + wide, bottom + high * static_cast<double>(i + 1)},
        bands.colors[i]);
  const double right = left + wide, top = bottom + count * high;
  for (const auto& [from, to] : {std::pair{Spot2{left, bottom}, Spot2{right, bottom}},
                                 {{left, top}, {right, top}},
                                 {{left, bottom}, {left, top}},
                                 {{right, bottom}, {right, top}}})
    overlay_.line(from, to, 1.2 * u, kSoftInk);
  for (std::size_t i = 0; i < bands.bounds.size(); ++i) {
    const double y = bottom + high * static_cast<double>(i + 1);
    overlay_.line({right, y}, {right + 6 * u, y}, 1.2 * u, kSoftInk);
    const std::string word = bands.bounds[i] == 0 ? "0" : lengths.plain(bands.bounds[i]);
    overlay_.text(i + 1 == bands.bounds.size() ? word + " " + lengths.unit() : word,
                  {right + 11 * u, y - 0.35 * kSmall * u}, {kSmall * u, false, kInk});
  }
  const Writing small{kSmall * u, false, kInk};
  overlay_.text("overlap", {right + 11 * u, bottom + 0.5 * high - 0.55 * kSmall * u}, small);
  const std::vector<std::string> title = {"distance to the",
                                          coloring == Coloring::least ? "nearest valve, least" : "nearest valve",
                                          coloring == Coloring::least ? "over the cycle" : "at this crank angle"};
  double y = top + 12 * u + kSmall * kLead * u * static_cast<double>(title.size() - 1);
  const double title_top = y + kSmall * u;
  for (const std::string& line : title) {
    overlay_.text(line, {left, y}, small);
    y -= kSmall * kLead * u;
  }
  taken_.push_back({left - 8 * u, bottom, static_cast<double>(size[0]), title_top});
}

void Written::write_groups(const std::set<Group>& groups) {
  const int* const size = renderer_->GetSize();
  const double u = unit(), high = 24 * u, wide = 26 * u, left = size[0] - kMargin * u - 156 * u;
  const double bottom = bottom_ + 10 * u, top = bottom + high * static_cast<double>(groups.size());
  overlay_.area({left - 8 * u, bottom - 6 * u, static_cast<double>(size[0]), top + 6 * u}, kPaper);
  double y = top;
  for (const Group group : groups) {
    y -= high;
    const Rgb color = group_color(group);
    const Area box{left, y + 3 * u, left + wide, y + high - 3 * u};
    overlay_.area(box, {color.red, color.green, color.blue});
    for (const auto& [from, to] : {std::pair{Spot2{box.left, box.bottom}, Spot2{box.right, box.bottom}},
                                   {{box.right, box.bottom}, {box.right, box.top}},
                                   {{box.right, box.top}, {box.left, box.top}},
                                   {{box.left, box.top}, {box.left, box.bottom}}})
      overlay_.line(from, to, 1.2 * u, kSoftInk);
    const bool of_pocket =
        group == Group::floor || group == Group::corner || group == Group::wall || group == Group::mouth;
    overlay_.text(fmt::format("{}{}", of_pocket ? "pocket " : "", to_string(group)),
                  {box.right + 11 * u, y + 0.5 * high - 0.35 * kSmall * u}, {kSmall * u, false, kInk});
  }
  taken_.push_back({left - 8 * u, bottom, static_cast<double>(size[0]), top + 6 * u});
}

void Written::draw_line(const Line& line) {
  const double u = unit();
  const LitStyle& style = lit_style(line.kind);
  if (std::hypot(line.rim.x - line.from.x, line.rim.y - line.from.y) > 2 * kMarker * u) {  // the way it still has
    overlay_.line(line.rim, line.from, 4 * u, kPaper);
    overlay_.line(line.rim, line.from, 1.6 * u, style.color, {5 * u, 5 * u});
  }
  const double length = std::hypot(line.to.x - line.from.x, line.to.y - line.from.y);
  overlay_.line(line.from, line.to, (kLine + 3) * u, kPaper);
  overlay_.line(line.from, line.to, kLine * u, style.color, scaled(style.dash, 1));
  const double ux = length > kNoLength ? (line.to.x - line.from.x) / length : 1;
  const double uy = length > kNoLength ? (line.to.y - line.from.y) / length : 0;
  const auto at = [&](Spot2 from, double by) { return Spot2{from.x + by * ux, from.y + by * uy}; };
  Spot2 on_valve = line.from, on_other = line.to;
  if (length > 2 * (kHead + kMarker) * u) {  // heads between the points
    overlay_.arrow_head(line.from, at(line.to, -kMarker * u), kHead * u, style.color);
    overlay_.arrow_head(line.to, at(line.from, kMarker * u), kHead * u, style.color);
  } else {  // from outside, as where a dimension has no room
    // Where the markers would lie on each other they stand at the tails, and the heads' tips at the points.
    const bool apart = length > kApart * kMarker * u;
    const double clear = apart ? kMarker * u : 0;
    for (const auto& [point, way] : {std::pair{line.to, 1.0}, std::pair{line.from, -1.0}}) {
      const Spot2 tip = at(point, way * clear), tail = at(point, way * kStub * u);
      overlay_.line(at(point, way * (clear + 0.5 * kHead * u)), tail, (kLine + 2.4) * u, kPaper);
      overlay_.line(at(point, way * (clear + 0.5 * kHead * u)), tail, 0.8 * kLine * u, style.color);
      overlay_.arrow_head(tail, tip, kHead * u, style.color);
    }
    if (!apart) {
      on_valve = at(line.from, -(kStub + 0.5 * kMarker) * u);
      on_other = at(line.to, (kStub + 0.5 * kMarker) * u);
    }
  }
  overlay_.marker(on_valve, kMarker * u, style, false);
  overlay_.marker(on_other, kMarker * u, style, true);
}

/// Those without a label first, so that no line lies on a label.
void Written::write_lines(const std::vector<Line>& all, Color ink) {
  std::vector<Line> lines;
  for (const Line& line : all)
    if (line.label.empty())
      draw_line(line);
    else
      lines.push_back(line);
  const int* const size = renderer_->GetSize();
  const double u = unit(), pad = 7 * u, mark = 24 * u;
  const Writing strong{kText * u, true, ink}, plain{kSmall * u, false, ink};
  std::vector<LabelWish> wishes;
  std::vector<Area> keep_free = taken_;
  for (const Line& line : lines) {
    const std::vector<std::string> words = lines_of(line.label);
    double width = 0;
    for (std::size_t i = 0; i < words.size(); ++i)
      width = std::max(width, overlay_.width_of(words[i], i == 0 ? strong : plain));
    const double height = (kText + kSmall * kLead * static_cast<double>(words.size() - 1)) * u;
    wishes.push_back(
        {{(line.from.x + line.to.x) / 2, (line.from.y + line.to.y) / 2}, width + mark + 2 * pad, height + 2 * pad});
    const double clear = (kStub + 1.5 * kMarker + 4) * u;
    keep_free.push_back({std::min(line.from.x, line.to.x) - clear, std::min(line.from.y, line.to.y) - clear,
                         std::max(line.from.x, line.to.x) + clear, std::max(line.from.y, line.to.y) + clear});
  }
  labels_ = place_labels(wishes, keep_free, {8 * u, bottom_ + 2 * u, size[0] - 8 * u, top_ - 2 * u});

  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Area& area = labels_[i];
    const Spot2 at = wishes[i].at;
    const Spot2 near{std::clamp(at.x, area.left, area.right), std::clamp(at.y, area.bottom, area.top)};
    overlay_.line(near, at, 3.4 * u, kPaper);
    overlay_.line(near, at, 1.3 * u, lit_style(lines[i].kind).color);
  }
  for (const Line& line : lines) draw_line(line);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Area& area = labels_[i];
    const LitStyle& style = lit_style(lines[i].kind);
    const double around = (lines[i].is_short ? kShortFrame : kFrame) * u;
    overlay_.area({area.left - around, area.bottom - around, area.right + around, area.top + around}, style.color);
    overlay_.area(area, kPaper);
    const double text_left = area.left + pad + mark;
    double y = area.top - pad - 0.9 * kText * u;
    overlay_.marker({area.left + pad + 7 * u, y + 0.36 * kText * u}, 6.5 * u, style, false);
    const std::vector<std::string> words = lines_of(lines[i].label);
    for (std::size_t k = 0; k < words.size(); ++k) {
      overlay_.text(words[k], {text_left, y}, k == 0 ? strong : plain);
      y -= kSmall * kLead * u;
    }
  }
}

}  // namespace eyebrow::scene
