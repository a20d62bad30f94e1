// The crank angle that everything in the window shows.
#pragma once
#include <QElapsedTimer>
#include <QObject>
#include <QTimer>

namespace eyebrow::window {

/// Radians, -2 pi ... 2 pi from overlap TDC; beyond one end it goes on at the other.
class Cursor : public QObject {
  Q_OBJECT

 public:
  explicit Cursor(QObject* parent = nullptr);
  double crank() const { return crank_; }
  void set(double crank);
  /// By whole degrees, onto whole degrees.
  void step(int degrees);
  bool playing() const { return timer_.isActive(); }
  /// Turns within this stretch, there again and again. `speed`: radians a second.
  void play(double from, double to, double speed);
  void stop();

 Q_SIGNALS:
  void moved(double crank);
  void playing_changed(bool playing);

 private:
  void tick();

  double crank_ = 0, from_ = 0, to_ = 0, speed_ = 0;
  QTimer timer_;
  QElapsedTimer since_;
};

}  // namespace eyebrow::window
