// The work behind the window, on threads of its own: of all edits only the newest is followed and told.
#pragma once
#include <QObject>
#include <atomic>
#include <condition_variable>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/quick.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow::window {

/// A text to look at.
struct Job {
  std::string text;
  std::string name;      ///< stands for the file in messages; tables are looked for beside it
  std::string cylinder;  ///< whose numbers count; empty = the worst one's, where cylinders are measured one by one
};

/// What is known at once: how the parts move and how near they come, sampled.
struct Followed {
  std::shared_ptr<const EngineFile> file;
  std::string cylinder;  ///< empty: the file's own numbers
  ReadyEngine ready;
  bool whole = true;  ///< false: bore and gasket are still those of before (ReadyEngine::moved)
  std::vector<Series> series;
};

/// What a check found, and what it was made of.
struct Checked {
  std::shared_ptr<const EngineFile> file;
  CylindersResult all;                        ///< one, or one a measured cylinder
  std::size_t shown = 0;                      ///< into all.each
  std::shared_ptr<const CheckResult> result;  ///< of that one
  std::vector<ReadyEngine> engines;           ///< beside all.each
  const ReadyEngine& ready() const { return engines[shown]; }
  void show(std::size_t which) {
    shown = which;
    result = std::make_shared<const CheckResult>(all.each[which]);
  }
};

class Checker : public QObject {
  Q_OBJECT

 public:
  explicit Checker(QObject* parent = nullptr);
  ~Checker() override;

  /// Drops whatever is at work.
  void check(Job job);
  /// Gives up what is at work; `cancelled` follows when something was.
  void cancel();
  bool busy() const { return busy_; }

 Q_SIGNALS:
  // All are of the newest job and come on the thread that this object lives in.
  void refused(const std::vector<eyebrow::Fault>& faults);
  void failed(const QString& message);  ///< the machine, not the input
  void followed(std::shared_ptr<const eyebrow::window::Followed> followed);
  void judged(const eyebrow::JudgedRows& rows);
  void progressed(double share);
  void checked(std::shared_ptr<const eyebrow::window::Checked> checked);
  void cancelled();
  void busy_changed(bool busy);

 private:
  /// What a job is when its engine is ready.
  struct Prepared {
    int number = 0;
    std::shared_ptr<const EngineFile> file;
    std::string cylinder;  ///< as Job
    MeasuredCylinder of;   ///< whose numbers are shown
    ReadyEngine ready;
    /// Empty: `ready` is of these numbers. Else it is of others with the same crown and valves, as bore and gasket are
    /// left to be made when the numbers rest, and these are the new ones' samples.
    std::vector<Series> moved;
  };
  /// A thread that works at the newest of what it is given.
  template <class Work>
  struct Mailbox {
    std::condition_variable wake;
    std::optional<Work> waiting;
  };

  void run_follower();
  void run_judge();
  Prepared follow(const Job& job, int number);
  void judge(const Prepared& prepared);
  std::optional<ReadyEngine> last_whole();
  void keep_whole(const ReadyEngine& ready);
  /// Tells what went wrong; nothing where the job was given up.
  template <class Work>
  bool told(int number, const Origins* origins, const Work& work);
  bool given_up(int number) const { return newest_ != number; }
  CheckOptions options_for(int number, double from, double share);
  /// Runs `tell` on the object's own thread, unless another job came since.
  template <class Tell>
  void post(int number, Tell tell);
  void end(int number);

  std::mutex mutex_;
  Mailbox<std::pair<Job, int>> jobs_;
  Mailbox<Prepared> prepared_;
  bool quit_ = false;
  std::atomic<int> newest_{0};
  bool busy_ = false;                 ///< of the object's own thread
  std::optional<ReadyEngine> whole_;  ///< the last engine that was made ready with all its solids
  // A check takes tenths of a second to notice that it is not wanted any more; the next edit must not wait for that.
  std::thread follower_, judge_;
};

}  // namespace eyebrow::window
