#include "window/run_window.hpp"

#include <QVTKOpenGLNativeWidget.h>
#include <fmt/format.h>

#include <QApplication>
#include <QIcon>
#include <QSurfaceFormat>
#include <cstdio>

#include "scene/x_server.hpp"
#include "window/main_window.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr int kMachine = 4;

}  // namespace

int run_window(const std::string& engine) {
  // Qt ends the program by abort() where it finds none.
  if (const std::string trouble = scene::trouble_with_x(); !trouble.empty()) {
    fmt::print(stderr, "eyebrow: there is no display to show a window on: {}\n", trouble);
    return kMachine;
  }
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
  QApplication::setWindowIcon(QIcon::fromTheme("eyebrow"));
  MainWindow window;
  window.show();
  if (engine.empty())
    window.begin_new();
  else
    window.open(shown(engine));
  return QApplication::exec();
}

}  // namespace eyebrow::window
