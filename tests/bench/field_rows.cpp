// What fields cost and what they buy: the map of a cam's advance against the gasket, and many samples of an engine.
#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include <atomic>
#include <cmath>
#include <random>
#include <vector>

#include "bench/rows.hpp"
#include "bench/scene.hpp"
#include "bench/timing.hpp"
#include "study/field_least.hpp"

namespace eyebrow::bench {
namespace {

using study::Course;
using study::FieldLeast;

constexpr int kSide = 41;  // of the map
constexpr double kAdvance = 10 * kDegree, kGasket = 0.2;
constexpr std::size_t kSamples = 1000000, kDrawn = 400;
/// Beyond what the drawn samples show of how the parts move, mm: a sample outside is searched by the kernel.
constexpr double kMargin = 0.08;
constexpr double kMapSeconds = 1, kSampleSeconds = 5;  // to reach
constexpr int kLookUps = 2000000;

/// One intake, one exhaust.
std::vector<int> two_valves(const Engine& engine) {
  int exhaust = 0;
  while (engine.valves[static_cast<std::size_t>(exhaust)].role != Role::exhaust) ++exhaust;
  return {0, exhaust};
}

Engine cell(const Engine& from, int i, int j) {
  Engine engine = from;
  for (Cam& cam : engine.cams) cam.advance += kAdvance * (2.0 * i / (kSide - 1) - 1);
  engine.gasket.thickness += kGasket * (2.0 * j / (kSide - 1) - 1);
  return engine;
}

/// Inputs that move only height and lift, scattered as a shop's would be: 0.02 mm, 0.5 degrees of crank, 0.5 % of
/// ratio.
void draw(const Engine& from, std::mt19937_64& random, Engine& engine) {
  std::normal_distribution<double> normal;
  engine.gasket.thickness = from.gasket.thickness + 0.02 * normal(random);
  engine.cylinder.deck_clearance = from.cylinder.deck_clearance + 0.02 * normal(random);
  engine.cylinder.rod_length = from.cylinder.rod_length + 0.02 * normal(random);
  for (std::size_t i = 0; i < engine.cams.size(); ++i)
    engine.cams[i].advance = from.cams[i].advance + 0.5 * kDegree * normal(random);
  for (std::size_t i = 0; i < engine.valves.size(); ++i)
    engine.valves[i].rocker_ratio = from.valves[i].rocker_ratio * (1 + 0.005 * normal(random));
}

std::vector<FieldLeast> make_fields(const study::Setup& setup, const std::vector<int>& valves,
                                    const std::vector<Course>& courses, double margin) {
  std::vector<std::optional<FieldLeast>> made(valves.size());
  tbb::parallel_for(std::size_t{0}, valves.size(),
                    [&](std::size_t i) { made[i].emplace(setup, valves[i], courses, margin); });
  std::vector<FieldLeast> fields;
  for (std::optional<FieldLeast>& of : made) fields.push_back(std::move(*of));
  return fields;
}

struct Row {
  double build = 0, map = 0, samples = 0, look_ups = 0;
  std::size_t cells = 0;
  long searched = 0, unknown = 0;
};

void time_map(const study::Setup& setup, const std::vector<int>& valves, Row& row) {
  std::vector<Course> courses;
  for (int i = 0; i < kSide; ++i)
    for (const int j : {0, kSide - 1}) courses.emplace_back(setup, cell(setup.engine, i, j));
  std::vector<FieldLeast> fields;
  row.build = seconds_of([&] { fields = make_fields(setup, valves, courses, 0); });
  for (const FieldLeast& of : fields) row.cells += of.cells();
  std::atomic<long> searched = 0;
  row.map = seconds_of([&] {
    tbb::parallel_for(0, kSide * kSide, [&](int at) {
      const Engine engine = cell(setup.engine, at / kSide, at % kSide);
      const Course course(setup, engine);
      for (const FieldLeast& of : fields) {
        const auto screened = of.screened(course);
        for (std::size_t k = 0; k < std::size(kGapKinds); ++k) {
          const study::Least least = of.least(course, engine, screened[k], kGapKinds[k]);
          searched += least.found && !std::isnan(least.proven);
          keep(least.value);
        }
      }
    });
  });
  row.searched = searched;
}

void time_samples(const study::Setup& setup, const std::vector<int>& valves, Row& row) {
  std::mt19937_64 random(1);
  std::vector<Course> courses;
  Engine engine = setup.engine;
  for (std::size_t i = 0; i < kDrawn; ++i) {
    draw(setup.engine, random, engine);
    courses.emplace_back(setup, engine);
  }
  const std::vector<FieldLeast> fields = make_fields(setup, valves, courses, kMargin);
  std::atomic<long> unknown = 0;
  constexpr std::size_t kChunk = 1000;
  row.samples = seconds_of([&] {
    tbb::parallel_for(std::size_t{0}, kSamples / kChunk, [&](std::size_t chunk) {
      std::mt19937_64 dice(1000 + chunk);
      Engine sample = setup.engine;
      long missed = 0;
      double sum = 0;
      for (std::size_t i = 0; i < kChunk; ++i) {
        draw(setup.engine, dice, sample);
        const Course course(setup, sample);
        for (const FieldLeast& of : fields)
          for (const study::Screened& kind : of.screened(course)) {
            missed += !kind.known;
            sum += std::isfinite(kind.value()) ? kind.value() : 0;
          }
      }
      unknown += missed;
      keep(sum);
    });
  });
  row.unknown = unknown;
}

/// One thread, one kind after the other, places all over the region.
double time_look_ups(const study::Setup& setup, int valve) {
  const Course course(setup);
  std::vector<SlideBox> region;
  for (int degree = -30; degree < 30; ++degree)
    region.push_back(course.box(valve, degree * kDegree, (degree + 1) * kDegree));
  const study::ValveSetup& of = setup.valves[static_cast<std::size_t>(valve)];
  const ContactLift lift(of.to_piston, region);
  std::vector<GapField> fields;
  for (const GapKind kind : {GapKind::face, GapKind::radial, GapKind::closest})
    fields.emplace_back(of.to_piston, kind, of.asked.reach, region);
  std::vector<Pose> poses;
  for (double degree = -30; degree < 30; degree += 0.01) poses.push_back(course.pose(valve, degree * kDegree));
  double sum = 0;
  const double seconds = seconds_of([&] {
    for (std::size_t i = 0; i < kLookUps; ++i) {
      const Pose& pose = poses[(i * 7919) % poses.size()];
      const FieldGap at = i % 4 == 3 ? lift.travel(pose) : fields[i % 4].at(pose);
      if (std::isfinite(at.value)) sum += at.value;
    }
  });
  keep(sum);
  return kLookUps / seconds;
}

}  // namespace

void field_rows() {
  fmt::print(
      "\nFields of an intake and an exhaust valve, two threads. Map: {0} x {0} of advance (+-{1:.0f} degrees) and "
      "gasket "
      "(+-{2} mm), every cell the kernel's; searched: cells' least gaps that the fields could not place. Samples: {3} "
      "of "
      "inputs that move height and lift, all kinds of gap; unknown: of {4} leasts, those outside the fields.\n",
      kSide, kAdvance / kDegree, kGasket, kSamples, 8 * kSamples);
  fmt::print("{:22}{:>9}{:>8}{:>14}{:>8}{:>10}{:>10}  {:13}{:>11}{:>10}{:>10}\n", "model", "make, s", "cells",
             "look-ups /us", "map, s", "to reach", "searched", "", "samples, s", "to reach", "unknown");
  for (const char* name : kModels) {
    const EngineFile file = model(name);
    const Parts parts = build_parts(file.engine, file.origins);
    const study::Setup setup(file.engine, parts);
    const std::vector<int> valves = two_valves(file.engine);
    Row row;
    time_map(setup, valves, row);
    time_samples(setup, valves, row);
    row.look_ups = time_look_ups(setup, valves[0]);
    fmt::print("{:22}{:>9.2f}{:>8}{:>14.0f}{:>8.2f}{:>10.0f}{:>10}  {:13}{:>11.2f}{:>10.0f}{:>10}  {}\n", name,
               row.build, row.cells, row.look_ups * 1e-6, row.map, kMapSeconds, row.searched,
               reached(row.map <= kMapSeconds), row.samples, kSampleSeconds, row.unknown,
               reached(row.samples <= kSampleSeconds));
  }
}

}  // namespace eyebrow::bench
