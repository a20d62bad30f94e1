// One function a cause: from the user's numbers to what it takes. `blank` has the vectors at their length, all zero.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"

namespace eyebrow::motion {

Allowance rod_stretch(const RodStretch& from, const Cylinder& cylinder, Allowance blank);
Allowance bearing_play(const BearingPlay& from, Allowance blank);
Allowance growth(const Growth& from, const Cylinder& cylinder, Allowance blank);
Allowance rock(const Rock& from, const Cylinder& cylinder, Allowance blank);
Allowance thin_gasket(const ThinGasket& from, const Gasket& gasket, Allowance blank);

Allowance guide_play(const GuidePlay& from, const Engine& engine, Role role, Allowance blank);
Allowance loft(const Loft& from, const Engine& engine, Role role, Allowance blank);
Allowance drive_slack(const DriveSlack& from, const Engine& engine, const std::string& cam, Allowance blank);
Allowance pump_up(const PumpUp& from, const Engine& engine, Allowance blank);
/// Never counted.
Allowance running_lash(const Engine& engine, Allowance blank);

/// Greatest lift at the valve, by the lobe's greatest and the rocker ratio.
double greatest_lift(const Engine& engine, const Valve& valve);

}  // namespace eyebrow::motion
