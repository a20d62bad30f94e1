#include "window/scene_picture.hpp"

#include <vtkCamera.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>

#include "scene/gl_window.hpp"

namespace eyebrow::window {
namespace {

constexpr int kWidth = 1600, kHeight = 1000;
constexpr double kAround = 1.15;  ///< room for title and foot line, which the window does not have

}  // namespace

ScenePicture::ScenePicture() : window_(scene::off_screen_window(2 * kWidth, 2 * kHeight)) {
  window_->AddRenderer(scene_.renderer());
}

ScenePicture::~ScenePicture() {
  window_->RemoveRenderer(scene_.renderer());
}

std::string ScenePicture::draw(const scene::Shown& shown, const scene::Look& look, double crank, vtkCamera* from) {
  scene_.place(crank);
  scene_.look(look);
  scene_.show(shown);
  vtkCamera* const camera = scene_.renderer()->GetActiveCamera();
  camera->DeepCopy(from);
  camera->SetParallelScale(kAround * from->GetParallelScale());
  return scene::png_of(window_);
}

}  // namespace eyebrow::window
