// The crown's least distances over the cycle, found on a thread of their own: seconds of work that the picture waits
// for, and the window does not.
#pragma once
#include <QObject>
#include <atomic>
#include <memory>
#include <thread>
#include <vector>

#include "scene/nearest_gaps.hpp"

namespace eyebrow::window {

class LeastColors : public QObject {
  Q_OBJECT

 public:
  explicit LeastColors(QObject* parent = nullptr) : QObject(parent) {}
  ~LeastColors() override;

  /// Of this engine; what was at work is given up.
  void find(const scene::Shown& shown);
  void give_up();
  bool busy() const { return busy_; }

 Q_SIGNALS:
  // On the thread that this object lives in, and of the newest engine only.
  void progressed(double share);
  void found(std::shared_ptr<const eyebrow::scene::NearestGaps> least);

 private:
  /// Runs `tell` on the object's own thread, unless that work was given up.
  template <class Tell>
  void post(int number, Tell tell);

  std::atomic<int> newest_{0};
  bool busy_ = false;                 ///< of the object's own thread
  std::vector<std::thread> workers_;  ///< all but the last have been given up and end by themselves
};

}  // namespace eyebrow::window
