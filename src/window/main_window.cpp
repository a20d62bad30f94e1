#include "window/main_window.hpp"

#include <QCloseEvent>
#include <QComboBox>
#include <QDragEnterEvent>
#include <QFileInfo>
#include <QFontDatabase>
#include <QHBoxLayout>
#include <QLabel>
#include <QMimeData>
#include <QPlainTextEdit>
#include <QProgressBar>
#include <QSettings>
#include <QSplitter>
#include <QStatusBar>
#include <QTabWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "report/asked.hpp"
#include "report/words.hpp"
#include "window/gap_plot.hpp"
#include "window/no_undo.hpp"
#include "window/number_form.hpp"
#include "window/result_table.hpp"
#include "window/result_tabs.hpp"
#include "window/scene_view.hpp"
#include "window/text.hpp"
#include "window/verdict_bar.hpp"

namespace eyebrow::window {
namespace {

/// What fits the smallest screen that this is made for (1366 x 768), with room for its panels.
constexpr int kWide = 1340, kHigh = 700, kFormWide = 330;
constexpr int kPartsLater = 150;  // ms
/// A turn of the crank that the eye can follow, radians a second.
constexpr double kPlaySpeed = 40 * kDegree;

}  // namespace

MainWindow::MainWindow()
    : verdict_(new VerdictBar),
      form_(new NumberForm),
      text_(new QPlainTextEdit),
      tabs_(new QTabWidget),
      scene_(new SceneView),
      found_(new ResultTabs),
      table_(found_->gaps()),
      plot_(new GapPlot),
      across_(new QSplitter(Qt::Horizontal)),
      right_(new QSplitter(Qt::Vertical)),
      top_(new QSplitter(Qt::Horizontal)),
      cylinders_(new QComboBox),
      valves_(new QComboBox),
      faults_(new QLabel),
      progress_(new QProgressBar) {
  setAcceptDrops(true);
  lay_out();
  make_actions();
  connect_all();
  load_settings();
  show_state();
}

MainWindow::~MainWindow() {
  // Nothing may be told to widgets that are going away, nor by them to the document, which goes before they do: a
  // field that has the focus says that it was left.
  form_->disconnect(this);
  text_->disconnect(this);
  checker_.cancel();
  document_.disconnect(this);
  checker_.disconnect(this);
  cursor_.disconnect(this);
}

void MainWindow::lay_out() {
  text_->setFont(QFontDatabase::systemFont(QFontDatabase::FixedFont));
  text_->setLineWrapMode(QPlainTextEdit::NoWrap);
  text_->setUndoRedoEnabled(false);
  text_->installEventFilter(new NoUndo(text_));
  tabs_->addTab(form_, tr("Numbers"));
  tabs_->addTab(text_, tr("Text of the file"));
  tabs_->setDocumentMode(true);

  auto* plot_side = new QWidget;
  auto* plot_bar = new QHBoxLayout;
  plot_bar->setContentsMargins(6, 2, 6, 0);
  plot_bar->addWidget(new QLabel(tr("Gaps against crank angle: drag, or arrow keys")));
  plot_bar->addStretch(1);
  cylinders_->hide();
  cylinders_->setToolTip(tr("Whose numbers count"));
  cylinders_->setFocusPolicy(Qt::TabFocus);
  valves_->setFocusPolicy(Qt::TabFocus);
  valves_->setSizeAdjustPolicy(QComboBox::AdjustToContents);
  plot_bar->addWidget(cylinders_);
  plot_bar->addWidget(valves_);
  auto* plot_all = new QVBoxLayout(plot_side);
  plot_all->setContentsMargins(0, 0, 0, 0);
  plot_all->setSpacing(0);
  plot_all->addLayout(plot_bar);
  plot_all->addWidget(plot_, 1);

  top_->addWidget(scene_);
  top_->addWidget(found_);
  top_->setStretchFactor(0, 1);
  top_->setSizes({440, 582});
  right_->addWidget(top_);
  right_->addWidget(plot_side);
  right_->setStretchFactor(0, 1);
  right_->setSizes({330, 250});
  across_->addWidget(tabs_);
  across_->addWidget(right_);
  across_->setStretchFactor(1, 1);
  across_->setSizes({kFormWide, kWide - kFormWide});

  auto* middle = new QWidget;
  auto* all = new QVBoxLayout(middle);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(0);
  all->addWidget(verdict_);
  all->addWidget(across_, 1);
  setCentralWidget(middle);

  progress_->setRange(0, 1000);
  progress_->setMaximumWidth(180);
  progress_->setTextVisible(false);
  progress_->hide();
  statusBar()->addWidget(faults_, 1);
  statusBar()->addPermanentWidget(progress_);
  resize(kWide, kHigh);
}

void MainWindow::connect_all() {
  connect(&document_, &Document::taken, this, [this] {
    row_ = -1;
    shown_ = {};
    cylinders_->clear();
    cylinders_->hide();
    verdict_->forget();
  });
  connect(&document_, &Document::text_changed, this, &MainWindow::take_text);
  connect(&document_, &Document::state_changed, this, &MainWindow::show_state);
  connect(&document_, &Document::changed_on_disk, this, &MainWindow::ask_reload);
  connect(&checker_, &Checker::followed, this, &MainWindow::take_followed);
  connect(&checker_, &Checker::judged, this, &MainWindow::take_judged);
  connect(&checker_, &Checker::checked, this, &MainWindow::take_checked);
  connect(&checker_, &Checker::refused, this, &MainWindow::take_refused);
  connect(&checker_, &Checker::failed, this, [this](const QString& message) {
    shown_.stale = true;
    show_result();
    verdict_->show_trouble(tr("NO ANSWER"), tr("The machine failed: %1.").arg(message));
  });
  connect(&checker_, &Checker::cancelled, this, [this] {
    shown_.stale = true;
    show_result();
    verdict_->show_trouble(tr("CANCELLED"), tr("The check was given up: no verdict. F5 checks again."));
  });
  connect(&checker_, &Checker::progressed, this,
          [this](double share) { progress_->setValue(static_cast<int>(share * progress_->maximum())); });
  connect(&checker_, &Checker::busy_changed, this, [this](bool busy) {
    progress_->setValue(0);
    progress_->setVisible(busy);
    cancel_->setEnabled(busy || found_->busy());
    mark_scene();
  });
  connect(found_, &ResultTabs::busy_changed, this, [this](bool busy) { cancel_->setEnabled(busy || checker_.busy()); });
  connect(found_, &ResultTabs::value_wanted, this, [this](const std::string& key, const std::string& typed) {
    document_.end_of_typing();
    guarded([&] { document_.set_value(key, typed); });
    document_.end_of_typing();
    go_to_number(key);
  });
  connect(found_, &ResultTabs::key_chosen, this, [this](const std::string& key) { go_to_number(key); });
  connect(form_, &NumberForm::edited, this, [this](const std::string& key, const QString& typed) {
    guarded([&] { document_.set_value(key, plain(typed)); });
  });
  connect(form_, &NumberForm::added, this, [this](const std::string& key, const QString& typed) {
    if (guarded([&] { document_.set_value(key, plain(typed)); })) form_->go_to(key);
  });
  connect(form_, &NumberForm::taken_out, this,
          [this](const std::string& key) { guarded([&] { document_.take_out(key); }); });
  connect(form_, &NumberForm::left, this, [this] { document_.end_of_typing(); });
  connect(text_, &QPlainTextEdit::textChanged, this, [this] {
    if (!text_->hasFocus()) return;
    QString text = text_->toPlainText();
    if (document_.text().find("\r\n") != std::string::npos) text.replace("\n", "\r\n");
    document_.set_text(plain(text));
  });
  parts_soon_.setSingleShot(true);
  connect(&parts_soon_, &QTimer::timeout, this, [this] {
    guarded([&] { scene_->show_parts(parts_); });
    scene_->show_crank(cursor_.crank());
    mark_scene();
  });
  connect(&cursor_, &Cursor::moved, this, &MainWindow::show_crank);
  connect(plot_, &GapPlot::dragged, this, [this](double crank) {
    cursor_.stop();
    cursor_.set(crank);
  });
  connect(plot_, &GapPlot::least_chosen, this, [this](int, double crank) { cursor_.set(crank); });
  connect(table_, &ResultTable::chosen, this, &MainWindow::jump_to_row);
  connect(valves_, QOverload<int>::of(&QComboBox::activated), this, [this](int index) {
    plot_->show_valve(index - 1);
    scene_->show_valve(index > 0 ? std::optional<int>(index - 1) : std::nullopt);
  });
  connect(cylinders_, QOverload<int>::of(&QComboBox::activated), this, [this](int index) {
    if (!checked_) return take_text();
    // All of them are checked already.
    auto other = std::make_shared<Checked>(*checked_);
    other->show(index > 0 ? static_cast<std::size_t>(index - 1) : other->all.worst);
    take_checked(other);
  });
}

Job MainWindow::job() const {
  // Tables are looked for beside the file, so its whole path is its name there.
  return {document_.text(), document_.path().isEmpty() ? document_.name() : plain(document_.path()),
          plain(cylinders_->currentData().toString())};
}

void MainWindow::take_text() {
  form_->show_text(document_.text(), document_.name());
  const QString text = shown(document_.text()).replace("\r\n", "\n");
  if (text_->toPlainText() != text) text_->setPlainText(text);
  checked_.reset();
  found_->forget();
  shown_.stale = shown_.result != nullptr;
  for (QAction* action : needs_check_) action->setEnabled(false);
  if (shown_.result) {
    verdict_->show_result(shown_, format(), nullptr);
    table_->show_result(shown_, format());
  }
  checker_.check(job());
  mark_scene();
}

void MainWindow::take_followed(const std::shared_ptr<const Followed>& followed) {
  form_->show_faults({});
  form_->show_origins(followed->cylinder.empty() ? followed->file->origins : followed->file->cylinders.front().origins);
  show_cylinders(*followed->file);
  shown_ = sampled_result(*followed);
  faults_->setText(followed->file->warnings.empty()
                       ? QString()
                       : tr("Warning: %1").arg(shown(followed->file->warnings.front().message)));
  QStringList warnings;
  for (const Fault& each : followed->file->warnings) warnings << shown(to_string(each));
  faults_->setToolTip(warnings.join('\n'));
  if (valves_->count() != static_cast<int>(shown_.result->valves.size()) + 1) {
    valves_->clear();
    valves_->addItem(tr("all valves"));
    for (const ValveResult& valve : shown_.result->valves) valves_->addItem(shown(valve.name));
    plot_->show_valve(-1);
  }
  show_result();
  if (followed->whole) show_parts({followed->ready.engine(), followed->ready.parts(), {}});
  show_crank(cursor_.crank());
}

/// New solids take tenths of a second to be drawn: while numbers still come, the last of them will do.
void MainWindow::show_parts(const scene::Shown& parts) {
  parts_ = parts;
  const bool slow = scene_->has_parts() && scene_->parts() != parts.parts;
  parts_soon_.start(slow ? kPartsLater : 0);
}

void MainWindow::take_judged(const JudgedRows& rows) {
  shown_ = with_rows(shown_, rows);
  show_result();
}

void MainWindow::take_checked(const std::shared_ptr<const Checked>& checked) {
  const bool first = row_ < 0;
  checked_ = checked;
  shown_ = {Certainty::checked, false, checked->result, checked->ready()};
  for (QAction* action : needs_check_) action->setEnabled(true);
  show_result();
  const std::string& cylinder = checked->result->conditions.cylinder;
  const auto measured = std::ranges::find(checked->file->cylinders, cylinder, &MeasuredCylinder::name);
  form_->show_measured(checked->file->origins, measured == checked->file->cylinders.end() ? nullptr : &*measured);
  found_->take(*checked, {document_.text(), job().name, checked->file}, format());
  show_parts({checked->ready().engine(), checked->ready().parts(), checked->result});
  if (!first) return follow_row();
  // A newly opened engine is shown where it is tightest.
  if (const AskedRow* const tightest = row_to_show(*checked->result))
    jump_to_row(static_cast<int>(tightest - checked->result->asked.data()));
}

void MainWindow::take_refused(const std::vector<Fault>& faults) {
  form_->show_faults(faults);
  shown_.stale = shown_.result != nullptr;
  if (shown_.result) show_result();
  QString sentence = shown(faults.front().message);
  if (faults.front().line > 0) sentence = tr("line %1: ").arg(faults.front().line) + sentence;
  if (faults.size() > 1) sentence += tr(" (and %1 more)").arg(faults.size() - 1);
  verdict_->show_trouble(tr("INPUT WRONG"), sentence);
}

void MainWindow::go_to_number(const std::string& key) {
  tabs_->setCurrentWidget(form_);
  form_->go_to(key);
}

void MainWindow::show_result() {
  if (!shown_.result) return;
  if (format().units != told_units_) scene_->show_units(format());
  told_units_ = format().units;
  table_->show_result(shown_, format());
  found_->show_units(format());
  plot_->show_result(shown_, format());
  const bool many = checked_ && checked_->all.each.size() > 1;
  verdict_->show_result(shown_, format(), many ? &checked_->all : nullptr);
  mark_scene();
}

void MainWindow::show_crank(double crank) {
  plot_->show_cursor(crank);
  if (!scene_->has_parts()) return;
  scene_->show_crank(crank);
  if (cursor_.playing()) scene_->draw_now();
}

void MainWindow::show_cylinders(const EngineFile& file) {
  QStringList names;
  for (const MeasuredCylinder& each : file.cylinders) names << shown(each.name);
  QStringList there;
  for (int i = 1; i < cylinders_->count(); ++i) there << cylinders_->itemData(i).toString();
  cylinders_->setVisible(!names.isEmpty());
  if (names == there) return;
  cylinders_->clear();
  cylinders_->addItem(tr("the worst cylinder"), QString());
  for (const QString& name : names) cylinders_->addItem(tr("cylinder %1").arg(name), name);
}

void MainWindow::show_state() {
  const QString name = document_.path().isEmpty() ? tr("new engine") : QFileInfo(document_.path()).fileName();
  setWindowTitle(tr("%1[*] - Eyebrow").arg(name));
  setWindowModified(document_.changed());
  setWindowFilePath(document_.path());
}

Format MainWindow::format() const {
  Format out;
  out.units = units_.value_or(shown_.result ? shown_.result->units : LengthUnit::mm);
  return out;
}

void MainWindow::choose_units(std::optional<LengthUnit> units) {
  units_ = units;
  show_result();
}

void MainWindow::jump(int places) {
  if (!shown_.result || shown_.result->asked.empty()) return;
  const int count = static_cast<int>(shown_.result->asked.size());
  for (int tried = 0; tried < count; ++tried) {
    row_ = ((row_ < 0 && places < 0 ? 0 : row_) + places + count) % count;
    if (crank_of(*shown_.result, shown_.result->asked[static_cast<std::size_t>(row_)])) break;
  }
  jump_to_row(row_);
}

void MainWindow::jump_to_row(int row) {
  go_to_row(row, true);
}

/// A row whose place moved with an edit takes the crank along, where nobody has turned that since; the eye stays.
void MainWindow::follow_row() {
  if (cursor_.playing() || cursor_.crank() != row_crank_) return;
  const std::vector<AskedRow>& rows = shown_.result->asked;
  const auto same = std::ranges::find_if(rows, [&](const AskedRow& each) {
    return each.what == of_row_.what && each.valve == of_row_.valve && each.running == of_row_.running;
  });
  if (same != rows.end()) go_to_row(static_cast<int>(same - rows.begin()), false);
}

void MainWindow::go_to_row(int row, bool looking) {
  if (!shown_.result || row < 0 || row >= static_cast<int>(shown_.result->asked.size())) return;
  row_ = row;
  of_row_ = shown_.result->asked[static_cast<std::size_t>(row)];
  const AskedRow& asked = shown_.result->asked[static_cast<std::size_t>(row)];
  cursor_.stop();
  if (table_->currentRow() != row) table_->setCurrentCell(row, 0);
  for (std::size_t i = 0; i < shown_.result->valves.size(); ++i)
    if (shown_.result->valves[i].name == asked.valve && valves_->currentIndex() > 0) {
      valves_->setCurrentIndex(static_cast<int>(i) + 1);
      plot_->show_valve(static_cast<int>(i));
    }
  show_position(minimum_of(*shown_.result, asked));
  if (const auto crank = crank_of(*shown_.result, asked)) cursor_.set(*crank);
  if (const auto kind = scene::lit_kind(asked.what)) {
    const auto [valve, other] = valves_of(*shown_.result, asked);
    scene_->show_gap(*kind, valve, other, looking);
  }
  row_crank_ = cursor_.crank();
}

/// What is drawn counts when it is of the newest numbers and a check has been through them.
void MainWindow::mark_scene() {
  if (!shown_.result) return scene_->show_veil({});
  const bool counts = !shown_.stale && shown_.certainty == Certainty::checked;
  if (counts && parts_soon_.isActive()) return;  // it does as soon as that is drawn
  // The verdict may be there before the places are: then it is not the numbers that are still to come.
  const bool judged = !shown_.stale && shown_.certainty == Certainty::judged;
  scene_->show_veil(counts             ? QString()
                    : !checker_.busy() ? tr("OLD NUMBERS")
                    : judged           ? tr("LOOKING FOR THE PLACES")
                                       : tr("CHECKING"));
}

/// A gap that is least at another position of its cam is shown there, as the parts and numbers at the file's own
/// position would not be those of the row.
void MainWindow::show_position(const Minimum* least) {
  if (!shown_.ready || !checked_) return;
  const Engine& set = *checked_->ready().engine();
  Engine engine = set;
  QStringList moved;
  const auto turn = [&](const std::string& valve, const std::optional<double>& advance) {
    for (const Valve& each : engine.valves)
      if (const Lobe* lobe = lobe_of(engine, each); advance && lobe && each.name == valve)
        for (Cam& cam : engine.cams)
          if (cam.name == lobe->cam && cam.advance != *advance) {
            cam.advance = *advance;
            moved << tr("cam %1 %2").arg(shown(cam.name), shown(advance_text(*advance)));
          }
  };
  if (least)
    for (const ValveResult& valve : shown_.result->valves)
      for (const auto& [kind, minimum] : valve.minimum)
        if (&minimum == least) turn(valve.name, least->advance);
  if (least)
    for (const PairResult& pair : shown_.result->pairs)
      if (&pair.minimum == least) {
        turn(pair.first, least->advance);
        turn(pair.second, least->advance2);
      }
  if (moved.isEmpty() && !moved_) return;
  moved_ = !moved.isEmpty();
  const auto ready = checked_->ready().moved(engine);
  if (!ready) return;
  shown_.ready = *ready;
  plot_->show_result(shown_, format());
  show_parts({ready->engine(), ready->parts(), checked_->result});
  faults_->setText(moved_ ? tr("Shown with %1, where this gap is least; the curves are at the file's own position.")
                                .arg(moved.join(", "))
                          : QString());
}

void MainWindow::play() {
  if (cursor_.playing()) return cursor_.stop();
  const plot::Range range = plot_->cranks();
  cursor_.play(range.from * kDegree, range.to * kDegree, kPlaySpeed);
}

void MainWindow::keyPressEvent(QKeyEvent* event) {
  const bool far = event->modifiers() & Qt::ShiftModifier;
  switch (event->key()) {
    case Qt::Key_Left:
      cursor_.stop();
      return cursor_.step(far ? -10 : -1);
    case Qt::Key_Right:
      cursor_.stop();
      return cursor_.step(far ? 10 : 1);
    case Qt::Key_Home:
      return cursor_.set(0);
    case Qt::Key_Space:
      return play();
    case Qt::Key_Plus:
      return plot_->zoom(0.8);
    case Qt::Key_Minus:
      return plot_->zoom(1.25);
    default:
      QMainWindow::keyPressEvent(event);
  }
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event) {
  const auto urls = event->mimeData()->urls();
  if (urls.size() == 1 && urls.front().isLocalFile()) event->acceptProposedAction();
}

void MainWindow::dropEvent(QDropEvent* event) {
  const QString path = event->mimeData()->urls().front().toLocalFile();
  if (may_leave()) open(path);
}

void MainWindow::closeEvent(QCloseEvent* event) {
  if (!may_leave()) return event->ignore();
  save_settings();
  event->accept();
}

void MainWindow::load_settings() {
  const QSettings settings;
  restoreGeometry(settings.value("window/geometry").toByteArray());
  across_->restoreState(settings.value("window/across").toByteArray());
  right_->restoreState(settings.value("window/right").toByteArray());
  top_->restoreState(settings.value("window/top").toByteArray());
}

void MainWindow::save_settings() const {
  QSettings settings;
  settings.setValue("window/geometry", saveGeometry());
  settings.setValue("window/across", across_->saveState());
  settings.setValue("window/right", right_->saveState());
  settings.setValue("window/top", top_->saveState());
}

}  // namespace eyebrow::window
