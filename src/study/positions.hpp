// Cam positions between a phaser's stops.
#pragma once
#include <optional>

#include "study/setup.hpp"

namespace eyebrow::study {

/// The valve's cam; never null in an engine that moves.
const Cam& cam_of(const Engine& engine, int valve);

/// What the stops of the cams let the lifts run earlier and later than as set: nothing where a cam has none.
Freedom between_stops(const Engine& engine);

/// That, and any lobe that has the same card: the lifts that a gap is judged over.
Freedom judged_lifts(const Engine& engine);

/// Has the valve's cam stops?
bool has_stops(const Engine& engine, int valve);

/// The advance within the stops at which the valve's lift at a crank angle is nearest to `lift`: of equal ones the
/// nearest to the one that is set.
double advance_at(const Setup& setup, int valve, double crank, double lift);

/// The engine with one valve's cam at another advance.
Engine advanced(const Engine& engine, int valve, double advance);

/// The engine with one cam moved from where it is set, its stops with it: crank radians, positive = earlier.
Engine cam_moved(const Engine& engine, const std::string& cam, double by);

/// The least gap over every crank angle and every position of the valve's cam, at the position where it is.
Minimum least_between_stops(const Setup& setup, int valve, GapKind kind);

}  // namespace eyebrow::study
