// A window off screen to draw in, with or without an X server.
#pragma once
#include <vtkSmartPointer.h>

#include <string>

class vtkImageData;
class vtkRenderWindow;

namespace eyebrow::scene {

/// EGL without any display where the machine has it, else a hidden window of the X server. VTK itself would end the
/// process where neither is to be had. Throws MachineError then, with both reasons. From then on VTK prints nothing.
vtkSmartPointer<vtkRenderWindow> off_screen_window(int width, int height);

/// What the window shows now, at half its size: it is drawn large and brought down, so that lines and letters have
/// smooth edges on any machine. RGB, a byte each.
vtkSmartPointer<vtkImageData> image_of(vtkRenderWindow* window);

/// The same as the bytes of a PNG. Throws MachineError.
std::string png_of(vtkRenderWindow* window);

}  // namespace eyebrow::scene
