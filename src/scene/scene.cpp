#include "scene/scene.hpp"

#include <vtkNew.h>
#include <vtkRenderer.h>

namespace eyebrow::scene {

struct Scene::Inner {
  vtkNew<vtkRenderer> renderer;
  Shown shown;
  Look look;
  double crank = 0;
  std::vector<LitGap> lit;
  std::vector<SectionDimension> dimensions;
};

Scene::Scene() : inner_(std::make_unique<Inner>()) {}
Scene::~Scene() = default;

vtkRenderer* Scene::renderer() {
  return inner_->renderer;
}

void Scene::show(const Shown& shown) {
  inner_->shown = shown;
}

void Scene::place(double crank) {
  inner_->crank = crank;
}

double Scene::crank() const {
  return inner_->crank;
}

void Scene::look(const Look& look) {
  inner_->look = look;
}

const Look& Scene::look() const {
  return inner_->look;
}

void Scene::set_least(std::shared_ptr<const NearestGaps>) {}

void Scene::view(View) {}

std::vector<std::string> Scene::part_names() const {
  return {};
}

const std::vector<LitGap>& Scene::lit() const {
  return inner_->lit;
}

const std::vector<SectionDimension>& Scene::dimensions() const {
  return inner_->dimensions;
}

std::string Scene::face_at(int, int) {
  return "";
}

}  // namespace eyebrow::scene
