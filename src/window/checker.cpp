#include "window/checker.hpp"

#include <QMetaObject>

#include "window/text.hpp"

namespace eyebrow::window {
namespace {

std::vector<MeasuredCylinder> cylinders_of(const EngineFile& file) {
  if (!file.cylinders.empty()) return file.cylinders;
  return {{"", file.engine, file.origins}};
}

const MeasuredCylinder& wanted_of(const std::vector<MeasuredCylinder>& cylinders, const std::string& name) {
  for (const MeasuredCylinder& each : cylinders)
    if (each.name == name) return each;
  return cylinders.front();
}

}  // namespace

Checker::Checker(QObject* parent) : QObject(parent), thread_([this] { run(); }) {}

Checker::~Checker() {
  {
    const std::lock_guard lock(mutex_);
    quit_ = true;
    ++newest_;
  }
  wake_.notify_one();
  thread_.join();
}

void Checker::check(Job job) {
  {
    const std::lock_guard lock(mutex_);
    waiting_ = std::move(job);
    ++newest_;
  }
  wake_.notify_one();
  if (!busy_) Q_EMIT busy_changed(busy_ = true);
}

void Checker::cancel() {
  {
    const std::lock_guard lock(mutex_);
    waiting_.reset();
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

void Checker::run() {
  for (;;) {
    Job job;
    int number = 0;
    {
      std::unique_lock lock(mutex_);
      wake_.wait(lock, [this] { return quit_ || waiting_; });
      if (quit_) return;
      job = std::move(*waiting_);
      waiting_.reset();
      number = newest_;
    }
    try {
      work(job, number);
    } catch (const Interrupted&) {
      // Another job came, or nobody wants it any more: whoever did that has told so.
    } catch (const InputError& error) {
      post(number, [this, faults = error.faults()] { Q_EMIT refused(faults); });
    } catch (const std::bad_alloc&) {
      post(number, [this] { Q_EMIT failed(tr("out of memory")); });
    } catch (const std::exception& error) {
      post(number, [this, message = shown(error.what())] { Q_EMIT failed(message); });
    }
    end(number);
  }
}

void Checker::work(const Job& job, int number) {
  const auto file = std::make_shared<const EngineFile>(EngineText(job.text, job.name).read());
  const std::vector<MeasuredCylinder> cylinders = cylinders_of(*file);
  try {
    follow(file, wanted_of(cylinders, job.cylinder), number);
    check_all(file, cylinders, job.cylinder, number);
  } catch (const InputError& error) {
    throw InputError(place(error.faults(), file->origins));
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

void Checker::follow(const std::shared_ptr<const EngineFile>& file, const MeasuredCylinder& cylinder, int number) {
  CheckOptions quick;
  quick.stop = [this, number] { return given_up(number); };
  const auto tell = [&](const ReadyEngine& ready, bool whole, std::vector<Series> series) {
    auto followed_now =
        std::make_shared<const Followed>(Followed{file, cylinder.name, ready, whole, std::move(series)});
    post(number, [this, followed_now] { Q_EMIT followed(followed_now); });
  };
  std::vector<Series> series;
  const bool same_solids = base_ && same_parts(cylinder.engine, *base_->engine());
  if (base_ && !same_solids)
    if (const auto moved = base_->moved(cylinder.engine)) {
      series = moved->series(quick_cranks(), quick);
      tell(*moved, false, series);
    }
  base_ = base_ ? base_->changed(cylinder.engine, cylinder.origins) : ReadyEngine(cylinder.engine, cylinder.origins);
  if (series.empty()) series = base_->series(quick_cranks(), quick);
  tell(*base_, true, series);
  // With allowances for running it takes as long as the check itself.
  if (cylinder.engine.running || file->cylinders.size() > 1) return;
  post(number, [this, rows = base_->judged(quick)] { Q_EMIT judged(rows); });
}

void Checker::check_all(const std::shared_ptr<const EngineFile>& file, const std::vector<MeasuredCylinder>& cylinders,
                        const std::string& wanted, int number) {
  CylindersResult all;
  std::vector<ReadyEngine> ready;
  for (std::size_t i = 0; i < cylinders.size(); ++i) {
    const MeasuredCylinder& cylinder = cylinders[i];
    base_ = base_->changed(cylinder.engine, cylinder.origins);
    ready.push_back(*base_);
    const double share = 1.0 / static_cast<double>(cylinders.size());
    CheckOptions options = options_for(number, share * static_cast<double>(i), share);
    options.drop_table = true;  // of the CSV and JSON that may be exported
    all.each.push_back(run_check(cylinder.engine, *base_->parts(), options));
    CheckResult& result = all.each.back();
    result.conditions.cylinder = cylinder.name;
    result.warnings = place(std::move(result.warnings), cylinder.origins);
    result.warnings.insert(result.warnings.begin(), file->warnings.begin(), file->warnings.end());
  }
  all.worst = worst_of(all.each);
  std::size_t which = all.worst;
  for (std::size_t i = 0; i < cylinders.size(); ++i)
    if (!wanted.empty() && cylinders[i].name == wanted) which = i;
  auto found = std::make_shared<Checked>(Checked{file, std::move(all), 0, nullptr, std::move(ready)});
  found->show(which);
  post(number, [this, found] { Q_EMIT checked(found); });
}

}  // namespace eyebrow::window
