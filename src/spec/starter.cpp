#include "eyebrow/spec.hpp"

namespace eyebrow {
namespace {

// Invented numbers that hold every asked gap, so that the first run shows a whole report.
constexpr const char* kStarter =
    R"toml(# An engine file for eyebrow. Every number below is invented: put your own in their place, one at a time.
# It runs as it is:  eyebrow check THIS_FILE
#
# A plain number is in the default unit stated in `units`; any other is written with its unit, in quotes, as in
# "1.04 mm". Angles are degrees. Lines that start with # are remarks; keys behind a # are optional, shown with an
# example.
#
# Letters such as A: or BH: mark the dimension on the drawings that come with the program: models/dimensions.svg (A to
# AK) and models/valve_dimensions.svg (AL to BH). The README says how each is usually taken wrong.
#
# Directions: stand behind the engine and look toward its front: +x is to the right, +y runs along the crankshaft to the
# front, +z along the bore toward the head. A valve's x and y count from where the bore's axis meets the head's deck
# face, a pocket's from the bore's axis on the crown flat. If the stems lean toward +x, the pockets do too.
#
# This check is an aid. Parts bend and heat, and every reading has its error: confirm the gaps on the assembled engine
# with clay or a dial indicator, and where the maker of a part states a figure, that figure rules.

name  = "starter, two-valve wedge (invented)"
units = "in"                # or "mm"

[cylinder]
bore           = 4.030      # A: bore gauge, near the top
stroke         = 3.480      # B: dial indicator on the piston, highest to lowest
rod_length     = 6.000      # C: centre to centre, inside distance of the two eyes plus half of each eye
pin_offset     = 0          # D: of the piston pin from the bore's axis, positive toward the thrust side
rotation       = "clockwise" # or "counterclockwise", seen from the front
deck_clearance = 0          # E: crown flat below the block's deck at TDC, depth gauge on the deck, over the pin's axis
                            # so that rocking cancels; negative = the piston stands proud
# block_deck_height  = 9.040  # F: crankshaft axis to deck face; with the next it may stand instead of deck_clearance
# compression_height = 1.300  # G: pin axis to crown flat; with all three they must agree

# [cylinder.notch.intake]   # a notch in the bore's top edge that clears a valve: an upright cylinder
# x = 0.100                 # K: its axis
# y = 0.855                 # K
# diameter = 2.400          # L
# depth = 0.250             # M: below the block's deck

[gasket]
thickness = 0.041           # H: compressed; measure a used one of the same kind beside the fire ring
bore      = 4.100           # J: inside diameter, fitted

[head]
milled = 0                  # BD: taken off the head's face since the valves' heights below were measured
# chamber_volume = "64 cm3"   # of the chamber by burette, the head as it is today: the check then tells the compression

[piston]
crown_diameter    = 4.000   # N: across the top land, micrometer
top_land_height   = 0.300   # P: crown flat to the upper side of the top ring groove
ring_groove_depth = 0.180   # R: radial, groove bottom to land
underside         = 0.420   # S: crown flat down to the underside of the crown, total height less depth inside
# top_chamfer     = 0.030   # T: on the crown's outer edge

# [piston.dish]             # a round dish
# diameter = 2.500          # U: of its wall
# depth = 0.120             # V: crown flat to its floor
# corner_radius = 0.100     # W: between floor and wall
# x = 0                     # X: its centre from the bore's axis
# y = 0                     # X
# [piston.dome]             # a round dome; shape "sphere", or "cone" (which has a top_diameter)
# shape = "sphere"
# height = 0.200            # Y: crown flat to its top
# base_diameter = 3.500     # Z: where it meets the crown flat
# top_diameter = 2.000      # AA: flat top of a cone
# [piston.roof]             # a roof: a plateau and planes that fall from it to the crown flat
# plateau = 0.160           # AB: its height; each plane: AC its slope, AD toward, AE where it meets the crown flat
# planes = [ { slope = 15, toward = 0, meets = 1.3 }, { slope = 15, toward = 180, meets = 1.3 } ]

# [piston.step]             # or the crown from a STEP file, in place of dish, dome, roof and of all pockets below
# file = "crown.step"       # (more in the README)

# Pockets (valve reliefs). A pocket is the hole that a round cutter leaves whose axis is tilted like the valve's.
[pocket.intake]
x = -0.155                  # AF: where the cutter's axis crosses the crown flat
y = +0.861                  # AF
tilt = 23                   # BE: of its axis from the bore's; protractor on the pocket's floor against the crown flat
lean = 0                    # AG: direction that the axis leans toward, going up: 0 = +x, 90 = +y (front)
# tilt_xz = 23              # these two may stand instead of tilt and lean: the tilt in the x-z plane (positive =
# tilt_yz = 0               # leans toward +x) and in the y-z plane (positive = leans toward +y)
diameter = 2.140            # AH: of the cutter; or arc_chord and arc_height, where only part of the circle is there:
# arc_chord  = 1.900        # AJ: a straight line across the arc, and
# arc_height = 0.578        # AK: from the middle of that line to the arc
depth = 0.145               # BF: below the crown flat
depth_to = "deepest"        # what a depth gauge finds; or "sharp edge" (as drawn, no corner radius), or "floor centre"
corner_radius = 0.030       # BG: between floor and wall, radius gauge; 0 = sharp
# mouth_break = 0.020       # BH: chamfer of the upper edge: so far down the wall, and as far outward from the axis
# floor = "valve face"      # where the floor is shaped like the valve's face; else it is flat

[pocket.exhaust]
x = -0.130
y = -1.051
tilt = 23
lean = 0
diameter = 1.730
depth = 0.165
corner_radius = 0.030

[cam]                       # one camshaft; with two write [cam.intake] and [cam.exhaust], and cam = "..." in each lobe
advance = 0                 # crank degrees from the centres below, positive = earlier
# separation = 107          # cam degrees between the lobe centres; stands instead of the two `centre` below (with
                            # advance = 3 it would say the same as they do)

[lobe.intake]
centre   = 104              # crank degrees after TDC: the middle between equal lifts on both flanks near the peak
measured = "lobe"           # where the lifts below are measured: "lobe" or "valve"
lift     = 0.430            # greatest
durations = [               # crank degrees at 1 to 5 checking lifts: cam card, or indicator and degree wheel
  { at = 0.020, duration = 287.7 }, { at = 0.050, duration = 266.0 }, { at = 0.100, duration = 236.1 },
  { at = 0.200, duration = 182.0 }, { at = 0.300, duration = 125.8 } ]
# A checking lift taken at the other end of the rocker says so: { at = 0.080, measured = "valve", duration = 266.0 },
# and the greatest lift likewise:
# lift_measured = "valve"
# Cards with opening and closing (instead of durations or beside them; `centre` may then be left out):
# events = [ { at = 0.050, opens = "29 BTDC", closes = "57 ABDC" } ]
# lift_at_tdc = 0.134             # with the indicator where `measured` says: the one reading that tells most, and
# tdc_advance = 0                 # the cam's advance when it was taken
# Instead of durations, readings in a file of two columns, angle and lift, beside this one:
# table = "intake_lobe.csv"
# table_degrees = "cam"           # or "crank"
# table_angles  = "from centre"   # or "crank angle" (`centre` is then only compared with the table's own)
# lift_unit     = "in"            # when it is not the default unit
# reading_error = 0.0005          # how far a reading may be off; half of the last digit shown when not stated
# Or, for design work, a law: "harmonic", "cycloidal", "3-4-5", "4-5-6-7", "modified sine", "modified trapezoid"
# law = "3-4-5"
# law_duration = 300              # crank degrees from closed to closed; with ramps, between them
# ramp_lift = 0.012               # at the end of a ramp of constant velocity,
# ramp_duration = 25              # crank degrees, before and after

[lobe.exhaust]
centre   = 110              # crank degrees before TDC
measured = "lobe"
lift     = 0.420
durations = [
  { at = 0.020, duration = 295.9 }, { at = 0.050, duration = 274.0 }, { at = 0.100, duration = 243.6 },
  { at = 0.200, duration = 188.0 }, { at = 0.300, duration = 128.9 } ]

# Valves. Each finds its lobe by its role and its pocket by its name; `role`, `lobe` and `pocket` state them otherwise
# (pocket = "none": it runs over the plain crown). like = "intake" takes all that a valve does not state from another.
[valve.intake]
head_diameter = 2.020       # AL: micrometer
margin        = 0.055       # AM: the cylinder between seat and valve face, at the rim
seat_angle    = 45          # AN: from the plane square to the stem
seat_width    = 0.182       # AP: along the seat, as ground on the valve
# face = "dished"           # combustion side: "flat", "dished" or "domed", with
# face_depth = 0.060        # AR: the dish's depth or dome's height from the rim plane
# rim_radius = 0.010        # AS: where the edge between face and margin is rounded
# underhead_angle = 20      # AT: of the underside, from the plane square to the stem; 20 unless stated, far from any
                            # piston
stem_diameter = 0.3415      # AU
x = +0.100                  # AV: centre of the closed valve's rim plane (the face side of the margin)
y = +0.855                  # AV
tilt = 23                   # AX: of the stem from the bore's axis (or, as for a pocket, tilt_xz AY and tilt_yz AZ)
lean = 0                    # AW: direction that the stem leans toward, going up
flush_lift = 0.180          # BB: the better reading of height, the lift at which the rim's lowest point comes level
                            # with the head's face; indicator on the retainer, straightedge across the face
# rim_height = 0.560        # BA, or: centre of the rim plane above the head's face; with both they must agree
# sunk = 0.010              # BC: seat cut deeper since that was measured
rocker_ratio = 1.6          # valve lift over lobe lift; 1 = direct; or, where it changes with the lobe's lift:
# rocker_table = [ { lift = 0.050, ratio = 1.55 }, { lift = 0.400, ratio = 1.61 } ]
lash = 0.018                # free play at the valve

[valve.exhaust]
head_diameter = 1.600
margin        = 0.065
seat_angle    = 45
seat_width    = 0.144
stem_diameter = 0.3415
x = +0.100
y = -1.045
tilt = 23
lean = 0
flush_lift = 0.205
rocker_ratio = 1.6
lash = 0.018

[check]
lash = "zero"               # as on the bench, all play taken up; or "running"

# What running takes, shown beside the gaps at rest. Each table is one cause; state those you know.
# [running.rod_stretch]
# rpm         = 7000        # the most it ever sees, overrun included
# piston_mass = "650 g"     # piston, pin, rings, locks
# rod_mass    = "640 g"     # the whole rod
# section     = "270 mm2"   # of its beam, where that is least
# material    = "steel"
# [running.bearings]        # diametral clearances
# main = 0.0025
# big_end = 0.0025
# pin = 0.0010
# [running.gasket]
# least = 0.038             # of what the maker says it crushes to
# [running.guides.intake]
# play = 0.0018             # guide's bore less stem
# guide_length = 1.900
# overhang = 1.600          # guide's lower end to the rim plane, valve closed
# [running.chain]
# late = 1.5                # crank degrees of slack
# More in the README: growth with heat, piston rock, loft, lifters that pump up.

# Measured cylinder by cylinder: one list for each key, as many items as names.
# [each_cylinder]
# names = ["1", "2"]
# "cylinder.deck_clearance" = [0.000, 0.004]

# The gaps that you ask for. There is no default: these are yours to answer for. Shops differ, and the maker of the
# parts rules. Aluminium rods grow: common practice is 0.020 to 0.030 in more on each of travel and piston to head.
[asked]
valve_to_valve = 0.030      # at the closest
valve_to_bore  = 0.030
piston_to_head = 0.040      # about 0.040 in with steel rods

[asked.intake]
travel = 0.080              # to contact, along the valve's axis; 0.065 in is a common street figure, and shops go
                            # from 0.050 (the loosest view) by 0.060 (race springs) to 0.080
radial = 0.050              # rim to pocket wall
# face    = 0.080           # square to the crown's surface; as travel unless stated
# closest = 0.050           # in any direction; as radial unless stated
# reach   = 0.080           # how much further down its path a rim counts for radial; as travel unless stated

[asked.exhaust]
travel = 0.125              # the careful view; 0.100 in is usual, and shops go from 0.050 by 0.060 (race springs)
radial = 0.050
)toml";

}  // namespace

std::string starter_file() {
  return kStarter;
}

}  // namespace eyebrow
