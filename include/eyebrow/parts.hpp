// The solids of one engine, ready for the gap kernel.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "eyebrow/crown.hpp"
#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/profile.hpp"

namespace eyebrow {

struct Solids;  // the exact solids; known to src/solid only

struct Parts {
  Crown crown;                    ///< piston frame
  Crown bore;                     ///< bore wall, notches and gasket ring; block frame
  std::vector<Profile> profiles;  ///< one a valve
  std::shared_ptr<const Solids> solids;
  std::vector<Fault> warnings;
};

/// Builds every solid and checks each boolean. `deflection`: greatest distance of mesh and surface, mm.
/// Throws InputError when the numbers give no valid solid, MachineError when the modeller fails.
inline constexpr double kDeflection = 0.0005;
Parts build_parts(const Engine& engine, const Origins& origins, double deflection = kDeflection);

/// May a check of the one engine use the parts that build_parts made of the other? True where every number that shapes
/// crown, valves, bore or gasket is the same, down to its last bit, and so are the names and the unit that messages
/// use. Where the parts stand and how they move is not compared. Nor is the deck clearance, of which parts have only
/// how far down the block is drawn: well below the lowest place that a valve can be.
bool same_parts(const Engine& one, const Engine& other);

/// The same of the crown (whose floors may be shaped like valves), of block and gasket, and of the valves alone.
bool same_crown(const Engine& one, const Engine& other);
bool same_bore(const Engine& one, const Engine& other);
bool same_valves(const Engine& one, const Engine& other);

/// build_parts(engine, origins), for less: the parts that are the same in `before`, of which `built` was made, are
/// taken from there; `deflection` is of the others.
Parts rebuild_parts(const Engine& engine, const Origins& origins, const Engine& before, const Parts& built,
                    double deflection = kDeflection);

/// Where the moving parts are: height of the crown flat in the head frame, one lift a valve.
struct Placing {
  double height = 0;
  std::vector<double> lifts;
};

/// A straight line to be seen beside the solids: where a gap is.
struct NamedLine {
  std::string name;
  Vec3 from, to;  ///< block frame
};

/// Writes crown, valves, bore and gasket at one placing as STEP (AP214), block frame, mm, whole or not at all: named
/// parts of one assembly, the faces of crown and valves named and the crown's coloured by group. `lines`: as curves;
/// one of no length is left out.
void export_step(const Engine& engine, const Parts& parts, const Placing& placing, const std::string& path,
                 const std::vector<NamedLine>& lines = {});

/// The metal that a valve and the crown have in common.
struct Overlap {
  double volume = 0;           ///< mm3
  double volume_error = 0;     ///< by how much it may be off: see overlap_of
  Vec3 centre{NAN, NAN, NAN};  ///< centroid, block frame; NaN where the overlap is too small to be placed
  std::string doubt;           ///< why the volume is in doubt; empty = it is not
};

/// At one placing. The modeller's volume, believed only beside an independent quadrature over the crown's mesh;
/// `volume_error` is the quadrature's own error and what the two differ by. Where they differ by more than that error,
/// the larger is told and `doubt` says so. Without solids, the quadrature alone. The centroid is the quadrature's.
Overlap overlap_of(const Engine& engine, const Parts& parts, const Placing& placing, int valve);

}  // namespace eyebrow
