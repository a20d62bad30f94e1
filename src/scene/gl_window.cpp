#include "scene/gl_window.hpp"

#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <fmt/format.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkImageData.h>
#include <vtkImageShrink3D.h>
#include <vtkNew.h>
#include <vtkObject.h>
#include <vtkObjectFactory.h>
#include <vtkPNGWriter.h>
#include <vtkRenderWindow.h>
#include <vtkUnsignedCharArray.h>
#include <vtkWindowToImageFilter.h>

#include "eyebrow/fault.hpp"
#include "scene/x_server.hpp"

namespace eyebrow::scene {
namespace {

/// An OpenGL context of EGL that belongs to no display and no surface.
class EglContext {
 public:
  EglContext() : trouble_(open()) {}
  EglContext(const EglContext&) = delete;
  EglContext& operator=(const EglContext&) = delete;
  ~EglContext() {
    if (!ready_) return;
    eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context_ != EGL_NO_CONTEXT) eglDestroyContext(display_, context_);
    eglTerminate(display_);
  }
  bool make_current() { return eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, context_) == EGL_TRUE; }
  bool is_current() const { return eglGetCurrentContext() == context_; }
  const std::string& trouble() const { return trouble_; }

 private:
  std::string open() {
    const auto platform_display =
        reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(eglGetProcAddress("eglGetPlatformDisplayEXT"));
    if (platform_display == nullptr) return "it knows no platforms";
    display_ = platform_display(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
    if (display_ == EGL_NO_DISPLAY || !eglInitialize(display_, nullptr, nullptr))
      return "it opens no display without a surface";
    ready_ = true;
    if (!eglBindAPI(EGL_OPENGL_API)) return "it has no OpenGL";
    const EGLint wanted[] = {EGL_SURFACE_TYPE, 0, EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
    EGLConfig config = nullptr;
    EGLint count = 0;
    if (!eglChooseConfig(display_, wanted, &config, 1, &count) || count < 1) return "it has no OpenGL to draw with";
    const EGLint version[] = {EGL_CONTEXT_MAJOR_VERSION, 3, EGL_CONTEXT_MINOR_VERSION, 2, EGL_NONE};
    context_ = eglCreateContext(display_, config, EGL_NO_CONTEXT, version);
    if (context_ == EGL_NO_CONTEXT || !make_current()) return "it gives no OpenGL 3.2";
    return "";
  }
  // In this order: opening sets the first three.
  EGLDisplay display_ = EGL_NO_DISPLAY;
  EGLContext context_ = EGL_NO_CONTEXT;
  bool ready_ = false;
  std::string trouble_;  ///< empty = there is a context, and it is current
};

class EglWindow : public vtkGenericOpenGLRenderWindow {
 public:
  static EglWindow* New();
  vtkTypeMacro(EglWindow, vtkGenericOpenGLRenderWindow) EglWindow(const EglWindow&) = delete;
  void operator=(const EglWindow&) = delete;

  const std::string& trouble() const { return context_.trouble(); }
  void MakeCurrent() override { context_.make_current(); }
  bool IsCurrent() override { return context_.is_current(); }
  int SupportsOpenGL() override { return 1; }
  vtkTypeBool IsDirect() override { return 1; }

 protected:
  EglWindow() {
    ReadyForRendering = context_.trouble().empty();
    SetOwnContext(0);
  }
  ~EglWindow() override {
    if (context_.trouble().empty()) Finalize();
  }
  // The loader of OpenGL's functions asks for GLX last of all and calls itself failed for the lack of it, although it
  // has loaded everything else by then.
  void OpenGLInitContext() override {
    vtkGenericOpenGLRenderWindow::OpenGLInitContext();
    GlewInitValid = true;
    Initialized = true;
  }

 private:
  EglContext context_;
};
vtkStandardNewMacro(EglWindow)

}  // namespace

vtkSmartPointer<vtkRenderWindow> off_screen_window(int width, int height) {
  vtkObject::GlobalWarningDisplayOff();
  vtkSmartPointer<vtkRenderWindow> window;
  vtkNew<EglWindow> egl;
  if (egl->trouble().empty()) {
    window = egl;
  } else {
    const std::string x = trouble_with_x();
    if (!x.empty())
      throw MachineError(fmt::format("there is nothing to draw pictures with: EGL: {}; X: {}", egl->trouble(), x));
    window = vtkSmartPointer<vtkRenderWindow>::New();
    window->SetShowWindow(false);
  }
  window->SetOffScreenRendering(1);
  window->SetMultiSamples(0);  // with them translucent parts vanish where depths are peeled
  window->SetSize(width, height);
  return window;
}

vtkSmartPointer<vtkImageData> image_of(vtkRenderWindow* window) {
  vtkNew<vtkWindowToImageFilter> image;
  image->SetInput(window);
  image->SetInputBufferTypeToRGB();
  image->ReadFrontBufferOff();
  vtkNew<vtkImageShrink3D> half;
  half->SetInputConnection(image->GetOutputPort());
  half->SetShrinkFactors(2, 2, 1);
  half->AveragingOn();
  half->Update();
  return half->GetOutput();
}

std::string png_of(vtkRenderWindow* window) {
  vtkNew<vtkPNGWriter> writer;
  writer->SetInputData(image_of(window));
  writer->WriteToMemoryOn();
  writer->Write();
  vtkUnsignedCharArray* const bytes = writer->GetResult();
  if (bytes == nullptr || bytes->GetNumberOfValues() == 0) throw MachineError("the picture could not be drawn");
  return {reinterpret_cast<const char*>(bytes->GetPointer(0)), static_cast<std::size_t>(bytes->GetNumberOfValues())};
}

}  // namespace eyebrow::scene
