// What follows an edit at once: an engine kept ready while its numbers change. The check that is reported is run_check.
#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "eyebrow/check.hpp"
#include "eyebrow/motion.hpp"

namespace eyebrow {

struct JudgedRows {
  std::vector<AskedRow> rows;
  Verdict verdict = Verdict::holds;
};

/// One engine with its solids, its motion and all that the gap kernel has made ready of them. Immutable: any number of
/// threads may ask at once. Cheap to copy.
class ReadyEngine {
 public:
  /// Throws as build_parts and run_check.
  ReadyEngine(Engine engine, const Origins& origins);
  /// ReadyEngine(engine, origins), for less: solids and lift curves that are the same are taken over.
  ReadyEngine changed(Engine engine, const Origins& origins) const;

  /// The same, at once, where crown and valves are the same (same_crown, same_valves), else nothing: bore and gasket
  /// stay as they were made, so only series() and gaps() may be asked of it. Throws as run_check.
  std::optional<ReadyEngine> moved(Engine engine) const;

  std::shared_ptr<const Engine> engine() const;
  std::shared_ptr<const Parts> parts() const;
  const Motion& motion() const;

  /// The gaps of one valve at any crank angle, without bounds.
  PoseGaps gaps(int valve, double crank) const;
  /// One a valve, at these crank angles; the drop table is left empty. Throws Interrupted.
  std::vector<Series> series(const std::vector<double>& cranks, const CheckOptions& options = {}) const;
  /// The rows that judged() will have, nothing found yet.
  std::vector<AskedRow> rows() const;
  /// The asked rows and the verdict as run_check has them, by the same searches (AskedRow::middle is not told). Throws
  /// Interrupted.
  JudgedRows judged(const CheckOptions& options = {}) const;

 private:
  struct Made;
  explicit ReadyEngine(std::shared_ptr<const Made> made) : made_(std::move(made)) {}
  std::shared_ptr<const Made> made_;
};

/// The crank angles that an edit is followed at: close together around overlap TDC, where everything is tight.
std::vector<double> quick_cranks();

}  // namespace eyebrow
