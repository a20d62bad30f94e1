// Valve to bore wall, its notches and the gasket: a function of lift alone.
#pragma once
#include "study/setup.hpp"

namespace eyebrow::study {

/// The least over the valve's own lift, told at the crank angle that has it on overlap TDC's side of the peak; so is
/// its span.
Minimum bore_minimum(const Setup& setup, int valve);

/// How far the closed rim reaches beyond the bore's radius, seen along the bore axis; negative = it stays inside.
double overhang(const Setup& setup, int valve);

}  // namespace eyebrow::study
