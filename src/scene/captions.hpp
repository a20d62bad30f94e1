// The words above and below a picture.
#pragma once
#include <string>
#include <vector>

#include "scene/scene.hpp"
#include "study/setup.hpp"

namespace eyebrow::scene {

struct Captions {
  std::string title;     ///< the engine's name
  std::string subtitle;  ///< crank angle, lifts, piston
  std::vector<std::string> foot;
};

/// `check`: null = only what the engine says of itself.
Captions captions(const study::Setup& setup, const CheckResult* check, double crank, const Format& format);

}  // namespace eyebrow::scene
