// Lift readings from a CSV file: two columns, angle and lift. The rows may begin anywhere, rise or fall in angle, and
// pass the end of the degree wheel (359, 0, 1); begun off the base circle they must go all the way round.
#pragma once
#include <optional>
#include <string>

#include "eyebrow/engine.hpp"
#include "spec/context.hpp"

namespace eyebrow {

inline constexpr std::size_t kMostRows = 100000;  ///< a reading every 0.01 crank degrees has 72,000
inline constexpr std::size_t kLeastRows = 8;      ///< fewer say less than durations at five lifts
/// First and last reading must stand on the base circle. The smallest usual checking lift is 0.1 mm (0.004 in): a table
/// that starts there has lost its ramps already.
inline constexpr double kBaseCircleLift = 0.05;
/// A base circle that runs out reads a few hundredths of a mm either side of zero; more is an indicator not zeroed.
inline constexpr double kLowestLift = -0.1;
/// Where reading_error is not stated it is half the last digit of the lifts as written: that is what rounding alone
/// leaves open. No less than half a micrometre, as no bench reads finer; coarser than this it must be stated.
inline constexpr double kLeastReadingError = 0.0005, kMostErrorShown = 0.05;
inline constexpr double kLongestStep = 20;       ///< crank degrees between two readings off the base circle
inline constexpr double kLongestStepRatio = 10;  ///< times the median step

struct LiftTableFormat {
  double crank_per_degree = 1;               ///< crank degrees for one degree of the table: 2 for cam degrees
  bool about_centre = true;                  ///< else crank angles
  double lift_factor = 1;                    ///< mm for one unit of lift
  std::optional<double> reading_error = {};  ///< mm; else what the digits show
};

/// Reads and checks the table at `path`. Every fault goes to `context`, with the table's own lines; one about the file
/// as a whole stands at `where`. nullopt when there was any.
std::optional<LiftTable> read_lift_table(Context& context, const std::string& path, const Place& where,
                                         const LiftTableFormat& format);

}  // namespace eyebrow
