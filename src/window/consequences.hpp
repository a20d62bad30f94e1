// What would restore short gaps, and what each number does: seconds of work that nobody waits for.
#pragma once
#include <QObject>
#include <atomic>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "eyebrow/effects_report.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow::window {

class Consequences : public QObject {
  Q_OBJECT

 public:
  explicit Consequences(QObject* parent = nullptr) : QObject(parent) {}
  ~Consequences() override;

  /// An engine file that was read: its text, and the name that stands for it (tables are looked for beside that).
  struct Source {
    std::string text, name;
    std::shared_ptr<const EngineFile> file;
    std::string cylinder = {};  ///< the measured one whose numbers count; empty = the first, or the file's own
  };
  // What was at work is given up.
  void find_remedies(const Source& source);
  void find_influence(const Source& source);
  void give_up();
  bool busy() const { return busy_; }

 Q_SIGNALS:
  // On the thread that this object lives in, and only of what was asked for last.
  void progressed(double share);
  void remedies_found(const std::vector<eyebrow::GapRemedies>& remedies);
  void influence_found(const eyebrow::EffectsTold& told);
  void failed(const QString& why);

 private:
  /// Runs `tell` on the object's own thread, unless that work was given up.
  template <class Tell>
  void post(int number, Tell tell);
  template <class Work>
  void start(Work work);

  std::atomic<int> newest_{0};
  bool busy_ = false;                 ///< of the object's own thread
  std::vector<std::thread> workers_;  ///< all but the last have been given up and end by themselves
};

}  // namespace eyebrow::window
