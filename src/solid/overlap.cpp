#include <BRepAlgoAPI_Common.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Trsf.hxx>
#include <optional>

#include <fmt/format.h>

#include "eyebrow/parts.hpp"
#include "solid/occt.hpp"
#include "solid/overlap_estimate.hpp"
#include "solid/solids.hpp"
#include "solid/tolerances.hpp"

namespace eyebrow {
namespace {

// Where the valve's seam is put, from its high side, until modeller and estimate agree.
constexpr double kFewTurns[] = {0, 50 * kDegree, -70 * kDegree};

/// Volume of the common part; none when the modeller gives up or calls its own result invalid.
std::optional<double> common_volume(const TopoDS_Shape& crown, const TopoDS_Shape& valve, const Frame& place) {
  try {
    gp_Trsf move;
    move.SetTransformation(gp_Ax3(to_ax2(place)), gp_Ax3(gp::XOY()));
    BRepAlgoAPI_Common common(crown, BRepBuilderAPI_Transform(valve, move, true).Shape());
    if (!common.IsDone() || !BRepCheck_Analyzer(common.Shape()).IsValid()) return std::nullopt;
    return volume_of(common.Shape());
  } catch (const Standard_Failure&) {
    return std::nullopt;
  }
}

}  // namespace

Overlap overlap_of(const Engine& engine, const Parts& parts, const Placing& placing, int valve) {
  const std::size_t number = static_cast<std::size_t>(valve);
  const Valve& of = engine.valves.at(number);
  const Vec3 up = up_axis(engine, of), flat{0, 0, placing.height};  // the crown flat in the head frame
  const Vec3 rim_centre = closed_place(engine, of) - placing.lifts.at(number) * up - flat;
  OverlapEstimate estimate = estimate_overlap(parts.crown, parts.profiles.at(number), rim_centre, up);
  estimate.centre = estimate.centre + flat + Vec3{0, 0, engine.gasket.thickness};
  Overlap alone{estimate.volume, estimate.error, estimate.centre, {}};
  if (!parts.solids) return alone;

  std::optional<double> last;
  for (const double turn : kFewTurns) {
    const std::optional<double> modelled =
        common_volume(parts.solids->crown.solid, parts.solids->valves.at(number), tool_frame(rim_centre, up, turn));
    if (!modelled) continue;
    last = modelled;
    if (std::fabs(*modelled - estimate.volume) <= estimate.error + kBooleanVolume * *modelled)
      return {*modelled, std::fabs(*modelled - estimate.volume) + estimate.error, estimate.centre, {}};
  }
  if (!last) {
    alone.doubt = "the modeller gave no common part: its volume is by our own estimate alone";
    return alone;
  }
  Overlap larger{
      std::max(*last, estimate.volume), std::fabs(*last - estimate.volume) + estimate.error, estimate.centre, {}};
  larger.doubt =
      fmt::format("the overlap is {:.3g} mm3 by the modeller, {:.3g} by our own estimate: the larger is told", *last,
                  estimate.volume);
  return larger;
}

}  // namespace eyebrow
