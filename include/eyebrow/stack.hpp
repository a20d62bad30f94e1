// A tolerance stack: what the least gaps become when parts are not as the file states them, but somewhere within their
// tolerances. Worst case, root of the sum of squares, and how gaps are spread over engines drawn at random.
#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "eyebrow/map.hpp"
#include "eyebrow/tolerance.hpp"

namespace eyebrow {

/// How a number with a tolerance is told.
struct StackNumber {
  std::string unit;    ///< "in", "deg"; empty: a plain number
  double value = NAN;  ///< as stated, in that unit
  double size = 1;     ///< of the unit, in the inner unit
};

/// What is drawn by itself: one tolerance, or all that share a name.
struct StackDriver {
  std::string label;                 ///< the key, or the shared name
  std::vector<std::size_t> members;  ///< into StackResult::tolerances
};

/// How much of a gap is one driver's.
struct StackPart {
  std::size_t driver = 0;  ///< into StackResult::drivers
  /// Of the variance, what goes when this driver stands still: the total effect (Jansen, Computer Physics
  /// Communications 117, 1999; from memory). They add up to 1 where the drivers' effects only add up, else to more.
  double share = 0;
  double up = NAN, down = NAN;  ///< change of the gap with this driver alone at its upper and its lower end, mm
};

/// The least that a gap comes to anywhere within the tolerances.
struct StackWorst {
  double value = NAN;      ///< mm, of an engine that was computed exactly; NaN = the gap is nowhere
  std::vector<double> by;  ///< where: how far each tolerance's number is from the file's, inner units
  bool holds = true;       ///< as MapCell::holds there
  bool touches = false;    ///< do valve and piston, or whatever the gap is between, touch there?
  double bound = NAN;      ///< nothing lower is left by what the surface was seen to be off
};

struct StackGap {
  MapGap gap;
  double nominal = NAN;  ///< by the file's own numbers, mm; NaN = there is none, and all that follows is empty
  StackWorst worst;
  double rss = NAN;  ///< nominal less the root of the sum of squares of what each driver alone takes at its worse end
  // Over the samples, mm:
  double p01 = NAN, p1 = NAN, p50 = NAN, p99 = NAN;  ///< a thousandth of all engines has less than p01, and so on
  double mean = NAN, deviation = NAN;
  std::size_t below = 0;                      ///< samples below what is asked
  double share = NAN, low = NAN, high = NAN;  ///< of engines below what is asked, and its 95 % interval
  std::vector<double> edges, counts;          ///< the distribution: rising edges, one count fewer
  /// Greatest and root mean square difference between the surface that samples are read from and engines that were
  /// drawn at random and computed exactly, mm.
  double residual = NAN, residual_rms = NAN;
  bool exact = false;  ///< there is no surface (the gap comes and goes): all is told from the checked engines alone
  std::vector<StackPart> parts;  ///< the greatest share first
};

/// Gaps that are asked for together. An engine is short where one of them is.
struct StackJoint {
  std::vector<std::size_t> gaps;              ///< into StackResult::gaps: those with a surface
  std::vector<double> room;                   ///< beside `gaps`: what a value may be off, mm
  std::vector<double> floor;                  ///< beside `gaps`: no value is below; -infinity: not known
  std::vector<std::vector<float>> values;     ///< beside `gaps`: one a sample, infinite where there is no engine
  std::size_t count = 0;                      ///< samples with an engine
  std::size_t below = 0;                      ///< of them, short
  double share = NAN, low = NAN, high = NAN;  ///< of engines that are short, and its 95 % interval
};

struct StackResult {
  std::string engine;
  LengthUnit units = LengthUnit::mm;
  std::vector<Tolerance> tolerances;
  std::vector<StackNumber> numbers;  ///< one a tolerance, filled by who knows the file; else inner units are told
  std::vector<StackDriver> drivers;
  std::vector<StackGap> gaps;  ///< in the order of map_gaps
  StackJoint joint;            ///< of StackOptions::joint
  std::size_t samples = 0;     ///< drawn; those without an engine are among them
  std::uint64_t seed = 1;
  std::size_t engines = 0;  ///< computed exactly
  std::size_t checked = 0;  ///< of them drawn at random, to see how far the surface is off
  std::size_t refused = 0;  ///< of `engines`, those that there cannot be
  std::size_t none = 0;     ///< of `samples`, those that there cannot be; looked for only where some were refused
  std::string trouble;      ///< why the first of those cannot be
  bool endless = false;     ///< some tolerance is normal without an end: samples lie beyond the worst case
  std::vector<std::string> changed;  ///< as Conditions::changed
  bool holds() const;                ///< does every gap, at its worst?
};

struct StackOptions {
  std::size_t samples = 100000;
  std::uint64_t seed = 1;
  std::vector<std::size_t> joint = {};  ///< gaps that are asked for together, into map_gaps; none = not told
};

/// The engine with each tolerance's number moved by so much (inner unit). Throws InputError where there is none. Asked
/// from several threads at once.
using EngineBy = std::function<Engine(const std::vector<double>& by)>;

/// Exact engines are computed at places chosen within the tolerances; samples are read from a surface through them,
/// whose error is measured and counted. The same bytes on any number of threads. Throws Interrupted.
StackResult stack(const Mapper& mapper, const std::vector<Tolerance>& tolerances, const EngineBy& engine_by,
                  const StackOptions& options, const CheckOptions& check = {});

}  // namespace eyebrow
