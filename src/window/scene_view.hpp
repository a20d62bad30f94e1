// The 3-D scene in the window, with what one may choose of it.
#pragma once
#include <QPoint>
#include <QTimer>
#include <QWidget>
#include <memory>
#include <optional>

#include "eyebrow/report.hpp"
#include "scene/scene.hpp"
#include "window/least_colors.hpp"
#include "window/scene_picture.hpp"

class QComboBox;
class QLabel;
class QVTKOpenGLNativeWidget;

namespace eyebrow::window {

class SceneView : public QWidget {
  Q_OBJECT

 public:
  explicit SceneView(QWidget* parent = nullptr);
  ~SceneView() override;

  void show_parts(const scene::Shown& shown);
  void show_crank(double crank);
  /// Draws what was shown last without waiting for more: what is beside it shows the same.
  void draw_now();
  void show_units(const Format& format);
  /// Lights this valve's gaps; nothing = of each kind the tightest.
  void show_valve(std::optional<int> valve);
  /// The same, and looks at this one. `valve`: -1 = of none (piston to head); `other`: the second of a pair, else -1.
  /// `looking`: from where that is seen, unless another view was chosen to stay.
  void show_gap(scene::LitKind kind, int valve, int other, bool looking);
  void show_from(scene::View view);
  /// The numbers beside what is lit.
  void show_labels(bool labels);
  /// How the crown is coloured. `least` is drawn once it was found.
  void color(scene::Coloring coloring);
  /// Says that what is drawn is not what counts (any more); empty: it does.
  void show_veil(const QString& words);
  /// What is in sight, with title and foot line, as the bytes of a PNG. Throws MachineError.
  std::string picture();
  /// What a click on the canvas says there: the face and its place; empty where nothing is.
  QString told_at(const QPoint& at);
  bool has_parts() const { return has_parts_; }
  std::shared_ptr<const Parts> parts() const { return shown_.parts; }
  const scene::Scene& scene() const { return scene_; }
  QSize sizeHint() const override { return {520, 380}; }

 protected:
  bool eventFilter(QObject* of, QEvent* event) override;

 private:
  /// Nearer (factor over 1) or further away; what is under the pointer stays there.
  void zoom(double factor, const QPoint& at);
  /// Says what is under the pointer.
  void tell(const QPoint& at);
  void fill_choices();
  void take_choices();
  void find_colors();
  void draw();

  scene::Scene scene_;
  scene::Shown shown_;
  std::unique_ptr<ScenePicture> picture_;  ///< once one was wanted
  QVTKOpenGLNativeWidget* canvas_;
  QComboBox *from_, *cut_, *parts_, *color_;
  QLabel* coloring_;
  LeastColors least_;
  bool least_known_ = false;  ///< of the engine that is shown
  QTimer soon_, rests_, colors_rest_;
  bool has_parts_ = false, labels_ = true;
  QString uncut_from_;  ///< from where it was looked at before it was cut
  QPoint pressed_;
  std::vector<std::string> valves_;
  struct Focus {
    scene::LitKind kind;
    int valve, other;
  };
  std::optional<int> valve_;  ///< where there is no focus
  std::optional<Focus> focus_;
  Format format_;
};

}  // namespace eyebrow::window
