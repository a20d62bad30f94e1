// Sizes the pockets of one engine: the closed-form model looks, exact searches correct it and take the last steps.
#pragma once
#include <map>
#include <memory>
#include <utility>
#include <vector>

#include "study/pocket_search.hpp"
#include "study/sized_engine.hpp"
#include "study/tasks.hpp"

namespace eyebrow::study {

class PocketSizer {
 public:
  /// `engine` has to outlive it. Throws as size_pockets.
  PocketSizer(const Engine& engine, const PocketWish& wish);

  /// Every pocket, with so much kept of each gap beyond what is asked; after the first time from where it ended.
  void size(const RoomKept& kept, const CheckOptions& options);
  /// With the pockets as they are sized.
  const Engine& engine() const { return engine_; }
  /// Is all there that was to be kept, by the file's own numbers?
  bool keeps_all() const;
  /// What binds them, and all that is told of them.
  PocketResult told(const CheckOptions& options);

 private:
  using Numbers = std::pair<long, long>;  // diameter and depth, in steps
  /// The best pocket of one corner radius.
  struct Choice {
    Pocket pocket;
    PocketShape shape;
    PocketLimits limits;
    double cost = INFINITY;
  };

  void begin(const CheckOptions& options);

  double on_step(double mm) const;
  double value(long steps) const;
  long steps(double mm, bool up) const;
  const Valve& valve_of(const SizedPocket& one) const { return given_.valves[static_cast<std::size_t>(one.valve)]; }
  bool keeps_shape(const SizedPocket& one) const { return wish_.existing && one.before; }
  /// What is there need not be on a step.
  Numbers least_numbers(const SizedPocket& one) const;
  Pocket at(Pocket pocket, Numbers numbers) const;

  Pocket template_of(const SizedPocket& one, double corner) const;
  PocketLimits limits_of(const SizedPocket& one, const Pocket& pocket, const Setup& setup) const;
  Pocket told_numbers(Pocket pocket, const PocketModel& model, const PocketShape& shape, bool place) const;
  PocketShape start_shape(const SizedPocket& one, const PocketModel& model) const;
  double floor_of(const Pocket& pocket, const Valve& valve) const;

  Engine with(const SizedPocket& one, const Pocket& pocket) const;
  std::unique_ptr<SizedEngine> made(const SizedPocket& one, const Pocket& pocket);
  std::vector<AskedRow> rows(const SizedEngine& sized, const SizedPocket& one) const {
    return valve_rows(sized, one.valve, kept_);
  }
  /// The metal that is asked for round the pocket and not there.
  std::vector<MetalMissing> metal_short(const SizedEngine& sized, const SizedPocket& one) const;

  void start();
  void size(SizedPocket& one);
  void choose(const SizedPocket& one, double corner, PocketWish::Goal goal, Choice& choice);
  void walk(SizedPocket& one);
  bool holds(const SizedPocket& one, Numbers numbers);
  void take(SizedPocket& one);
  void settle();

  void bind_sizes(SizedPocket& one);
  void bind_places();
  std::string breaks(const SizedPocket& one, const Pocket& pocket);
  void add_costs(PocketResult& result, const SizedPocket& one, const PocketModel& model) const;
  double void_of(const Crown& crown) const;

  const Engine& given_;
  PocketWish wish_;
  double unit_, step_, radius_;
  Parts given_parts_;
  Setup before_;
  Engine blank_;  ///< without pockets
  SizedEngine plain_;
  std::vector<SizedPocket> pockets_;
  RoomKept kept_;
  Engine engine_;                      ///< as far as it is sized
  std::unique_ptr<SizedEngine> base_;  ///< of it
  std::map<int, std::vector<Choice>> choices_;
  std::map<int, std::size_t> chosen_;
  CheckOptions options_;
  std::unique_ptr<Pacer> pacer_;
};

}  // namespace eyebrow::study
