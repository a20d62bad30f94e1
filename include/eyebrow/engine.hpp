// The engine as plain numbers. Lengths in mm, angles in radians unless a field says otherwise.
// Frames: see design notes in DEVELOPERS.md. Block frame: origin where the bore axis crosses the block's deck face,
// +z toward the head, +y along the crankshaft toward the front, +x = y cross z.
#pragma once
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/fault.hpp"
#include "eyebrow/running.hpp"
#include "eyebrow/step_crown.hpp"
#include "eyebrow/step_valve.hpp"
#include "eyebrow/vec.hpp"

namespace eyebrow {

enum class LengthUnit { mm, inch };
enum class Role { intake, exhaust };
enum class Rotation { clockwise, counterclockwise };  ///< seen from the front of the engine

struct BoreNotch {
  std::string name;
  double x = 0, y = 0;  ///< axis of the notch in the block frame; the notch is a vertical cylinder
  double diameter = 0;
  double depth = 0;  ///< below the block's deck face
};

struct Cylinder {
  double bore = 0;
  double stroke = 0;      ///< twice the crank throw
  double rod_length = 0;  ///< centre to centre
  double pin_offset = 0;  ///< of the piston pin from the bore axis, positive toward the thrust side
  Rotation rotation = Rotation::clockwise;
  double deck_clearance = 0;  ///< crown flat below the block's deck face at TDC; negative = proud
  /// Crankshaft axis to the block's deck face, and pin axis to crown flat. Both known or neither: one of them and the
  /// deck clearance give the other.
  std::optional<double> block_deck_height, compression_height;
  std::vector<BoreNotch> notches;
};

struct Gasket {
  double thickness = 0;  ///< compressed
  double bore = 0;
};

/// The head's deck face cut at an angle since the valves were measured, by what came off at two lines across the head,
/// square to the face that was. Seen along those lines, the deeper side on the right:
///
///        head metal        : bore axis
///                          :               ___---| the new face
///                   ___----:---___---------      |
///       ___---------       :                     | deep
///       |shallow           :                     |
///       ------------------------------------------ the face that was: z = 0 where the valves were measured
///       |<-------------- width ----------------->|
///                          |<- bore_from_deep -->|
///
/// The head stands on the new face: it turns toward the deeper side by atan((deep - shallow) / width), about the line
/// in the new face that lies square to `toward` and crosses the bore axis. Every point of that line stays on its place
/// over the block and comes to z = 0; all valves turn with the head, so that their tops walk toward the deeper side.
/// Left out: dowels away from that line draw the head aside by 1/cos - 1 of their distance (half a degree, 50 mm: 2
/// um).
struct AngleMilled {
  double deep = 0, shallow = 0;  ///< taken off at the deeper and at the shallower line
  double width = 0;              ///< between the lines, along the face that was
  double bore_from_deep = 0;     ///< from the deeper line to the bore axis, along the face that was
  double toward = 0;             ///< azimuth of the deeper side (0 = +x, pi/2 = +y)

  bool operator==(const AngleMilled&) const = default;
  double slope() const { return (deep - shallow) / width; }
  /// Taken off at the bore axis.
  double at_bore() const { return deep - bore_from_deep * slope(); }
  /// A direction of the head, after the head was turned. Rotation about the level line square to `toward`.
  Vec3 turned(Vec3 before) const {
    const double cosine = 1 / std::hypot(1.0, slope()), sine = slope() * cosine;
    const Vec3 deeper{std::cos(toward), std::sin(toward), 0};
    const double along = dot(before, deeper);
    const Vec3 level = before - Vec3{0, 0, before.z} + (along * (cosine - 1) + before.z * sine) * deeper;
    return level + Vec3{0, 0, before.z * cosine - along * sine};
  }
};

struct Head {
  double milled = 0;  ///< taken off the head's deck face since the valves were measured, parallel to the face as it is
                      ///< now: in addition to `angle_milled`
  std::optional<AngleMilled> angle_milled = {};
  /// Of the chamber above the head's deck face as it is today, valves and plug in place, mm3; none: not stated.
  std::optional<double> chamber_volume = {};
};

/// Belt or chain from the crank to cams on the head, and what was different when they were timed: Head::milled counts
/// as taken off since. See drive_retard() in timing.hpp.
struct CamDrive {
  double pulley_diameter = 0;    ///< pitch diameter at the cam; 0 = from `pitch` and the cam's teeth
  double pitch = 0;              ///< of belt or chain, tooth to tooth; 0 = from `pulley_diameter`
  double run_angle = 0;          ///< of the taut run from the bore axis
  double deck_cut = 0;           ///< taken off the block's deck face since the cam was timed
  double gasket_when_timed = 0;  ///< compressed thickness of the head gasket when the cam was timed
  bool retimed = false;          ///< the cam was timed on the engine as it is now: nothing retards it
};

struct Dish {
  double diameter = 0;
  double depth = 0;          ///< of the flat floor below the crown flat
  double corner_radius = 0;  ///< between floor and wall
  double x = 0, y = 0;       ///< centre in the piston frame
};

enum class DomeShape { sphere, cone };

struct RoundDome {
  double height = 0;         ///< above the crown flat
  double base_diameter = 0;  ///< where it meets the crown flat
  DomeShape shape = DomeShape::sphere;
  double top_diameter = 0;  ///< of the flat top (cone only)
};

/// A plane that falls away from a roof's plateau and meets the crown flat in a line.
struct RoofPlane {
  double slope = 0;   ///< from the crown flat, 0 < slope < pi/2
  double toward = 0;  ///< azimuth it falls toward (0 = +x, pi/2 = +y)
  double meets = 0;   ///< distance from the bore axis to the line where it meets the crown flat
};

struct RoofDome {
  double plateau = 0;  ///< height of the plateau above the crown flat
  std::vector<RoofPlane> planes;
};

enum class DepthTo {
  deepest,       ///< the deepest real point, corner radius included
  sharp_edge,    ///< the low edge of the floor as if there were no corner radius
  floor_centre,  ///< where the pocket's axis meets the floor, measured square to the crown flat
};
enum class FloorShape { flat, valve_face };

struct Pocket {
  std::string name;
  double x = 0, y = 0;  ///< where its axis crosses the crown flat (piston frame)
  double tilt = 0;      ///< of its axis from the bore axis
  double lean = 0;      ///< azimuth that the axis leans toward, going up
  double diameter = 0;
  double depth = 0;  ///< below the crown flat, to the point that `depth_to` names
  DepthTo depth_to = DepthTo::deepest;
  double corner_radius = 0;  ///< between floor and wall; 0 = sharp
  double mouth_break = 0;    ///< leg of the 45 degree chamfer on the mouth edge: so far down the wall along the
                             ///< pocket's axis, and so far outward square to that axis; 0 = sharp
  FloorShape floor = FloorShape::flat;
};

struct Piston {
  double crown_diameter = 0;  ///< 0 = not stated, beside `step` only
  double top_chamfer = 0;     ///< 45 degree chamfer on the crown's outer edge, measured along the crown flat
  std::optional<Dish> dish;
  std::optional<RoundDome> round_dome;
  std::optional<RoofDome> roof_dome;
  std::optional<double> top_land_height;    ///< crown flat to the top ring groove
  std::optional<double> ring_groove_depth;  ///< radial
  std::optional<double> underside;          ///< crown flat down to the crown's underside
  std::vector<Pocket> pockets;
  std::optional<StepCrown> step;  ///< then the crown has none of dish, dome, roof, chamfer and pockets by numbers
};

/// Where a phaser stops, as advance. Crank radians, positive = earlier.
struct Stops {
  double latest = 0, earliest = 0;
};

struct Cam {
  std::string name;
  double advance = 0;               ///< crank radians, positive = earlier
  std::optional<Stops> stops = {};  ///< of its phaser; `advance` lies between
  int teeth = 0;                    ///< of its own pulley, sprocket or gear; 0 = not stated
};

enum class LiftAt { lobe, valve };

struct Duration {
  double lift = 0;      ///< checking lift
  double duration = 0;  ///< crank radians
  double late = 0;      ///< its middle after the lobe centre, crank radians; not zero where events are stated
  bool operator==(const Duration&) const = default;
};

/// Lift readings in rising order of angle, over one cycle at most (first and last a whole cycle apart are one reading).
/// They may start anywhere when they go all the way round, else on the base circle.
struct LiftTable {
  std::vector<double> angle;  ///< crank radians; from the lobe centre when `about_centre`, else crank angle as read
  std::vector<double> lift;   ///< as read: the base circle may stand a little off zero, or wander
  bool about_centre = true;   ///< false: angles are crank angles and the table places the lobe by itself
  double reading_error = 0;   ///< how far a reading may be from the lobe, either way; 0 = readings are exact
  std::optional<double> stated_centre;  ///< as Lobe::centre, beside crank angles: only compared with the table's own
  bool operator==(const LiftTable&) const = default;
};

/// Cam laws for design work; rise and fall alike, `law_duration` between the ramps, without them from closed to closed.
enum class CamLaw { harmonic, cycloidal, poly345, poly4567, modified_sine, modified_trapezoid };

/// Exactly one of `durations`, `table`, `law` describes the curve.
struct Lobe {
  std::string name;
  std::string cam;
  Role role = Role::intake;
  double centre = 0;  ///< crank radians after (intake) or before (exhaust) overlap TDC with the cam unmoved
  LiftAt measured = LiftAt::lobe;   ///< where the lifts below are measured
  double lift = 0;                  ///< greatest lift
  std::vector<Duration> durations;  ///< in falling order of duration
  std::optional<double> ramp;       ///< beside durations: crank radians from closed to the lowest checking lift
  std::optional<double> tdc_lift;   ///< beside durations: lift measured at overlap TDC
  double tdc_advance = 0;           ///< of the cam when that was measured, crank radians, positive = earlier
  std::optional<LiftTable> table;
  std::optional<CamLaw> law;
  double law_duration = 0;   ///< of the main lift between the ramps, crank radians
  double ramp_lift = 0;      ///< beside a law: lift at the end of a ramp of constant velocity; 0 = no ramps
  double ramp_duration = 0;  ///< of each ramp, crank radians: they come before and after the law_duration
};

enum class FaceShape { flat, dished, domed };

/// A row of a rocker's ratio against lift.
struct RatioAt {
  double lift = 0;   ///< at the lobe
  double ratio = 0;  ///< valve lift over lobe lift there: the whole way from closed, not the slope
  bool operator==(const RatioAt&) const = default;
};

struct Valve {
  std::string name;
  Role role = Role::intake;
  std::string lobe;
  int pocket = -1;  ///< index into Piston::pockets; -1 = runs over the plain crown
  double head_diameter = 0;
  double margin = 0;
  double seat_angle = 0;  ///< from the plane square to the stem
  double seat_width = 0;  ///< along the seat
  FaceShape face = FaceShape::flat;
  double face_depth = 0;       ///< dish depth or dome height from the rim plane
  double rim_radius = 0;       ///< between valve face and margin; 0 = sharp
  double underhead_angle = 0;  ///< from the plane square to the stem
  double stem_diameter = 0;
  double x = 0, y = 0;        ///< closed rim-plane centre, head frame, as measured
  double tilt = 0, lean = 0;  ///< stem's axis from the bore axis; azimuth that the stem leans toward
  double rim_height = 0;      ///< closed rim plane's centre above the head's deck face, as measured
  double sunk = 0;            ///< seat cut deeper since; moves the closed valve along its own axis into the head
  double rocker_ratio = 1;    ///< valve lift over lobe lift; beside a rocker_table, its ratio at the greatest lift
  std::vector<RatioAt> rocker_table;  ///< in rising order of lift, 2 rows at least; empty = rocker_ratio all the way
  double lash = 0;                    ///< measured at the valve
  /// Then its shape is not in the numbers, of which only head and stem diameter are stated, as readings of the real
  /// one.
  std::optional<StepValve> step = {};
};

struct AskedValve {
  double travel = 0, face = 0, radial = 0, closest = 0;
  double reach = 0;  ///< for the radial gap: how much further along its path a rim counts
};

struct Asked {
  std::map<Role, AskedValve> valve;
  std::map<Role, AskedValve> running;  ///< of the running engine, its allowances counted; empty = not asked
  double valve_to_valve = 0;
  double valve_to_bore = 0;
  double piston_to_head = 0;
  /// Of the running engine; 0 = must not touch.
  double running_valve_to_valve = 0, running_valve_to_bore = 0, running_piston_to_head = 0;
};

struct Engine {
  std::string name;
  LengthUnit units = LengthUnit::mm;  ///< the file's default, also the default of the output
  Cylinder cylinder;
  Gasket gasket;
  Head head;
  Piston piston;
  std::vector<Cam> cams;
  std::optional<CamDrive> drive;  ///< none: cams that milling does not move, as in a pushrod engine
  std::vector<Lobe> lobes;
  std::vector<Valve> valves;
  bool running_lash = false;  ///< false: the check runs at zero lash, as on the bench
  Asked asked;
  std::optional<Running> running;  ///< none: the check stays with the bench
};

/// Where a number or word came from, and how well it is known.
struct Origin {
  std::string file;
  int line = 0, column = 0;
  std::string unit = {};  ///< as given, or the file's default
  /// The number as read, in the inner unit of its key (mm, radians, ...), sides counted ("5 ATDC" of an event that is
  /// told BTDC is -5 degrees); NaN = a word, a flag or a list.
  double value = NAN;
  /// Of the reading, a half-width in the same unit: what was measured lies anywhere within value -+ error. 0 = none is
  /// stated, which does not say that there is none.
  double error = 0;
  /// Dotted key that the number is written under, where `like` takes it over from there: a change there changes it
  /// here. Empty: it is written under its own key.
  std::string taken_from = {};
  /// The word or flag as read; empty = a number or a list.
  std::string word = {};
};

/// Dotted key ("valve.intake.head_diameter") to its place.
using Origins = std::map<std::string, Origin>;

/// Gives each fault that has a key and no place yet the place of its key; failing that, of the nearest key around it.
std::vector<Fault> place(std::vector<Fault> faults, const Origins& origins);

/// The lobe that moves the valve; null where the engine has none of that name.
inline const Lobe* lobe_of(const Engine& engine, const Valve& valve) {
  for (const Lobe& lobe : engine.lobes)
    if (lobe.name == valve.lobe) return &lobe;
  return nullptr;
}

/// Whose pocket (Face::pocket) the valve at that index runs over; -1 = none. Of a crown from STEP each valve has its
/// own.
inline int own_pocket(const Engine& engine, std::size_t valve) {
  return engine.piston.step ? static_cast<int>(valve) : engine.valves.at(valve).pocket;
}

/// Unit vector along the stem, away from the combustion chamber, in today's head frame: an angle-milled head leans it.
inline Vec3 up_axis(const Engine& engine, const Valve& valve) {
  const Vec3 measured = tilted_axis(valve.tilt, valve.lean);
  return engine.head.angle_milled ? engine.head.angle_milled->turned(measured) : measured;
}

/// Closed rim-plane centre in today's head frame: milling lowers it, milling at an angle turns it with the head as
/// well, a sunk seat draws it along its axis.
inline Vec3 closed_place(const Engine& engine, const Valve& valve) {
  Vec3 seated{valve.x, valve.y, valve.rim_height};
  if (const auto& angled = engine.head.angle_milled) seated = angled->turned(seated - Vec3{0, 0, angled->at_bore()});
  return seated - Vec3{0, 0, engine.head.milled} + valve.sunk * up_axis(engine, valve);
}

const char* to_string(Role role);
const char* to_string(LengthUnit unit);

}  // namespace eyebrow
