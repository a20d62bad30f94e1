// What the gaps would be with the cam's pulley fitted one tooth out: no finding about the engine, a slip to feel for.
#pragma once
#include <optional>

#include "eyebrow/check.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

/// Least travel of a valve with its cam a tooth early and a tooth late, everything else as set; nothing where the cam's
/// teeth are not stated. Positions between a phaser's stops are counted from there.
std::optional<ToothOut> tooth_out(const Setup& setup, int valve);

}  // namespace eyebrow::study
