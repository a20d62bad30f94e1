#include "scene/drawn.hpp"

#include <cmath>
#include <cstdlib>

#include "scene/gl_window.hpp"

namespace eyebrow::scene {

namespace {

constexpr int kWidth = 400, kHeight = 250;

}  // namespace

Drawn::Drawn(const std::string& model, bool checked, const std::vector<Override>& overrides)
    : file(read_engine(EYEBROW_MODELS "/" + model + ".toml", overrides)),
      window(off_screen_window(2 * kWidth, 2 * kHeight)) {
  shown.engine = std::make_shared<const Engine>(file.engine);
  shown.parts = std::make_shared<const Parts>(build_parts(file.engine, file.origins));
  if (checked) {
    CheckOptions options;
    options.step = 10 * kDegree;  // of the printed series; the least gaps do not depend on it
    shown.check = std::make_shared<const CheckResult>(run_check(file.engine, *shown.parts, options));
  }
  window->AddRenderer(scene.renderer());
  scene.show(shown);
  Look look;
  look.format.units = file.engine.units;
  scene.look(look);
}

const Minimum& Drawn::least(int valve, GapKind kind) const {
  return shown.check->valves.at(static_cast<std::size_t>(valve)).minimum.at(kind);
}

void Drawn::place_at(int valve, GapKind kind, const Section& section) {
  Look look = scene.look();
  look.lit_valve = valve;
  look.focus = lit_kind(kind);
  look.section = section;
  scene.place(least(valve, kind).crank);
  scene.look(look);
}

vtkSmartPointer<vtkImageData> Drawn::image() {
  return image_of(window);
}

Section through(int valve, double clock) {
  Section section;
  section.through = Section::Through::valve;
  section.valve = valve;
  section.clock = clock;
  return section;
}

const LitGap* lit_of(const Scene& scene, LitKind kind) {
  for (const LitGap& each : scene.lit())
    if (each.kind == kind) return &each;
  return nullptr;
}

const LitGap* lit_of(const Scene& scene, GapKind kind) {
  return lit_of(scene, lit_kind(kind));
}

int pixels_of(vtkImageData* image, double red, double green, double blue, int off) {
  const int* const size = image->GetDimensions();
  int count = 0;
  for (int y = 0; y < size[1]; ++y)
    for (int x = 0; x < size[0]; ++x) {
      const auto* const pixel = static_cast<const unsigned char*>(image->GetScalarPointer(x, y, 0));
      const double wanted[] = {red, green, blue};
      bool same = true;
      for (int i = 0; i < 3; ++i) same = same && std::abs(pixel[i] - std::lround(255 * wanted[i])) <= off;
      count += same;
    }
  return count;
}

}  // namespace eyebrow::scene
