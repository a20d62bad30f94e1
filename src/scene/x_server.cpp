#include "scene/x_server.hpp"

#include <GL/glx.h>
#include <X11/Xlib.h>
#include <fmt/format.h>

#include <cstdlib>

namespace eyebrow::scene {

std::string trouble_with_x() {
  const char* const name = std::getenv("DISPLAY");
  if (name == nullptr || *name == '\0') return "DISPLAY is not set";
  Display* const display = XOpenDisplay(nullptr);
  if (display == nullptr) return fmt::format("the display \"{}\" cannot be opened", name);
  int wanted[] = {GLX_RGBA, GLX_DOUBLEBUFFER, GLX_DEPTH_SIZE, 16, None};
  const bool draws = glXQueryExtension(display, nullptr, nullptr) != 0;
  XVisualInfo* const visual = draws ? glXChooseVisual(display, DefaultScreen(display), wanted) : nullptr;
  const bool fit = visual != nullptr;
  if (fit) XFree(visual);
  XCloseDisplay(display);
  return fit ? "" : fmt::format("the display \"{}\" has no OpenGL", name);
}

}  // namespace eyebrow::scene
