// An example engine in a scene, drawn off screen.
#pragma once
#include <vtkImageData.h>
#include <vtkRenderWindow.h>
#include <vtkSmartPointer.h>

#include <cmath>
#include <string>

#include "eyebrow/check.hpp"
#include "eyebrow/spec.hpp"
#include "scene/scene.hpp"

namespace eyebrow::scene {

struct Drawn {
  EngineFile file;
  Shown shown;
  Scene scene;
  vtkSmartPointer<vtkRenderWindow> window;  ///< goes before the scene

  /// `checked`: with the least gaps of the cycle.
  explicit Drawn(const std::string& model, bool checked, const std::vector<Override>& overrides = {});
  const Minimum& least(int valve, GapKind kind) const;
  /// The engine where this gap is least, all gaps of the valve lit.
  void place_at(int valve, GapKind kind, const Section& section = {});
  /// 400 x 250 pixels.
  vtkSmartPointer<vtkImageData> image();
};

/// A section through a valve's axis.
Section through(int valve, double clock = NAN);

/// The gap lit of a kind; null = none.
const LitGap* lit_of(const Scene& scene, LitKind kind);
const LitGap* lit_of(const Scene& scene, GapKind kind);

/// How many pixels have a colour, each part of it within `off` of 255.
int pixels_of(vtkImageData* image, double red, double green, double blue, int off = 6);

}  // namespace eyebrow::scene
