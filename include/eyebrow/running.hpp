// What running takes from the gaps of the cold engine at rest. Lengths in mm, angles in radians, masses in kg.
// Inputs are the user's own numbers ([running] of the engine file); each cause is given as its effect or computed.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace eyebrow {

struct Engine;

/// What every cause has.
struct Cause {
  bool use = true;     ///< false: shown, not counted
  std::string source;  ///< the user's own words on where the numbers come from
};

/// The rod's pull on overrun. Gas is no help at overlap TDC, so the whole pull is the inertia's.
struct RodStretch : Cause {
  std::optional<double> given;           ///< the stretch itself; none of the rest is then used
  double rpm = 0;                        ///< greatest that the engine sees, overrun included
  double piston_mass = 0;                ///< piston, pin, rings, locks
  std::optional<double> small_end_mass;  ///< of the rod, weighed with the rod level; or
  std::optional<double> rod_mass;        ///< of the whole rod
  double section = 0;                    ///< mm2, of the beam
  double modulus = 0;                    ///< N/mm2
  std::string material;                  ///< whose modulus it is; empty = the user gave the number
};

/// Diametral clearances.
struct BearingPlay : Cause {
  double main = 0, big_end = 0;
  double pin = 0;  ///< in the rod and in the piston, added
};

/// One part that grows with heat.
struct Warm {
  double warmer = 0;     ///< K over the bench
  double expansion = 0;  ///< 1/K
  std::string material;  ///< whose coefficient it is; empty = the user gave the number
};

struct Growth : Cause {
  std::optional<double> given;  ///< rod and piston over the block; none of the rest is then used
  double crank_warmer = 0;      ///< K over the bench; the throw grows with it, as steel
  Warm rod, piston, block;
};

/// Needs Cylinder::compression_height either way.
struct Rock : Cause {
  std::optional<double> angle;  ///< given, with `shift`; the rest is then not used
  double shift = 0;
  double skirt_clearance = 0;  ///< diametral
  double skirt_length = 0;
};

struct GuidePlay : Cause {
  std::optional<double> sideways;  ///< given, with `dip`; the rest is then not used
  double dip = 0;
  double play = 0;  ///< diametral
  double guide_length = 0;
  double overhang = 0;  ///< guide's lower end to the rim plane, valve closed
};

struct Loft : Cause {
  double late = 0;  ///< crank radians by which the valve comes back late
  double lift = 0;  ///< at the valve, over the lobe's
};

/// Of one cam's drive.
struct DriveSlack : Cause {
  double early = 0, late = 0;  ///< crank radians
};

struct PumpUp : Cause {
  std::optional<double> lift;  ///< given, at the valve
  double preload = 0;          ///< at the lifter; times the rocker ratio it is the lift
};

struct ThinGasket : Cause {
  double least = 0;  ///< thickness, of the range it is crushed to
};

struct Running {
  std::optional<RodStretch> rod_stretch;
  std::optional<BearingPlay> bearings;
  std::optional<Growth> growth;
  std::optional<Rock> rock;
  std::optional<GuidePlay> intake_guides, exhaust_guides;
  std::optional<Loft> intake_loft, exhaust_loft;
  std::map<std::string, DriveSlack> slack;  ///< by the cam's name: all cams, or none
  std::optional<PumpUp> pump_up;
  std::optional<ThinGasket> gasket;
};

/// What one cause takes from the gaps of a running engine. No effect is ever negative: nothing is credited.
struct Allowance {
  std::string name;      ///< "rod stretch"
  std::string source;    ///< "computed: ..." or "given", then the user's own words
  bool stated = true;    ///< false: the engine file does not say; nothing is counted, and a report must tell so
  bool on = true;        ///< false: shown, not counted
  double piston_up = 0;  ///< the piston stands so much higher
  double gasket = 0;     ///< less of Gasket::thickness: the head, and every valve, stands so much lower
  std::vector<double> early, late;  ///< per valve, crank radians: its lift may run anywhere from -early to +late
  std::vector<double> lift;         ///< per valve: extra lift, at the valve, along its axis; at any crank angle
  std::vector<double> sideways;     ///< per valve: the rim may stand off so far square to its axis, in any direction
  double rock = 0;                  ///< the piston may tilt so far about its pin (along y), both ways
  double rock_shift = 0;            ///< and stand off so far along x, both ways, at the same time
  double pin_below_crown = 0;       ///< for the rock: pin axis below the crown flat
  std::string note;                 ///< what is left out, not credited or counted as 0
};

/// One for each cause that can be stated, in a fixed order, stated or not; and one for the running lash, never counted,
/// whose note tells what it would give back. Empty without Engine::running. The vectors have one entry a valve.
/// Numbers must have been checked by the engine file's reader.
std::vector<Allowance> allowances(const Engine& engine);

}  // namespace eyebrow
