// What the menus and keys do.
#include <QActionGroup>
#include <QApplication>
#include <QClipboard>
#include <QFileDialog>
#include <QFileInfo>
#include <QMenuBar>
#include <QMessageBox>
#include <QProgressDialog>
#include <QSettings>
#include <QToolBar>
#include <cmath>

#include "eyebrow/fault.hpp"
#include "report/verdict_text.hpp"
#include "scene/words.hpp"
#include "window/exports.hpp"
#include "window/gap_plot.hpp"
#include "window/main_window.hpp"
#include "window/number_form.hpp"
#include "window/result_table.hpp"
#include "window/result_tabs.hpp"
#include "window/scene_view.hpp"
#include "window/text.hpp"
#include "window/verdict_bar.hpp"

namespace eyebrow::window {
namespace {

constexpr int kMostRecent = 8;
constexpr const char* kFileKinds = "Engine files (*.toml);;All files (*)";

}  // namespace

QAction* MainWindow::add_action(QMenu* menu, const QString& text, const QKeySequence& keys,
                                const std::function<void()>& act) {
  QAction* action = menu->addAction(text, this, act);
  action->setShortcut(keys);
  return action;
}

void MainWindow::make_actions() {
  auto* bar = addToolBar(tr("Main"));
  bar->setObjectName("main");
  bar->setMovable(false);
  bar->setToolButtonStyle(Qt::ToolButtonTextOnly);

  QMenu* file = menuBar()->addMenu(tr("&File"));
  add_action(file, tr("&New"), QKeySequence::New, [this] {
    if (may_leave()) begin_new();
  });
  bar->addAction(add_action(file, tr("&Open ..."), QKeySequence::Open, [this] { ask_open(); }));
  recent_ = file->addMenu(tr("Open &recent"));
  connect(recent_, &QMenu::aboutToShow, this, &MainWindow::show_recent);
  save_ = add_action(file, tr("&Save"), QKeySequence::Save, [this] { save(); });
  bar->addAction(save_);
  add_action(file, tr("Save &as ..."), QKeySequence("Ctrl+Shift+S"), [this] { ask_save_as(); });
  file->addSeparator();
  needs_check_ = {
      add_action(file, tr("Export re&port or plot ..."), QKeySequence("Ctrl+E"), [this] { ask_report(); }),
      add_action(file, tr("Export &picture ..."), QKeySequence("Ctrl+P"), [this] { export_picture(); }),
      add_action(file, tr("Export animation &frames ..."), QKeySequence("Ctrl+Shift+P"), [this] { ask_frames(); })};
  file->addSeparator();
  add_action(file, tr("&Quit"), QKeySequence::Quit, [this] { close(); });

  QMenu* edit = menuBar()->addMenu(tr("&Edit"));
  for (QAction* action : {document_.undo_stack().createUndoAction(this, tr("Undo")),
                          document_.undo_stack().createRedoAction(this, tr("Redo"))}) {
    edit->addAction(action);
    connect(action, &QAction::triggered, this, [this] { document_.end_of_typing(); });
  }
  edit->actions()[0]->setShortcut(QKeySequence::Undo);
  edit->actions()[1]->setShortcuts({QKeySequence("Ctrl+Y"), QKeySequence("Ctrl+Shift+Z")});
  edit->addSeparator();
  needs_check_.push_back(
      add_action(edit, tr("&Copy numbers"), QKeySequence("Ctrl+Shift+C"), [this] { copy_numbers(); }));
  add_action(edit, tr("&Find a number"), QKeySequence::Find, [this] { form_->find(); });

  QMenu* crank = menuBar()->addMenu(tr("&Crank"));
  play_ = add_action(crank, tr("&Play / stop"), QKeySequence("F9"), [this] { play(); });
  bar->addSeparator();
  QAction* before = add_action(crank, tr("&Previous tight point"), QKeySequence("F7"), [this] { jump(-1); });
  QAction* next = add_action(crank, tr("&Next tight point"), QKeySequence("F8"), [this] { jump(1); });
  before->setIconText(tr("Previous"));
  next->setIconText(tr("Next tight point"));
  play_->setIconText(tr("Play"));
  bar->addActions({before, next, play_});
  connect(&cursor_, &Cursor::playing_changed, this,
          [this](bool playing) { play_->setIconText(playing ? tr("Stop") : tr("Play")); });
  add_action(crank, tr("Overlap &TDC"), QKeySequence("Alt+Home"), [this] { cursor_.set(0); });
  add_action(crank, tr("A degree &earlier"), QKeySequence("Alt+Left"), [this] { cursor_.step(-1); });
  add_action(crank, tr("A degree &later"), QKeySequence("Alt+Right"), [this] { cursor_.step(1); });

  QMenu* view = menuBar()->addMenu(tr("&View"));
  int number = 1;
  for (const std::string& word : scene::kViewWords)
    add_action(view, tr("From: %1").arg(shown(word)), QKeySequence(QString("Alt+%1").arg(number++)),
               [this, word] { scene_->show_from(*scene::view_of(word)); });
  view->addSeparator();
  whole_ = add_action(view, tr("&Whole cycle"), QKeySequence("Ctrl+W"),
                      [this] { plot_->show_whole_cycle(whole_->isChecked()); });
  whole_->setCheckable(true);
  labels_ = add_action(view, tr("&Labels of what is lit"), QKeySequence("Ctrl+L"),
                       [this] { scene_->show_labels(labels_->isChecked()); });
  labels_->setCheckable(true);
  labels_->setChecked(true);
  view->addSeparator();
  auto* units = new QActionGroup(this);
  const QString kept = QSettings().value("units").toString();
  for (const auto& [text, word, unit] :
       {std::tuple<QString, QString, std::optional<LengthUnit>>{tr("Lengths as in the file"), "", std::nullopt},
        {tr("Lengths in mm"), "mm", LengthUnit::mm},
        {tr("Lengths in inches"), "in", LengthUnit::inch}}) {
    QAction* action = add_action(view, text, {}, [this, word = word, unit = unit] {
      QSettings().setValue("units", word);
      choose_units(unit);
    });
    action->setCheckable(true);
    units->addAction(action);
    if (word == kept) {
      action->setChecked(true);
      units_ = unit;
    }
  }

  QMenu* check = menuBar()->addMenu(tr("C&heck"));
  add_action(check, tr("Check &again"), QKeySequence("F5"), [this] { take_text(); });
  cancel_ = add_action(check, tr("&Cancel"), QKeySequence("Escape"), [this] {
    found_->give_up();
    checker_.cancel();
  });
  cancel_->setEnabled(false);
  bar->addSeparator();
  bar->addAction(cancel_);

  QMenu* help = menuBar()->addMenu(tr("&Help"));
  add_action(help, tr("&Keys"), QKeySequence::HelpContents, [this] { show_keys(); });
  add_action(help, tr("&About"), {}, [this] { show_about(); });
  for (QAction* action : needs_check_) action->setEnabled(false);
}

bool MainWindow::guarded(const std::function<void()>& act) {
  try {
    act();
    return true;
  } catch (const InputError& error) {
    QStringList lines;
    for (const Fault& fault : error.faults()) lines << shown(to_string(fault));
    QMessageBox::warning(this, tr("Eyebrow"), lines.join('\n'));
  } catch (const std::exception& error) {
    QMessageBox::warning(this, tr("Eyebrow"), shown(error.what()));
  }
  return false;
}

bool MainWindow::open(const QString& path) {
  return guarded([&] { begin_with(path); });
}

void MainWindow::begin_with(const QString& path) {
  document_.open(path);
  QSettings settings;
  QStringList recent = settings.value("recent").toStringList();
  recent.removeAll(document_.path());
  recent.prepend(document_.path());
  while (recent.size() > kMostRecent) recent.removeLast();
  settings.setValue("recent", recent);
  plot_->setFocus();  // so that the arrow keys turn the crank
}

void MainWindow::begin_new() {
  document_.begin(starter_file());
}

void MainWindow::show_recent() {
  recent_->clear();
  int number = 1;
  for (const QString& path : QSettings().value("recent").toStringList())
    recent_->addAction(QString("&%1  %2").arg(number++).arg(QString(path).replace('&', "&&")), this, [this, path] {
      if (may_leave()) open(path);
    });
  if (recent_->isEmpty()) recent_->addAction(tr("none yet"))->setEnabled(false);
}

void MainWindow::ask_open() {
  if (!may_leave()) return;
  const QString path =
      QFileDialog::getOpenFileName(this, tr("Open"), QFileInfo(document_.path()).path(), tr(kFileKinds));
  if (!path.isEmpty()) open(path);
}

bool MainWindow::save() {
  if (document_.path().isEmpty()) return ask_save_as();
  return guarded([&] { document_.save(); });
}

bool MainWindow::save_as(const QString& path) {
  if (!guarded([&] { document_.save_as(path); })) return false;
  // Tables are looked for beside the file, which is elsewhere now.
  take_text();
  return true;
}

bool MainWindow::ask_save_as() {
  QString path = QFileDialog::getSaveFileName(this, tr("Save as"), document_.path(), tr(kFileKinds));
  if (path.isEmpty()) return false;
  // Without an ending it would not be among what "Open" lists.
  if (QFileInfo(path).suffix().isEmpty() && !QFileInfo::exists(path + ".toml")) path += ".toml";
  return save_as(path);
}

bool MainWindow::may_leave() {
  if (!document_.changed()) return true;
  const auto answer = QMessageBox::question(this, tr("Eyebrow"), tr("Save the changes first?"),
                                            QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel);
  if (answer == QMessageBox::Save) return save();
  return answer == QMessageBox::Discard;
}

void MainWindow::ask_reload() {
  const bool ask = document_.changed();
  if (ask && QMessageBox::question(this, tr("Eyebrow"),
                                   tr("%1 has changed on the disk. Read it again? Your changes can be brought back "
                                      "with Undo.")
                                       .arg(QFileInfo(document_.path()).fileName())) != QMessageBox::Yes)
    return;
  guarded([&] { document_.reload(); });
}

void MainWindow::export_picture() {
  const QString path = QFileDialog::getSaveFileName(this, tr("Export picture"), "engine.png", tr("Pictures (*.png)"));
  if (path.isEmpty()) return;
  guarded([&] { write_whole(path, scene_->picture()); });
}

void MainWindow::ask_frames() {
  const QString folder = QFileDialog::getExistingDirectory(this, tr("Folder for the frames"));
  if (folder.isEmpty()) return;
  const plot::Range range = plot_->cranks();
  const int count = static_cast<int>(std::lround(range.to - range.from)) + 1;
  const double before = cursor_.crank();
  QProgressDialog progress(tr("Drawing frames"), tr("Cancel"), 0, count, this);
  progress.setWindowModality(Qt::WindowModal);
  progress.setMinimumDuration(0);
  guarded([&] {
    export_frames(
        folder, count,
        [&](int frame) {
          cursor_.set((range.from + frame) * kDegree);
          return scene_->picture();
        },
        [&](int done) {
          progress.setValue(done);
          return !progress.wasCanceled();
        });
  });
  cursor_.set(before);
}

void MainWindow::ask_report() {
  if (!checked_) return;
  const auto checked = checked_;  // another edit may come while the dialog stands open
  const QString path = QFileDialog::getSaveFileName(
      this, tr("Export report or plot"), "check.txt",
      tr("Report (*.txt);;Table (*.csv);;Data (*.json);;Plot (*.svg *.pdf *.png);;All (*)"));
  if (path.isEmpty()) return;
  guarded([&] { export_report(path, *checked, format()); });
}

void MainWindow::copy_numbers() {
  if (!checked_) return;
  QApplication::clipboard()->setText(shown(checked_->result->engine) + '\n' + table_->copied() +
                                     shown(verdict_text(*checked_->result, format())));
}

void MainWindow::show_keys() {
  QMessageBox::information(
      this, tr("Keys"),
      tr("<table cellspacing=4>"
         "<tr><td>Left, Right</td><td>crank by a degree (with Shift by ten; in a field with Alt)</td></tr>"
         "<tr><td>Home</td><td>overlap TDC (in a field with Alt)</td></tr>"
         "<tr><td>Space, F9</td><td>play, stop</td></tr>"
         "<tr><td>F7, F8</td><td>tight point before, next</td></tr>"
         "<tr><td>Up, Down, Return</td><td>in the table: to the row's place; in a field: up, down by its last digit "
         "(with Ctrl by ten)</td></tr>"
         "<tr><td>+, -, wheel</td><td>plot closer, further; Ctrl+W the whole cycle</td></tr>"
         "<tr><td>Alt+1 ... Alt+%1</td><td>views; the wheel brings nearer what is under the pointer</td></tr>"
         "<tr><td>Ctrl+L</td><td>numbers beside what is lit: hidden, shown</td></tr>"
         "<tr><td>Ctrl+F</td><td>find a number</td></tr>"
         "<tr><td>F5, Esc</td><td>check again, cancel</td></tr>"
         "<tr><td>Ctrl+E, Ctrl+P</td><td>export report or plot, picture</td></tr>"
         "<tr><td>Ctrl+Shift+C</td><td>copy the numbers</td></tr></table>")
          .arg(scene::kViewWords.size()));
}

void MainWindow::show_about() {
  QMessageBox::about(this, tr("Eyebrow"),
                     tr("<b>Eyebrow %1</b><br>Checks that no valve touches a piston, another valve or the bore.<br><br>"
                        "%2<br>A verdict is not a permission to run an engine.")
                         .arg(QApplication::applicationVersion(), kCaution));
}

}  // namespace eyebrow::window
