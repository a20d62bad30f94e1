#include "solid/step_crown.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepBndLib.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <Bnd_Box.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <cmath>

#include <fmt/format.h>

#include "eyebrow/step_faces.hpp"
#include "solid/faults.hpp"
#include "solid/mesh.hpp"
#include "solid/occt.hpp"
#include "solid/solids.hpp"
#include "solid/step_groups.hpp"
#include "solid/step_in.hpp"
#include "solid/step_place.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

/// Faces of other programs meet as well as those programs' tolerance: a mesh that is within a few micrometres is
/// asked for where the usual one cannot be had. What it is off is in the gaps' intervals.
constexpr double kCoarser = 2;
constexpr double kCoarsest = 0.01;  // mm
/// Of what was mended: edges may be a hundredth of a millimetre off their faces.
constexpr double kCoarsestMended = 0.04;
/// Between the mesh's volume and the exact one: a mesh within 0.01 mm all over a crown is off by less.
constexpr double kMeshVolume = 1e-3;

/// What is thinner than this is not cut off: of an underside where it is stated to be, as well as the file has it.
constexpr double kLeastSlice = 0.01;

double mesh_volume(const Crown& mesh) {
  double sixfold = 0;
  for (const Triangle& t : mesh.triangles) {
    const auto corner = [&](std::size_t k) { return mesh.points[static_cast<std::size_t>(t.vertex[k])]; };
    sixfold += dot(corner(0), cross(corner(1), corner(2)));
  }
  return sixfold / 6;
}

/// What lies further below the crown flat than the stated underside is left out: skirt, ribs, pin bosses.
TopoDS_Shape cut_off(const TopoDS_Shape& solid, const Engine& engine, const Origins& origins) {
  const double underside = *engine.piston.underside;
  Bnd_Box box;
  BRepBndLib::AddOptimal(solid, box, false, false);
  const gp_Pnt low = box.CornerMin(), high = box.CornerMax();
  if (low.Z() > -underside - kLeastSlice) return solid;
  const auto refuse = [&](const std::string& why) -> InputError {
    return InputError({fault_at(origins, "piston.underside",
                                fmt::format("{}: the crown could not be cut off {} below its flat: {}; state another "
                                            "underside, or cut it in the program that it is from",
                                            engine.piston.step->file, length_text(underside, engine.units), why))});
  };
  const TopoDS_Shape above = BRepPrimAPI_MakeBox(gp_Pnt(low.X() - kBeyond, low.Y() - kBeyond, -underside),
                                                 gp_Pnt(high.X() + kBeyond, high.Y() + kBeyond, high.Z() + kBeyond))
                                 .Shape();
  BRepAlgoAPI_Common common(solid, above);
  if (!common.IsDone() || common.Shape().IsNull()) throw refuse("the modeller failed");
  std::vector<TopoDS_Shape> pieces;
  for (TopExp_Explorer each(common.Shape(), TopAbs_SOLID); each.More(); each.Next()) pieces.push_back(each.Current());
  if (pieces.size() != 1) throw refuse(fmt::format("{} pieces of metal are left", pieces.size()));
  const double left = volume_of(pieces[0]);
  if (!BRepCheck_Analyzer(pieces[0]).IsValid() || !(left > 0) || left >= volume_of(solid))
    throw refuse("what is left is no sound solid");
  return pieces[0];
}

Crown mesh_of(const StepCrownSolid& made, double moved, const Engine& engine, const Origins& origins, double deflection,
              std::vector<Fault>& warnings) {
  const std::string& file = engine.piston.step->file;
  for (double within = deflection;; within *= kCoarser) {
    try {
      Crown mesh = mesh_solid(made.solid.solid, made.faces, within, "crown", moved > 0);
      const double volume = mesh_volume(mesh);
      if (!(std::fabs(volume - made.solid.volume) < kMeshVolume * made.solid.volume))
        throw InputError({fault_at(origins, "piston.step.file",
                                   fmt::format("{}: its faces do not enclose the solid's volume: {:.0f} mm3 instead of "
                                               "{:.0f}",
                                               file, volume, made.solid.volume))});
      if (within > deflection && moved == 0)
        warnings.push_back(fault_at(
            origins, "piston.step.file",
            fmt::format("{}: its faces meet no better than some micrometres: gaps are within {:.3g} mm instead of "
                        "{:.3g} mm",
                        file, mesh.error, deflection)));
      return mesh;
    } catch (const MachineError& error) {
      if (within * kCoarser > std::max(moved > 0 ? kCoarsestMended : kCoarsest, deflection))
        throw InputError({fault_at(origins, "piston.step.file", fmt::format("{}: {}", file, error.what()))});
    }
  }
}

}  // namespace

StepCrownSolid make_step_crown(const Engine& engine, const Origins& origins, double deflection,
                               std::vector<Fault>& warnings) {
  const StepCrown& step = *engine.piston.step;
  try {
    const StepSource source{"piston.step", "the crown",
                            step.file,     *step.text,
                            step.solid,    [&](const TopoDS_Shape& solid) { return fits_bore(solid, engine); },
                            false,         step.mend};
    StepSolid read = read_step(source, origins, warnings);
    StepCrownSolid made;
    made.solid.solid = in_frame(read.solid, piston_frame(read.solid, engine, origins, warnings));
    if (engine.piston.underside) {
      const TopoDS_Shape whole = made.solid.solid;
      made.solid.solid = cut_off(whole, engine, origins);
      if (!made.solid.solid.IsSame(whole)) read.face_names.clear();  // the faces are others now
    }
    made.solid.volume = volume_of(made.solid.solid);
    made.file_names = std::move(read.face_names);
    made.faces = step_faces(made.solid.solid, made.file_names, engine, origins, warnings);
    // Faces that meet as well as any do are known by their surfaces, though they were not joined in the file.
    const double moved = read.moved > kSameSurface ? read.moved : 0;
    made.mesh = mesh_of(made, moved, engine, origins, deflection, warnings);
    made.mesh.volume = made.solid.volume;
    // A face may end so far from the edge, which is so far from the surface at most.
    made.mesh.error = std::max(made.mesh.error, 2 * moved);
    return made;
  } catch (const Standard_Failure& failure) {
    throw InputError({fault_at(
        origins, "piston.step.file",
        fmt::format("{}: the modeller cannot make a crown of it: {}", step.file, failure.GetMessageString()))});
  }
}

std::vector<std::string> names_in_step(const Parts& parts) {
  return parts.solids ? parts.solids->file_names : std::vector<std::string>{};
}

}  // namespace eyebrow
