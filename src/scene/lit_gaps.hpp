// The gaps that are lit at a crank angle.
#pragma once
#include "scene/scene.hpp"
#include "study/gaps_now.hpp"

namespace eyebrow::scene {

/// Of each kind that the look lights one, where there is any, with its label.
std::vector<LitGap> lit_gaps(const study::Setup& setup, const CheckResult* check, const study::GapsNow& gaps,
                             double crank, const Look& look);

/// LitGap::on_rim. All in the block frame.
Vec3 on_rim_now(const study::Setup& setup, int valve, double crank, Vec3 on_valve);

/// "radial 0.53 of 0.80 mm  SHORT": a gap is rounded down and what is asked up, as in the report. Nothing is said of
/// what is asked where that is 0.
std::string gap_words(LitKind kind, double value, double asked, bool is_short, const Format& format);

/// What is asked of a gap of this valve (-1: none has part in it).
double asked_for(const study::Setup& setup, int valve, LitKind kind);
bool is_short_of(double value, double asked);

}  // namespace eyebrow::scene
