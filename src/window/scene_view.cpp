#include "window/scene_view.hpp"

#include <QVTKOpenGLNativeWidget.h>
#include <vtkCamera.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkInteractorStyleTrackballCamera.h>
#include <vtkNew.h>
#include <vtkRenderWindowInteractor.h>
#include <vtkRenderer.h>

#include <QComboBox>
#include <QCoreApplication>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QVBoxLayout>

#include "scene/words.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr int kRest = 250;  // ms

enum PartsShown { kAll, kNoBore, kGlassBore, kGlassValves };

}  // namespace

SceneView::SceneView(QWidget* parent)
    : QWidget(parent),
      canvas_(new QVTKOpenGLNativeWidget(this)),
      from_(new QComboBox(this)),
      cut_(new QComboBox(this)),
      parts_(new QComboBox(this)),
      stale_(new QLabel(tr("of the last good numbers"), this)) {
  vtkNew<vtkGenericOpenGLRenderWindow> window;
  window->SetMultiSamples(0);  // with depth peeling they make translucent parts vanish
  canvas_->setRenderWindow(window);
  window->AddRenderer(scene_.renderer());
  vtkNew<vtkInteractorStyleTrackballCamera> style;
  window->GetInteractor()->SetInteractorStyle(style);
  canvas_->setFocusPolicy(Qt::ClickFocus);
  canvas_->installEventFilter(this);

  for (const std::string& word : scene::kViewWords) from_->addItem(shown(word));
  from_->setToolTip(tr("From where one looks"));
  cut_->setToolTip(tr("Where the parts are cut open"));
  parts_->addItems({tr("all parts"), tr("without the bore"), tr("bore as glass"), tr("valves as glass")});
  parts_->setCurrentIndex(kNoBore);
  for (QComboBox* choice : {from_, cut_, parts_}) {
    choice->setFocusPolicy(Qt::TabFocus);
    choice->setSizeAdjustPolicy(QComboBox::AdjustToContents);
  }
  connect(from_, &QComboBox::textActivated, this, [this](const QString& word) {
    if (const auto view = scene::view_of(plain(word))) show_from(*view);
  });
  connect(cut_, QOverload<int>::of(&QComboBox::activated), this, &SceneView::take_choices);
  connect(parts_, QOverload<int>::of(&QComboBox::activated), this, &SceneView::take_choices);

  auto* bar = new QHBoxLayout;
  bar->setContentsMargins(6, 2, 6, 2);
  bar->setSpacing(6);
  bar->addWidget(new QLabel(tr("from"), this));
  bar->addWidget(from_);
  bar->addWidget(new QLabel(tr("cut"), this));
  bar->addWidget(cut_);
  bar->addWidget(parts_);
  bar->addStretch(1);
  bar->addWidget(stale_);
  stale_->hide();
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(0);
  all->addLayout(bar);
  all->addWidget(canvas_, 1);
  rests_.setSingleShot(true);
  rests_.setInterval(kRest);
  connect(&rests_, &QTimer::timeout, this, &SceneView::take_choices);
  soon_.setSingleShot(true);
  connect(&soon_, &QTimer::timeout, this, [this] { canvas_->renderWindow()->Render(); });
  fill_choices();
}

SceneView::~SceneView() {
  // The renderer is the scene's and goes before the window.
  canvas_->renderWindow()->RemoveRenderer(scene_.renderer());
}

void SceneView::fill_choices() {
  const int kept = cut_->currentIndex();
  cut_->clear();
  cut_->addItem(tr("nothing"));
  for (const std::string& valve : valves_) cut_->addItem(tr("through %1").arg(shown(valve)));
  cut_->setCurrentIndex(kept >= 0 && kept < cut_->count() ? kept : 0);
}

void SceneView::show_parts(const scene::Shown& shown_parts) {
  std::vector<std::string> names;
  for (const Valve& valve : shown_parts.engine->valves) names.push_back(valve.name);
  const bool first = !has_parts_;
  scene_.show(shown_parts);
  shown_ = shown_parts;
  has_parts_ = true;
  if (names != valves_) {
    valves_ = names;
    fill_choices();
  }
  take_choices();
  if (first) scene_.view(scene::View::best);
  draw();
}

void SceneView::take_choices() {
  scene::Look look = scene_.look();
  look.captions = false;
  look.overlaps = !rests_.isActive();
  look.format = format_;
  look.hidden.clear();
  look.transparent.clear();
  look.lit_valve = valve_;
  look.focus = focus_;
  const int through = cut_->currentIndex();
  look.section = {};
  if (through > 0) {
    look.section.through = scene::Section::Through::valve;
    look.section.valve = through - 1;
  }
  const int parts = parts_->currentIndex();
  for (const std::string& name : has_parts_ ? scene_.part_names() : std::vector<std::string>()) {
    const bool around = name == "bore" || name == "gasket";
    if (parts == kNoBore && around) look.hidden.insert(name);
    if (parts == kGlassBore && around) look.transparent.insert(name);
    if (parts == kGlassValves && !around && name != "crown") look.transparent.insert(name);
  }
  scene_.look(look);
  draw();
}

void SceneView::show_crank(double crank) {
  if (crank == scene_.crank()) return;
  // What is in overlap is too slow to follow the crank: it is drawn where that rests.
  scene::Look look = scene_.look();
  look.overlaps = false;
  scene_.look(look);
  scene_.place(crank);
  rests_.start();
  draw();
}

void SceneView::show_units(const Format& format) {
  format_ = format;
  take_choices();
}

void SceneView::show_valve(std::optional<int> valve) {
  valve_ = valve;
  focus_.reset();
  take_choices();
}

void SceneView::show_gap(int valve, GapKind kind) {
  valve_ = valve;
  focus_ = kind;
  take_choices();
  const auto view = scene::view_of(plain(from_->currentText()));
  // Views that follow the gap; another was chosen to stay.
  if (view == scene::View::best || view == scene::View::near || view == scene::View::square) show_from(*view);
}

bool SceneView::eventFilter(QObject* of, QEvent* event) {
  if (event->type() != QEvent::KeyPress) return QWidget::eventFilter(of, event);
  // The window's keys; those of the canvas itself would end the program.
  QCoreApplication::sendEvent(window(), event);
  return true;
}

void SceneView::show_from(scene::View view) {
  from_->setCurrentText(shown(scene::to_string(view)));
  scene_.view(view);
  draw();
}

void SceneView::show_stale(bool stale) {
  stale_->setVisible(stale);
}

std::string SceneView::picture() {
  if (!picture_) picture_ = std::make_unique<ScenePicture>();
  scene::Look look = scene_.look();
  look.captions = look.overlaps = true;
  return picture_->draw(shown_, look, scene_.crank(), scene_.renderer()->GetActiveCamera());
}

void SceneView::draw() {
  // Several changes at once are one picture.
  if (has_parts_) soon_.start();
}

}  // namespace eyebrow::window
