// A window off screen to draw in, with or without an X server.
#pragma once
#include <vtkSmartPointer.h>

#include <string>

class vtkRenderWindow;

namespace eyebrow::scene {

/// EGL without any display where the machine has it, else a hidden window of the X server. VTK itself would end the
/// process where neither is to be had. Throws MachineError then, with both reasons. From then on VTK prints nothing.
vtkSmartPointer<vtkRenderWindow> off_screen_window(int width, int height);

/// What `renderers` of the window show now, as the bytes of a PNG. It is drawn at twice the size and brought down:
/// lines and letters have smooth edges on any machine. `window` must have been made with twice `width` and `height`.
std::string png_of(vtkRenderWindow* window);

}  // namespace eyebrow::scene
