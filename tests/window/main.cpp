// Tests that need a display run as one program, as a display takes a while to begin.
#include <QVTKOpenGLNativeWidget.h>
#include <gtest/gtest.h>

#include <QApplication>
#include <QDir>
#include <QSettings>
#include <QSurfaceFormat>
#include <QTemporaryDir>

int main(int argc, char** argv) {
  testing::InitGoogleTest(&argc, argv);
  QSurfaceFormat::setDefaultFormat(QVTKOpenGLNativeWidget::defaultFormat());
  QApplication application(argc, argv);
  QApplication::setOrganizationName("eyebrow");
  QApplication::setApplicationName("eyebrow-tests");
  // Nobody's own settings are read or written.
  const QTemporaryDir settings;
  QSettings::setDefaultFormat(QSettings::IniFormat);
  QSettings::setPath(QSettings::IniFormat, QSettings::UserScope, settings.path());
  QDir().mkpath(EYEBROW_SCREENSHOTS);
  return RUN_ALL_TESTS();
}
