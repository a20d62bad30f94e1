// Of the running engine: valve to valve, valve to bore, piston to head. mm.
#pragma once
#include <vector>

#include "study/pairs.hpp"

namespace eyebrow::study {

/// Least over every crank angle and all lifts that the allowances, the cams' stops and the lobes' cards leave to both
/// valves, less what the rims of both may stand off aside. Never more than `bench`. What is found is what no gap falls
/// below.
double running_pair(const Setup& setup, const std::vector<Allowance>& allowances, const ValvePair& pair, double bench);

/// Least over every lift up to the greatest and what the allowances add to it, less what the rim may stand off aside.
double running_bore(const Setup& setup, const std::vector<Allowance>& allowances, int valve, double bench);

/// At rest: deck and gasket only.
double piston_to_head(const Engine& engine);

/// Less what lifts the piston, thins the gasket, and what the crown's edge rises by as the piston leans about its pin.
double running_head(const Engine& engine, const std::vector<Allowance>& allowances, double bench);

}  // namespace eyebrow::study
