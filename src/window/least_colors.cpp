#include "window/least_colors.hpp"

#include <QMetaObject>
#include <utility>

#include "eyebrow/fault.hpp"

namespace eyebrow::window {

LeastColors::~LeastColors() {
  give_up();
  for (std::thread& worker : workers_) worker.join();
}

void LeastColors::give_up() {
  ++newest_;
  busy_ = false;
}

template <class Tell>
void LeastColors::post(int number, Tell tell) {
  QMetaObject::invokeMethod(
      this,
      [this, number, tell = std::move(tell)] {
        if (number == newest_) tell();
      },
      Qt::QueuedConnection);
}

void LeastColors::find(const scene::Shown& shown) {
  give_up();
  busy_ = true;
  const int number = ++newest_;
  workers_.emplace_back([this, shown, number] {
    std::shared_ptr<const scene::NearestGaps> least;
    try {
      least = scene::nearest_over_cycle(
          shown, [&](double share) { post(number, [this, share] { Q_EMIT progressed(share); }); },
          [&] { return number != newest_; });
    } catch (const std::exception&) {
      // What is wrong with an engine is the check's to tell; it stays uncoloured here.
    }
    post(number, [this, least] {
      busy_ = false;
      Q_EMIT found(least);
    });
  });
}

}  // namespace eyebrow::window
