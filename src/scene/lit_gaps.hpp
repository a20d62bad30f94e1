// The gaps that are lit at a crank angle.
#pragma once
#include "scene/scene.hpp"
#include "study/setup.hpp"

namespace eyebrow::scene {

/// All four gaps of a valve at a crank angle, as a check asks for them.
PoseGaps gaps_at(const study::Setup& setup, int valve, double crank);

/// The check's least of a gap where it is at this crank angle and lift; null elsewhere, and without a check.
const Minimum* least_here(const study::Setup& setup, const CheckResult* check, int valve, GapKind kind, double crank);

/// Of each kind that the look lights one, where there is any, with its label. `gaps`: of each valve.
std::vector<LitGap> lit_gaps(const study::Setup& setup, const CheckResult* check, const std::vector<PoseGaps>& gaps,
                             double crank, const Look& look);

/// LitGap::on_rim. All in the block frame.
Vec3 on_rim_now(const study::Setup& setup, int valve, double crank, Vec3 on_valve);

/// "radial 0.53 mm": a gap is rounded down, as in the report.
std::string gap_words(GapKind kind, double value, const Format& format);

}  // namespace eyebrow::scene
