#include "window/consequences.hpp"

#include <QMetaObject>
#include <utility>

#include "eyebrow/changed_file.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

MeasuredCylinder measured_of(const Consequences::Source& source) {
  const std::vector<MeasuredCylinder> cylinders = source.file->checked();
  for (const MeasuredCylinder& each : cylinders)
    if (each.name == source.cylinder) return each;
  return cylinders.front();
}

}  // namespace

Consequences::~Consequences() {
  give_up();
  for (std::thread& worker : workers_) worker.join();
}

void Consequences::give_up() {
  ++newest_;
  busy_ = false;
}

template <class Tell>
void Consequences::post(int number, Tell tell) {
  QMetaObject::invokeMethod(
      this,
      [this, number, tell = std::move(tell)] {
        if (number == newest_) tell();
      },
      Qt::QueuedConnection);
}

/// `work` is given the options to work under, and returns what is then to be told.
template <class Work>
void Consequences::start(Work work) {
  give_up();
  busy_ = true;
  const int number = ++newest_;
  workers_.emplace_back([this, number, work = std::move(work)] {
    CheckOptions options;
    options.stop = [this, number] { return number != newest_; };
    options.progress = [this, number](double share) { post(number, [this, share] { Q_EMIT progressed(share); }); };
    try {
      post(number, [this, tell = work(options)] {
        busy_ = false;
        tell();
      });
    } catch (const Interrupted&) {
      // Whoever gave it up knows.
    } catch (const std::exception& error) {
      post(number, [this, why = shown(error.what())] {
        busy_ = false;
        Q_EMIT failed(why);
      });
    }
  });
}

void Consequences::find_remedies(const Source& source) {
  start([this, source](const CheckOptions& options) {
    const auto found = std::make_shared<const std::vector<GapRemedies>>(
        remedies_of(EngineText(source.text, source.name), measured_of(source), {}, options));
    return [this, found] { Q_EMIT remedies_found(*found); };
  });
}

void Consequences::find_influence(const Source& source) {
  start([this, source](const CheckOptions& options) {
    const auto found = std::make_shared<const EffectsTold>(
        effects_of(EngineText(source.text, source.name), measured_of(source), {}, {false, true}, options));
    return [this, found] { Q_EMIT influence_found(*found); };
  });
}

}  // namespace eyebrow::window
