// The least pocket for each valve that leaves every asked gap.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/check.hpp"

namespace eyebrow {

/// What is wanted of the pockets beside the asked gaps. Lengths in mm.
struct PocketWish {
  enum class Goal {
    least_volume,  ///< remove as little metal as the gaps allow
    thickest,      ///< leave the thinnest place of the metal that is known as thick as can be
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

/// One dimension of a pocket and what keeps it from being less.
struct Bound {
  std::string by;  ///< "intake.radial", "metal over the ring groove", "the cutters given", "as it is in the file"
};

struct SizedPocket {
  int valve = -1, number = -1;   ///< into Engine::valves and Piston::pockets of the sized engine
  std::optional<Pocket> before;  ///< none: the valve had no pocket
  Pocket pocket;
  bool needed = true;  ///< false: the plain crown leaves every gap, and what the file has stays
  bool changed = false;
  std::vector<std::string> misses;  ///< asked gaps of the valve, and metal, that it does not leave; empty = it fits
  Bound depth, diameter;            ///< what gives way when that dimension alone is a step less
  double volume = 0;                ///< removed by this pocket alone, mm3, by quadrature
};

/// What less of an asked gap would save.
struct AskedCost {
  MapGap gap;
  double less = 0;     ///< mm
  double volume = 0;   ///< mm3, by the closed-form model of the pockets
  double ratio = NAN;  ///< of compression; NaN where that is not known
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
  /// Every asked gap of the valves to the piston and every wish holds.
  bool fits() const;
};

/// The wish is sound: 0 <= corners, diameters above 0. Throws InputError, also where a wish asks for metal that the
/// engine file does not let know; Interrupted.
PocketResult size_pockets(const Engine& engine, const PocketWish& wish, const CheckOptions& options = {});

}  // namespace eyebrow
