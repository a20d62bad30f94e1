// STEP files for the tests of crowns from STEP, written by the modeller's own writer. All parts invented.
#pragma once
#include <gtest/gtest.h>
#include <unistd.h>
#include <Interface_Static.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <TopoDS_Shape.hxx>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "eyebrow/gap.hpp"
#include "eyebrow/parts.hpp"
#include "solid/quiet.hpp"

namespace eyebrow::test {

inline std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

inline std::filesystem::path scratch_file(const std::string& name) {
  return std::filesystem::temp_directory_path() / ("eyebrow_" + std::to_string(::getpid()) + "_" + name);
}

/// The shapes as one STEP file without names of ours. `unit`: "MM", "INCH", "M".
inline std::string step_text(const std::vector<TopoDS_Shape>& shapes, const char* unit = "MM") {
  silence_modeller();
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.schema", "AP214IS");
  Interface_Static::SetCVal("write.step.unit", unit);
  STEPControl_Writer writer;  // takes the unit now: set later, lengths go out as if they were in it already
  for (const TopoDS_Shape& shape : shapes) writer.Transfer(shape, STEPControl_AsIs);
  const std::filesystem::path path = scratch_file("written.step");
  EXPECT_EQ(writer.Write(path.c_str()), IFSelect_RetDone);
  Interface_Static::SetCVal("write.step.unit", "MM");
  std::string text = text_of(path);
  std::filesystem::remove(path);
  // The writer counts its products on through the process; the same shapes must be the same text whatever ran before.
  const std::string counted = "STEP translator";
  for (std::size_t at = 0; (at = text.find(counted, at)) != std::string::npos;) {
    at += counted.size();
    text.erase(at, text.find('\'', at) - at);
  }
  return text;
}

/// All solids of the engine as the program exports them, the crown flat at z = 0.
inline std::string exported(const Engine& engine, const Parts& parts) {
  const std::filesystem::path path = scratch_file("exported.step");
  export_step(engine, parts, {-engine.gasket.thickness, std::vector<double>(engine.valves.size(), 0.0)}, path.string());
  const std::string text = text_of(path);
  std::filesystem::remove(path);
  return text;
}

/// The engine with its crown from that text; all of where it is in the file is left to be found.
inline Engine with_step(Engine engine, const std::string& text) {
  Piston& piston = engine.piston;
  piston.dish.reset();
  piston.round_dome.reset();
  piston.roof_dome.reset();
  piston.underside.reset();
  piston.top_chamfer = 0;
  piston.pockets.clear();
  piston.step.emplace();
  piston.step->file = "crown.step";
  piston.step->text = std::make_shared<const std::string>(text);
  for (Valve& valve : engine.valves) valve.pocket = -1;
  return engine;
}

/// Calls compare(gaps of the one, gaps of the other) for each valve of the one, over poses from far above the crown to
/// deep in it.
template <class Compare>
void over_poses(const Engine& one, const Parts& a, const Engine& other, const Parts& b, const Compare& compare) {
  const auto crown_a = make_target(a.crown), crown_b = make_target(b.crown);
  for (std::size_t i = 0; i < one.valves.size(); ++i) {
    const ValvePlace place{closed_place(one, one.valves[i]), up_axis(one, one.valves[i])};
    const ValveToPiston before(crown_a, a.profiles[i], place, own_pocket(one, i));
    const ValveToPiston after(crown_b, b.profiles[i], place, own_pocket(other, i));
    GapRequest request;
    request.reach = 2;
    for (int step = 0; step < 11; ++step) {
      SCOPED_TRACE(one.valves[i].name + " step " + std::to_string(step));
      const Pose pose{-one.gasket.thickness - one.cylinder.deck_clearance - 0.37 * (step % 5), 0.85 * step};
      compare(before.gaps(pose, request), after.gaps(pose, request));
    }
  }
}

}  // namespace eyebrow::test
