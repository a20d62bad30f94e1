// How far the drive of an overhead cam lets it fall behind. Derivations stand at the declarations.
#include <cmath>

#include "eyebrow/fault.hpp"
#include "eyebrow/timing.hpp"

namespace eyebrow {
namespace {

/// A cam turns once while the crank turns twice.
constexpr double kCrankOverCam = 2;

double pitch_diameter(const CamDrive& drive, const Cam& cam) {
  return drive.pulley_diameter > 0 ? drive.pulley_diameter : drive.pitch * cam.teeth / kPi;
}

}  // namespace

double wheel_turn(double travel, double pitch_diameter) {
  if (!(pitch_diameter > 0)) throw Error("a wheel that turns needs a pitch diameter");
  return 2 * travel / pitch_diameter;
}

double one_tooth(int teeth) {
  if (teeth <= 0) throw Error("a wheel that turns needs teeth");
  return kCrankOverCam * 2 * kPi / teeth;
}

double drive_retard(const Engine& engine, const Cam& cam) {
  if (!engine.drive || engine.drive->retimed) return 0;
  const CamDrive& drive = *engine.drive;
  double approach = engine.head.milled + drive.deck_cut + drive.gasket_when_timed - engine.gasket.thickness;
  if (engine.head.angle_milled) approach += engine.head.angle_milled->at_bore();
  return kCrankOverCam * wheel_turn(approach * std::cos(drive.run_angle), pitch_diameter(drive, cam));
}

}  // namespace eyebrow
