// One solid of a STEP file (ISO 10303-21): the crown, or a valve.
#pragma once
#include <TopoDS_Shape.hxx>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"

namespace eyebrow {

/// What is asked for, and of which file.
struct StepSource {
  std::string key;   ///< of the table in the engine file: "piston.step"
  std::string what;  ///< "the crown"
  std::string file;
  const std::string& text;
  std::string solid;  ///< which, by name or number; empty = not stated
  /// Where the file holds several and none is stated: may this one be it?
  std::function<bool(const TopoDS_Shape&)> fits;
  bool alike_will_do = false;  ///< of several that fit and are of one shape, any is as good
  /// mm; faces no further apart may be joined where the solid is not sound; 0 = none may, none = never offered
  std::optional<double> mend = {};
};

struct StepSolid {
  TopoDS_Shape solid;                   ///< as it stands in the file, mm
  std::vector<std::string> face_names;  ///< as the file has them, in the modeller's order; empty = none
  double moved = 0;                     ///< mm; at most, of what was mended
};

/// Throws InputError, which says what is wrong with the file, placed at `key`.file, .solid or .mend.
StepSolid read_step(const StepSource& source, const Origins& origins, std::vector<Fault>& warnings);

}  // namespace eyebrow
