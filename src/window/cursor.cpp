#include "window/cursor.hpp"

#include <cmath>

#include "eyebrow/vec.hpp"

namespace eyebrow::window {
namespace {

constexpr double kCycle = 4 * kPi;
constexpr int kFrame = 33;  // ms

}  // namespace

Cursor::Cursor(QObject* parent) : QObject(parent) {
  timer_.setInterval(kFrame);
  connect(&timer_, &QTimer::timeout, this, &Cursor::tick);
}

void Cursor::set(double crank) {
  while (crank > kCycle / 2) crank -= kCycle;
  while (crank < -kCycle / 2) crank += kCycle;
  if (crank == crank_) return;
  crank_ = crank;
  Q_EMIT moved(crank_);
}

void Cursor::step(int degrees) {
  const double now = crank_ / kDegree;
  // Off a whole degree the first step goes to the next one that way.
  const double base = std::fabs(now - std::round(now)) < 1e-6 ? std::round(now)
                      : degrees > 0                           ? std::floor(now)
                                                              : std::ceil(now);
  set((base + degrees) * kDegree);
}

void Cursor::play(double from, double to, double speed) {
  from_ = from;
  to_ = to;
  speed_ = speed;
  since_.start();
  timer_.start();
  Q_EMIT playing_changed(true);
}

void Cursor::stop() {
  if (!playing()) return;
  timer_.stop();
  Q_EMIT playing_changed(false);
}

void Cursor::tick() {
  double next = crank_ + speed_ * static_cast<double>(since_.restart()) / 1000;
  if (next > to_ || next < from_) next = from_;
  set(next);
}

}  // namespace eyebrow::window
