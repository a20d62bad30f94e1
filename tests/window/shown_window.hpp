// What the tests of the window share.
#pragma once
#include <gtest/gtest.h>

#include <QApplication>
#include <QFile>
#include <QTemporaryDir>
#include <QTest>
#include <functional>
#include <memory>
#include <string>

#include "window/form_row.hpp"
#include "window/gap_plot.hpp"
#include "window/influence_table.hpp"
#include "window/main_window.hpp"
#include "window/number_field.hpp"
#include "window/number_form.hpp"
#include "window/remedy_table.hpp"
#include "window/reserve_table.hpp"
#include "window/result_table.hpp"
#include "window/result_tabs.hpp"
#include "window/scene_view.hpp"
#include "window/text.hpp"
#include "window/verdict_bar.hpp"

namespace eyebrow::window {

/// Runs the event loop until it holds; false after so many ms. An engine is checked in a second; a loaded machine may
/// take many times that.
inline bool wait_until(const std::function<bool()>& holds, int most = 60000) {
  for (int waited = 0; waited < most; waited += 5) {
    if (holds()) return true;
    QTest::qWait(5);
  }
  return holds();
}

inline std::string read(const QString& path) {
  QFile file(path);
  return file.open(QIODevice::ReadOnly) ? file.readAll().toStdString() : "";
}

inline std::string model_text(const QString& name) {
  return read(QString(EYEBROW_MODELS "/%1.toml").arg(name));
}

inline void write(const QString& path, const std::string& text) {
  QFile file(path);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write(text.data(), static_cast<qint64>(text.size()));
}

/// A window with an engine file in a folder of its own.
enum class Until { followed, checked };
struct Held {
  Held(const std::string& text, Until until) : path(folder.filePath("engine.toml")) {
    write(path, text);
    window.resize(1366, 740);  // what a 1366 x 768 screen leaves
    window.show();
    ready = QTest::qWaitForWindowExposed(&window);
    QApplication::setActiveWindow(&window);  // there is no window manager to do it
    ready = ready && window.open(path) && wait_until([&] {
              return until == Until::checked ? !window.checker().busy() && window.checked()
                                             : window.result().certainty != Certainty::none;
            });
  }
  QTemporaryDir folder;
  QString path;
  MainWindow window;
  bool ready = false;
};

class WithWindow : public ::testing::Test {
 protected:
  explicit WithWindow(std::shared_ptr<Held> held)
      : held_(std::move(held)), folder_(held_->folder), path_(held_->path), window_(held_->window) {}
  void SetUp() override { ASSERT_TRUE(held_->ready); }

  bool checked() {
    return wait_until([&] { return !window_.checker().busy() && window_.checked(); });
  }
  template <class Widget>
  Widget& part() {
    return *window_.findChild<Widget*>();
  }
  FormRow& row(const std::string& key) {
    FormRow* found = part<NumberForm>().row(key);
    if (!found) throw std::out_of_range(key);
    return *found;
  }
  /// As a person does: into the field, all of it chosen, the new one typed.
  void type(const std::string& key, const QString& text) {
    part<NumberForm>().go_to(key);
    NumberField* field = row(key).number();
    field->selectAll();
    QTest::keyClicks(field, text);
  }
  QString cell(int row, int column) { return part<ResultTable>().item(row, column)->text(); }
  int row_called(const QString& name) {
    for (int i = 0; i < part<ResultTable>().rowCount(); ++i)
      if (cell(i, ResultTable::what) == name) return i;
    return -1;
  }
  void keep_picture(const QString& name) {
    QTest::qWait(600);  // what rests, is drawn
    EXPECT_TRUE(window_.grab().save(QString(EYEBROW_SCREENSHOTS "/%1.png").arg(name)));
  }

  std::shared_ptr<Held> held_;
  QTemporaryDir& folder_;
  QString& path_;
  MainWindow& window_;
};

/// One for each test.
class ShownWindow : public WithWindow {
 protected:
  ShownWindow() : ShownWindow(model_text("two_valve_wedge")) {}
  explicit ShownWindow(const std::string& text, Until until = Until::checked)
      : WithWindow(std::make_shared<Held>(text, until)) {}
};

/// The same, begun before the first check is through.
class EditedWindow : public ShownWindow {
 protected:
  EditedWindow() : ShownWindow(model_text("two_valve_wedge"), Until::followed) {}
};

/// One for all tests that leave the numbers as they are.
class SharedWindow : public WithWindow {
 protected:
  SharedWindow() : WithWindow(shared()) { QApplication::setActiveWindow(&window_); }
  static void TearDownTestSuite() { shared().reset(); }

 private:
  static std::shared_ptr<Held>& shared() {
    static std::shared_ptr<Held> held;
    if (!held) held = std::make_shared<Held>(model_text("two_valve_wedge"), Until::checked);
    return held;
  }
};

}  // namespace eyebrow::window
