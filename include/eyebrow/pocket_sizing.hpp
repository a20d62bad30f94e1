// The least pocket for each valve that leaves every asked gap.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "eyebrow/stack.hpp"

namespace eyebrow {

/// What is wanted of the pockets beside the asked gaps. Lengths in mm.
struct PocketWish {
  enum class Goal {
    least_volume,  ///< remove as little metal as the gaps allow
    thickest,      ///< leave the thinnest metal that is known, the crown's edge too, as thick as can be
  };
  Goal goal = Goal::least_volume;
  std::vector<double> corners;    ///< of the cutters to choose from; empty = as in the file, 0 for a new pocket
  std::vector<double> diameters;  ///< of the cutters to choose from; empty = any
  std::optional<double> tilt;     ///< radians, of every pocket; none = parallel to its valve
  bool hold_place = false;        ///< x and y as the file has them; the valve's own for a new pocket
  /// The pockets that are there, deeper and wider by the least: place, tilt and corner as they are. Those that do are
  /// left alone.
  bool existing = false;
  double over_groove = 0, over_underside = 0, between = 0;  ///< least metal that must be left; 0 = nothing asked
};

/// The tolerances within which every asked gap of the valves to the piston has to be there.
struct PocketTolerances {
  std::vector<Tolerance> tolerances;
  EngineBy engine_by;           ///< as for stack(), of the engine as it is given: with its own pockets
  std::optional<double> share;  ///< of engines that leave all these gaps, together; none = all engines, the worst case
  std::uint64_t seed = 1;
};

/// One dimension of a pocket and what keeps it from being less.
struct Bound {
  std::string by;  ///< "intake.radial", "metal over the ring groove", "the cutters given", "as it is in the file"
};

/// What keeps a pocket from standing further over one way.
struct PlaceBound {
  char axis = 'x';  ///< or 'y'
  int way = 1;      ///< or -1
  std::string by;   ///< what falls short, as Bound; empty: nothing, as far as was looked
  double at = NAN;  ///< mm: so far over it does; or so far was looked
};

/// What a pocket does not leave.
struct Miss {
  std::string what;                 ///< name of an asked gap, "metal to the ring groove"
  double asked = NAN, found = NAN;  ///< of metal, mm; of a gap its row has them
};

struct SizedPocket {
  int valve = -1, number = -1;   ///< into Engine::valves and Piston::pockets of the sized engine
  std::optional<Pocket> before;  ///< none: the valve had no pocket
  Pocket pocket;
  bool needed = true;  ///< false: the plain crown leaves every gap, and what the file has stays
  bool changed = false;
  std::vector<Miss> misses;       ///< asked gaps of the valve, and metal, that it does not leave; empty = it fits
  Bound depth, diameter;          ///< what gives way when that dimension alone is a step less
  std::vector<PlaceBound> place;  ///< x less, x more, y less, y more; empty where the pocket is as it was
  double volume = 0;              ///< removed by this pocket alone, mm3, by quadrature
};

/// What less of an asked gap would save.
struct AskedCost {
  MapGap gap;
  double less = 0;     ///< mm
  double volume = 0;   ///< mm3, by the closed-form model of the pockets
  double ratio = NAN;  ///< of compression; NaN where that is not known
};

/// One gap of a valve to the piston within the tolerances, lengths in mm.
struct GapWithin {
  MapGap gap;
  double kept = 0;       ///< beyond what is asked, by the file's own numbers
  double nominal = NAN;  ///< by the file's own numbers and the sized pockets
  double least = NAN;    ///< of the worst case; or what the asked share of engines has at least, of this gap alone
  bool holds = false;    ///< in the worst case; of a share: `least` is what is asked
  std::vector<std::pair<std::string, double>> by;  ///< what takes most, and how much it takes alone, the most first
};

/// What the tolerances make of the sized pockets.
struct PocketsWithin {
  std::optional<double> share;  ///< as PocketTolerances
  std::vector<GapWithin> gaps;
  double found = NAN, low = NAN, high = NAN;  ///< share of engines that leave all gaps, and its 95 % interval
  std::size_t samples = 0;                    ///< that the share was counted from
  std::uint64_t seed = 1;
  std::size_t engines = 0, checked = 0;  ///< as StackResult, of the sized engine
  double off = 0;                        ///< the greatest residual of these gaps, mm
  bool endless = false;                  ///< as StackResult
  std::size_t tolerances = 0;            ///< stated, above 0
  int rounds = 0;                        ///< that the pockets were sized in
  bool holds = false;                    ///< it was shown
  std::string why;                       ///< where it was not
};

struct PocketResult {
  std::string engine_name;
  LengthUnit units = LengthUnit::mm;
  Engine engine;  ///< with the pockets
  PocketWish wish;
  std::vector<SizedPocket> pockets;
  std::vector<AskedRow> asked;  ///< of the sized engine, as a check judges it
  Verdict verdict = Verdict::holds;
  std::vector<MetalLeft> left_before, left;
  double volume_before = 0, volume = 0;  ///< of crown metal, mm3, exact solids
  std::optional<Compression> compression_before, compression;
  std::vector<AskedCost> costs;
  std::vector<std::string> changed;         ///< as Conditions::changed
  std::map<std::string, double> tolerance;  ///< of keys that the file states one for, mm either way; told, not counted
  double step = 0;                          ///< every dimension is a multiple of this, mm
  std::optional<PocketsWithin> within;      ///< where tolerances were to count
  /// Every asked gap of the valves to the piston and every wish holds; within the tolerances, where they count.
  bool fits() const;
};

/// The wish is sound: 0 <= corners, diameters above 0. Throws InputError, also where a wish asks for metal that the
/// engine file does not let know; Interrupted.
PocketResult size_pockets(const Engine& engine, const PocketWish& wish, const CheckOptions& options = {});

/// The same, so that the gaps are there within the tolerances. A pocket has the tolerances that the file states of it;
/// a new one has none. What the worst case and the share are is told by stack(). Throws also as that.
PocketResult size_pockets(const Engine& engine, const PocketWish& wish, const PocketTolerances& within,
                          const CheckOptions& options = {});

}  // namespace eyebrow
