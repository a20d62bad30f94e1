// The window: the form beside the 3-D view, the table and the plot, all of one engine and one crank angle.
#pragma once
#include <QAction>
#include <QMainWindow>
#include <QTimer>
#include <functional>
#include <memory>

#include "eyebrow/report.hpp"
#include "scene/scene.hpp"
#include "window/checker.hpp"
#include "window/cursor.hpp"
#include "window/document.hpp"
#include "window/shown_result.hpp"

class QComboBox;
class QLabel;
class QMenu;
class QPlainTextEdit;
class QProgressBar;
class QSplitter;
class QTabWidget;

namespace eyebrow::window {

class GapPlot;
class NumberForm;
class ResultTable;
class ResultTabs;
class SceneView;
class VerdictBar;

class MainWindow : public QMainWindow {
  Q_OBJECT

 public:
  MainWindow();
  ~MainWindow() override;

  /// Shows what is wrong in a message; false then.
  bool open(const QString& path);
  void begin_with(const QString& path);  ///< the same, but throws
  void begin_new();
  bool save();
  bool save_as(const QString& path);
  /// Tightest points in the order of the asked rows: by so many places on from the last one.
  void jump(int places);
  void jump_to_row(int row);

  Document& document() { return document_; }
  Checker& checker() { return checker_; }
  Cursor& cursor() { return cursor_; }
  const ShownResult& result() const { return shown_; }
  const std::shared_ptr<const Checked>& checked() const { return checked_; }
  Format format() const;

 protected:
  void closeEvent(QCloseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;

 private:
  // main_window_actions.cpp
  void make_actions();
  QAction* add_action(QMenu* menu, const QString& text, const QKeySequence& keys, const std::function<void()>& act);
  void show_recent();
  void ask_open();
  bool ask_save_as();
  bool may_leave();  ///< asks whether unsaved changes may go
  void ask_reload();
  void export_picture();
  void ask_frames();
  void ask_report();
  void copy_numbers();
  void show_keys();
  void show_about();
  /// Runs what may throw; what is wrong is told in a message.
  bool guarded(const std::function<void()>& act);

  // main_window.cpp
  void lay_out();
  void connect_all();
  void take_text();
  void take_followed(const std::shared_ptr<const Followed>& followed);
  void take_judged(const JudgedRows& rows);
  void take_checked(const std::shared_ptr<const Checked>& checked);
  void take_refused(const std::vector<Fault>& faults);
  void show_result();
  void go_to_number(const std::string& key);
  void mark_scene();
  void go_to_row(int row, bool looking);
  void follow_row();
  void show_parts(const scene::Shown& parts);
  void show_crank(double crank);
  void show_position(const Minimum* least);
  void show_cylinders(const EngineFile& file);
  void show_state();
  void choose_units(std::optional<LengthUnit> units);
  void play();
  void load_settings();
  void save_settings() const;
  Job job() const;

  Document document_;
  Checker checker_;
  Cursor cursor_;
  ShownResult shown_;
  std::shared_ptr<const Checked> checked_;  ///< of the newest numbers; null while they are at work
  std::optional<LengthUnit> units_;         ///< chosen; nothing: as in the file
  std::optional<LengthUnit> told_units_;    ///< by the scene
  int row_ = -1;                            ///< the last that was jumped to
  AskedRow of_row_;                         ///< what it tells of
  double row_crank_ = NAN;                  ///< where it led: while the crank stands there it goes along with the row
  bool moved_ = false;                      ///< a cam is shown elsewhere than the file has it

  scene::Shown parts_;  ///< to be drawn when the timer says so
  QTimer parts_soon_;

  VerdictBar* verdict_;
  NumberForm* form_;
  QPlainTextEdit* text_;
  QTabWidget* tabs_;
  SceneView* scene_;
  ResultTabs* found_;
  ResultTable* table_;  ///< of found_
  GapPlot* plot_;
  QSplitter *across_, *right_, *top_;
  QComboBox *cylinders_, *valves_;
  QLabel* faults_;
  QProgressBar* progress_;
  QAction *cancel_ = nullptr, *play_ = nullptr, *save_ = nullptr, *whole_ = nullptr, *labels_ = nullptr;
  std::vector<QAction*> needs_check_;
  QMenu* recent_ = nullptr;
};

}  // namespace eyebrow::window
