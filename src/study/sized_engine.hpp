// An engine whose pockets are being sized, and what exact searches say of one valve in it.
#pragma once
#include <string>
#include <vector>

#include "eyebrow/pocket_sizing.hpp"
#include "study/judge.hpp"
#include "study/setup.hpp"

namespace eyebrow::study {

struct SizedEngine {
  Engine engine;
  Parts parts;
  Setup setup;
  SizedEngine(Engine of, const Setup& like, double deflection);
  SizedEngine(const SizedEngine&) = delete;
};

/// What is kept of each gap of the valves to the piston beyond what is asked, mm.
struct RoomKept {
  std::vector<KindValues> bench, running;  ///< one a valve
  explicit RoomKept(std::size_t valves = 0);
  double& at(std::size_t valve, std::size_t kind, bool of_running) {
    return (of_running ? running : bench)[valve][kind];
  }
  double at(std::size_t valve, std::size_t kind, bool of_running) const {
    return (of_running ? running : bench)[valve][kind];
  }
};

/// The least margin of each kind, at rest or running; infinite where nothing is short of anything.
struct PocketMargins {
  double travel = INFINITY, face = INFINITY, radial = INFINITY, closest = INFINITY;
};

/// All that is asked of the valve to the piston, as a check judges it with so much more asked.
std::vector<AskedRow> valve_rows(const SizedEngine& sized, int valve, const RoomKept& kept);
/// all_hold(valve_rows()), for less.
bool leaves_all(const SizedEngine& sized, int valve, const RoomKept& kept);

bool all_hold(const std::vector<AskedRow>& rows);
PocketMargins margins_of(const std::vector<AskedRow>& rows);
/// The name of the row that is shortest; empty where all hold.
std::string gives_way(const std::vector<AskedRow>& rows);

/// By how much metal that is asked for is missing round one pocket, mm; not above 0 = it is there.
struct MetalMissing {
  MetalLeft::To to;
  std::string what;  ///< "metal to the ring groove"
  double asked = 0, by = 0;
};
std::vector<MetalMissing> metal_missing(const SizedEngine& sized, const std::string& pocket, const PocketWish& wish);

/// The least metal round one pocket, of what is known; 0 where it is open.
double thinnest_metal(const SizedEngine& sized, const std::string& pocket);

}  // namespace eyebrow::study
