// Pictures of the scene at a size of their own, whatever the window's is.
#pragma once
#include <vtkSmartPointer.h>

#include <string>

#include "scene/scene.hpp"

class vtkCamera;
class vtkRenderWindow;

namespace eyebrow::window {

class ScenePicture {
 public:
  /// Throws MachineError where nothing can be drawn off screen.
  ScenePicture();
  ~ScenePicture();
  /// The bytes of a PNG, with title and foot line.
  std::string draw(const scene::Shown& shown, const scene::Look& look, double crank, vtkCamera* from);

 private:
  scene::Scene scene_;
  vtkSmartPointer<vtkRenderWindow> window_;
};

}  // namespace eyebrow::window
