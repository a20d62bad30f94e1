#include "window/scene_view.hpp"

#include <QVTKOpenGLNativeWidget.h>
#include <vtkCamera.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkInteractorStyleTrackballCamera.h>
#include <vtkNew.h>
#include <vtkRenderWindowInteractor.h>
#include <vtkRenderer.h>

#include <QAbstractItemView>
#include <QComboBox>
#include <QCoreApplication>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QMouseEvent>
#include <QToolTip>
#include <QVBoxLayout>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "report/words.hpp"
#include "scene/words.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr int kRest = 250, kColorsRest = 400, kToldFor = 20000;  // ms
constexpr int kClick = 4;                                        // pixels: moved further, it was a drag
constexpr double kNotch = 1.15;                                  // nearer by each notch of the wheel
constexpr double kNotchTurn = 120;                               // as Qt counts it

enum PartsShown { kAll, kNoBore, kGlassBore, kGlassValves, kNoValves };

}  // namespace

SceneView::SceneView(QWidget* parent)
    : QWidget(parent),
      canvas_(new QVTKOpenGLNativeWidget(this)),
      from_(new QComboBox(this)),
      cut_(new QComboBox(this)),
      parts_(new QComboBox(this)),
      color_(new QComboBox(this)),
      coloring_(new QLabel(this)) {
  vtkNew<vtkGenericOpenGLRenderWindow> window;
  window->SetMultiSamples(0);  // with depth peeling they make translucent parts vanish
  canvas_->setRenderWindow(window);
  window->AddRenderer(scene_.renderer());
  scene_.renderer()->UseFXAAOn();  // smooth edges all the same
  vtkNew<vtkInteractorStyleTrackballCamera> style;
  window->GetInteractor()->SetInteractorStyle(style);
  canvas_->setFocusPolicy(Qt::ClickFocus);
  canvas_->installEventFilter(this);

  for (const std::string& word : scene::kViewWords) from_->addItem(shown(word));
  from_->setToolTip(tr("From where one looks"));
  cut_->setToolTip(tr("Where the parts are cut open"));
  parts_->addItems({tr("all parts"), tr("no bore"), tr("glass bore"), tr("glass valves"), tr("no valves")});
  parts_->setCurrentIndex(kNoBore);
  color_->addItems({tr("plain"), tr("gap now"), tr("least gap"), tr("faces by group")});
  color_->setToolTip(
      tr("Each place of the crown by its distance to the nearest valve: at this crank angle, or the least "
         "over the whole cycle, as clay would keep it; or each face by what it is taken for"));
  for (QComboBox* choice : {from_, cut_, parts_, color_}) {
    choice->setFocusPolicy(Qt::TabFocus);
    // Words that do not fit are cut: the table beside needs the room more.
    choice->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    choice->setMinimumContentsLength(4);
    choice->view()->setMinimumWidth(choice->view()->sizeHintForColumn(0) + 24);
  }
  connect(from_, &QComboBox::textActivated, this, [this](const QString& word) {
    if (const auto view = scene::view_of(plain(word))) show_from(*view);
  });
  connect(cut_, QOverload<int>::of(&QComboBox::activated), this, [this](int through) {
    const bool was_cut = scene_.look().section.through != scene::Section::Through::nothing;
    take_choices();
    const QString square = shown(scene::to_string(scene::View::square));
    if (through > 0) {
      if (!was_cut) uncut_from_ = from_->currentText();
      show_from(scene::View::square);  // from elsewhere one may see the uncut side
    } else if (was_cut && from_->currentText() == square) {
      if (const auto view = scene::view_of(plain(uncut_from_))) show_from(*view);
    }
  });
  connect(parts_, QOverload<int>::of(&QComboBox::activated), this, &SceneView::take_choices);
  connect(color_, QOverload<int>::of(&QComboBox::activated), this, &SceneView::take_choices);
  connect(&least_, &LeastColors::progressed, this,
          [this](double share) { coloring_->setText(tr("colours %1 %").arg(static_cast<int>(100 * share))); });
  connect(&least_, &LeastColors::found, this, [this](const std::shared_ptr<const scene::NearestGaps>& least) {
    coloring_->hide();
    least_known_ = least != nullptr;
    scene_.set_least(least);
    take_choices();
  });

  auto* bar = new QHBoxLayout;
  bar->setContentsMargins(6, 2, 6, 2);
  bar->setSpacing(6);
  bar->addWidget(new QLabel(tr("from"), this));
  bar->addWidget(from_, 3);
  bar->addWidget(new QLabel(tr("cut"), this));
  bar->addWidget(cut_, 4);
  bar->addWidget(parts_, 5);
  bar->addWidget(color_, 4);
  bar->addWidget(coloring_);
  coloring_->hide();
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(0);
  all->addLayout(bar);
  all->addWidget(canvas_, 1);
  colors_rest_.setSingleShot(true);
  colors_rest_.setInterval(kColorsRest);
  connect(&colors_rest_, &QTimer::timeout, this, [this] {
    if (!least_known_ && static_cast<scene::Coloring>(color_->currentIndex()) == scene::Coloring::least)
      least_.find(shown_);
  });
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
  cut_->view()->setMinimumWidth(cut_->view()->sizeHintForColumn(0) + 24);
}

void SceneView::show_parts(const scene::Shown& shown_parts) {
  std::vector<std::string> names;
  for (const Valve& valve : shown_parts.engine->valves) names.push_back(valve.name);
  const bool first = !has_parts_;
  scene_.show(shown_parts);
  if (shown_parts.engine != shown_.engine || shown_parts.parts != shown_.parts) {
    least_.give_up();
    least_known_ = false;
    scene_.set_least(nullptr);
  }
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
  look.labels = labels_;
  look.overlaps = !rests_.isActive();
  look.format = format_;
  look.hidden.clear();
  look.transparent.clear();
  look.lit = scene::Look().lit;
  look.lit_valve = valve_;
  look.lit_other.reset();
  look.focus.reset();
  if (focus_) look = with_focus(look, focus_->kind, focus_->valve, focus_->other);
  const int through = cut_->currentIndex();
  look.section = {};
  if (through > 0) {
    look.section.through = scene::Section::Through::valve;
    look.section.valve = through - 1;
  }
  const int parts = parts_->currentIndex();
  for (const std::string& name : has_parts_ ? scene_.part_names() : std::vector<std::string>()) {
    const bool around = name == "bore" || name == "gasket";
    // A gap to the bore is no gap to nothing.
    const bool glass = parts == kGlassBore || (parts == kNoBore && focus_ && focus_->kind == scene::LitKind::bore);
    if (around && glass) look.transparent.insert(name);
    if (around && !glass && (parts == kNoBore || parts == kNoValves)) look.hidden.insert(name);
    if (parts == kGlassValves && !around && name != "crown") look.transparent.insert(name);
    if (parts == kNoValves && !around && name != "crown") look.hidden.insert(name);
  }
  const auto coloring = static_cast<scene::Coloring>(std::max(0, color_->currentIndex()));
  if (coloring == scene::Coloring::least && !least_known_) find_colors();
  look.coloring = coloring == scene::Coloring::least && !least_known_ ? scene::Coloring::plain : coloring;
  scene_.look(look);
  draw();
}

void SceneView::show_labels(bool labels) {
  labels_ = labels;
  take_choices();
}

void SceneView::zoom(double factor, const QPoint& at) {
  vtkCamera* const camera = scene_.renderer()->GetActiveCamera();
  // Without perspective: pixels are the same length everywhere.
  const double mm = 2 * camera->GetParallelScale() / std::max(1, canvas_->height());
  const auto vector = [](const double* p) { return Vec3{p[0], p[1], p[2]}; };
  const Vec3 away = vector(camera->GetDirectionOfProjection());
  const Vec3 up = vector(camera->GetViewUp()), right = unit(cross(away, up));
  const double across = mm * (at.x() - canvas_->width() / 2.0), along = mm * (canvas_->height() / 2.0 - at.y());
  const Vec3 by = (1 - 1 / factor) * (across * right + along * cross(right, away));
  const Vec3 eye = vector(camera->GetPosition()) + by, target = vector(camera->GetFocalPoint()) + by;
  camera->SetPosition(eye.x, eye.y, eye.z);
  camera->SetFocalPoint(target.x, target.y, target.z);
  camera->SetParallelScale(camera->GetParallelScale() / factor);
  draw();
}

void SceneView::color(scene::Coloring coloring) {
  color_->setCurrentIndex(static_cast<int>(coloring));
  take_choices();
}

void SceneView::find_colors() {
  if (!has_parts_ || least_.busy()) return;
  coloring_->setText(tr("colours ..."));
  coloring_->show();
  colors_rest_.start();
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

void SceneView::show_gap(scene::LitKind kind, int valve, int other, bool looking) {
  focus_ = {kind, valve, other};
  take_choices();
  if (!looking) return;
  const auto view = scene::view_of(plain(from_->currentText()));
  // Views that follow the gap; another was chosen to stay.
  if (view == scene::View::best || view == scene::View::near || view == scene::View::square) show_from(*view);
}

QString SceneView::told_at(const QPoint& at) {
  const double dots = canvas_->devicePixelRatioF();
  const scene::SeenFace seen =
      scene_.seen_at(static_cast<int>(at.x() * dots), static_cast<int>((canvas_->height() - 1 - at.y()) * dots));
  if (seen.face.empty()) return "";
  // As an engine file has a place: `point = [x, y, z]`.
  const Lengths lengths({format_.units, format_.units == LengthUnit::inch ? 3 : 2});
  const bool crown = seen.part == "crown";
  return tr("%1\nx %2, y %3, z %4 %5 %6")
      .arg(shown(crown ? seen.face : seen.part + ": " + seen.face), shown(lengths.plain(seen.place.x)),
           shown(lengths.plain(seen.place.y)), shown(lengths.plain(seen.place.z)), lengths.unit(),
           crown ? tr("from where the bore axis meets the crown flat") : tr("from the block's deck on the bore axis"));
}

void SceneView::tell(const QPoint& at) {
  if (has_parts_) QToolTip::showText(canvas_->mapToGlobal(at), told_at(at), canvas_, {}, kToldFor);
}

bool SceneView::eventFilter(QObject* of, QEvent* event) {
  if (event->type() == QEvent::MouseButtonPress || event->type() == QEvent::MouseButtonRelease) {
    const auto* const mouse = static_cast<const QMouseEvent*>(event);
    if (mouse->button() == Qt::LeftButton && event->type() == QEvent::MouseButtonPress) pressed_ = mouse->pos();
    // A drag turns the view.
    if (mouse->button() == Qt::LeftButton && event->type() == QEvent::MouseButtonRelease &&
        (mouse->pos() - pressed_).manhattanLength() < kClick)
      // Once the click is over: until then it takes words like these away.
      QTimer::singleShot(0, this, [this, at = mouse->pos()] { tell(at); });
  }
  if (event->type() == QEvent::Wheel && has_parts_) {
    const auto* const wheel = static_cast<const QWheelEvent*>(event);
    zoom(std::pow(kNotch, wheel->angleDelta().y() / kNotchTurn), wheel->position().toPoint());
    return true;
  }
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

void SceneView::show_veil(const QString& words) {
  if (plain(words) == scene_.veil()) return;
  scene_.veil(plain(words));
  draw();
}

std::string SceneView::picture() {
  if (!picture_) picture_ = std::make_unique<ScenePicture>();
  scene::Look look = scene_.look();
  look.captions = look.overlaps = true;
  return picture_->draw(shown_, look, scene_.crank(), scene_.renderer()->GetActiveCamera());
}

void SceneView::draw_now() {
  if (!soon_.isActive()) return;
  soon_.stop();
  canvas_->renderWindow()->Render();
}

void SceneView::draw() {
  // Several changes at once are one picture.
  if (has_parts_) soon_.start();
}

}  // namespace eyebrow::window
