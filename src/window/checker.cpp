#include "window/checker.hpp"

#include <QMetaObject>
#include <chrono>
#include <utility>

#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr std::chrono::milliseconds kRest{120};

const MeasuredCylinder& wanted_of(const std::vector<MeasuredCylinder>& cylinders, const std::string& name) {
  for (const MeasuredCylinder& each : cylinders)
    if (each.name == name) return each;
  return cylinders.front();
}

}  // namespace

Checker::Checker(QObject* parent)
    : QObject(parent), follower_([this] { run_follower(); }), judge_([this] { run_judge(); }) {}

Checker::~Checker() {
  {
    const std::lock_guard lock(mutex_);
    quit_ = true;
    ++newest_;
  }
  jobs_.wake.notify_one();
  prepared_.wake.notify_one();
  follower_.join();
  judge_.join();
}

void Checker::check(Job job) {
  {
    const std::lock_guard lock(mutex_);
    jobs_.waiting = {std::move(job), ++newest_};
  }
  jobs_.wake.notify_one();
  prepared_.wake.notify_one();
  if (!busy_) Q_EMIT busy_changed(busy_ = true);
}

void Checker::cancel() {
  {
    const std::lock_guard lock(mutex_);
    jobs_.waiting.reset();
    prepared_.waiting.reset();
    ++newest_;
  }
  if (!busy_) return;
  Q_EMIT busy_changed(busy_ = false);
  Q_EMIT cancelled();
}

template <class Tell>
void Checker::post(int number, Tell tell) {
  QMetaObject::invokeMethod(
      this,
      [this, number, tell = std::move(tell)] {
        if (!given_up(number)) tell();
      },
      Qt::QueuedConnection);
}

void Checker::end(int number) {
  post(number, [this] {
    if (busy_) Q_EMIT busy_changed(busy_ = false);
  });
}

template <class Work>
bool Checker::told(int number, const Origins* origins, const Work& work) {
  try {
    work();
    return true;
  } catch (const Interrupted&) {
    // Another job came, or nobody wants it any more: whoever did that has told so.
  } catch (const InputError& error) {
    auto faults = origins ? place(error.faults(), *origins) : error.faults();
    post(number, [this, faults = std::move(faults)] { Q_EMIT refused(faults); });
  } catch (const std::bad_alloc&) {
    post(number, [this] { Q_EMIT failed(tr("out of memory")); });
  } catch (const std::exception& error) {
    post(number, [this, message = shown(error.what())] { Q_EMIT failed(message); });
  }
  end(number);
  return false;
}

void Checker::run_follower() {
  for (;;) {
    std::unique_lock lock(mutex_);
    jobs_.wake.wait(lock, [this] { return quit_ || jobs_.waiting; });
    if (quit_) return;
    const auto [job, number] = *std::exchange(jobs_.waiting, std::nullopt);
    lock.unlock();
    std::optional<Prepared> ready;
    if (!told(number, nullptr, [&] { ready = follow(job, number); })) continue;
    lock.lock();
    prepared_.waiting = std::move(ready);
    lock.unlock();
    prepared_.wake.notify_one();
  }
}

void Checker::run_judge() {
  for (;;) {
    std::unique_lock lock(mutex_);
    prepared_.wake.wait(lock, [this] { return quit_ || prepared_.waiting; });
    if (quit_) return;
    const Prepared prepared = *std::exchange(prepared_.waiting, std::nullopt);
    // Numbers that are still being stepped through are only followed: a check would take their processors.
    prepared_.wake.wait_for(lock, kRest, [&] { return quit_ || given_up(prepared.number); });
    lock.unlock();
    if (told(prepared.number, &prepared.file->origins, [&] { judge(prepared); })) end(prepared.number);
  }
}

CheckOptions Checker::options_for(int number, double from, double share) {
  CheckOptions options;
  options.stop = [this, number] { return given_up(number); };
  options.progress = [this, number, from, share](double done) {
    post(number, [this, all = from + share * done] { Q_EMIT progressed(all); });
  };
  return options;
}

Checker::Prepared Checker::follow(const Job& job, int number) {
  const auto file = std::make_shared<const EngineFile>(EngineText(job.text, job.name).read());
  const std::vector<MeasuredCylinder> cylinders = file->checked();
  const MeasuredCylinder& cylinder = wanted_of(cylinders, job.cylinder);
  CheckOptions quick;
  quick.stop = [this, number] { return given_up(number); };
  const auto tell = [&](const ReadyEngine& ready, bool whole, const std::vector<Series>& series) {
    auto now = std::make_shared<const Followed>(Followed{file, cylinder.name, ready, whole, series});
    post(number, [this, now] { Q_EMIT followed(now); });
  };
  std::optional<ReadyEngine> base = last_whole();
  try {
    if (base && !same_parts(cylinder.engine, *base->engine()))
      if (const auto moved = base->moved(cylinder.engine)) {
        std::vector<Series> series = moved->series(quick_cranks(), quick);
        tell(*moved, false, series);
        return {number, file, job.cylinder, cylinder, *base, std::move(series)};
      }
    base = base ? base->changed(cylinder.engine, cylinder.origins) : ReadyEngine(cylinder.engine, cylinder.origins);
    keep_whole(*base);
    tell(*base, true, base->series(quick_cranks(), quick));
  } catch (const InputError& error) {
    throw InputError(place(error.faults(), file->origins));
  }
  return {number, file, job.cylinder, cylinder, *base, {}};
}

std::optional<ReadyEngine> Checker::last_whole() {
  const std::lock_guard lock(mutex_);
  return whole_;
}

void Checker::keep_whole(const ReadyEngine& ready) {
  const std::lock_guard lock(mutex_);
  whole_ = ready;
}

void Checker::judge(const Prepared& prepared) {
  const int number = prepared.number;
  const EngineFile& file = *prepared.file;
  const std::vector<MeasuredCylinder> cylinders = file.checked();
  ReadyEngine ready = prepared.ready;
  if (!prepared.moved.empty()) {
    ready = ready.changed(prepared.of.engine, prepared.of.origins);
    keep_whole(ready);
    auto now = std::make_shared<const Followed>(Followed{prepared.file, prepared.of.name, ready, true, prepared.moved});
    post(number, [this, now] { Q_EMIT followed(now); });
  }
  // With allowances for running it takes as long as the check itself.
  if (cylinders.size() == 1 && !file.engine.running) {
    CheckOptions options;
    options.stop = [this, number] { return given_up(number); };
    post(number, [this, rows = ready.judged(options)] { Q_EMIT judged(rows); });
  }
  CylindersResult all;
  std::vector<ReadyEngine> engines;
  for (std::size_t i = 0; i < cylinders.size(); ++i) {
    const MeasuredCylinder& cylinder = cylinders[i];
    engines.push_back((engines.empty() ? ready : engines.back()).changed(cylinder.engine, cylinder.origins));
    const double share = 1.0 / static_cast<double>(cylinders.size());
    CheckOptions options = options_for(number, share * static_cast<double>(i), share);
    options.drop_table = true;  // of the CSV and JSON that may be exported
    all.each.push_back(run_check(cylinder.engine, *engines.back().parts(), options));
    CheckResult& result = all.each.back();
    result.conditions.cylinder = cylinder.name;
    result.warnings = place(std::move(result.warnings), cylinder.origins);
    result.warnings.insert(result.warnings.begin(), file.warnings.begin(), file.warnings.end());
  }
  all.worst = worst_of(all.each);
  std::size_t which = all.worst;
  for (std::size_t i = 0; i < cylinders.size(); ++i)
    if (!prepared.cylinder.empty() && cylinders[i].name == prepared.cylinder) which = i;
  auto found = std::make_shared<Checked>(Checked{prepared.file, std::move(all), 0, nullptr, std::move(engines)});
  found->show(which);
  post(number, [this, found] { Q_EMIT checked(found); });
}

}  // namespace eyebrow::window
