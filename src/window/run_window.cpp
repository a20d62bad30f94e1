#include "window/run_window.hpp"

#include <QVTKOpenGLNativeWidget.h>
#include <fmt/format.h>

#include <QApplication>
#include <QIcon>
#include <QSurfaceFormat>
#include <QTimer>

#include "scene/x_server.hpp"
#include "window/main_window.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr int kAskEach = 200;  // ms

void write_overrides(Document& document, const std::vector<Override>& overrides) {
  std::vector<Fault> faults;
  for (const Override& each : overrides) try {
      document.set_value(each.key, each.value);
    } catch (const InputError& error) {
      throw InputError(error.faults());
    } catch (const Error& error) {
      faults.push_back({"--set", 0, 0, error.what()});
    }
  if (!faults.empty()) throw InputError(faults);
}

}  // namespace

void run_window(const std::string& engine, const std::vector<Override>& overrides, const std::function<bool()>& stop) {
  // Qt would end the program by abort().
  if (const std::string trouble = scene::trouble_with_x(); !trouble.empty())
    throw MachineError(
        fmt::format("there is no display to show a window on ({}); `eyebrow picture` draws without one", trouble));
  QSurfaceFormat::setDefaultFormat(QVTKOpenGLNativeWidget::defaultFormat());
  QApplication::setAttribute(Qt::AA_EnableHighDpiScaling);
  QApplication::setAttribute(Qt::AA_UseHighDpiPixmaps);
  int count = 1;
  char name[] = "eyebrow-view";
  char* words[] = {name, nullptr};
  QApplication application(count, words);
  QApplication::setOrganizationName("eyebrow");
  QApplication::setApplicationName("eyebrow");
  QApplication::setApplicationVersion(EYEBROW_VERSION);
  QApplication::setDesktopFileName("eyebrow");
  QApplication::setWindowIcon(QIcon::fromTheme("eyebrow"));
  MainWindow window;
  if (engine.empty())
    window.begin_new();
  else
    window.begin_with(shown(engine));
  write_overrides(window.document(), overrides);
  window.show();
  QTimer ask;
  QObject::connect(&ask, &QTimer::timeout, [&] {
    if (stop()) QApplication::quit();
  });
  ask.start(kAskEach);
  QApplication::exec();
}

}  // namespace eyebrow::window
