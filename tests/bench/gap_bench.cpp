// Time of one pose: each gap of the kernel, alone and with its interval; FCL on the same poses (no sign, no other gap).
#include <benchmark/benchmark.h>
#include <fcl/fcl.h>

#include "poses.hpp"

namespace eyebrow::bench {
namespace {

void kernel(benchmark::State& state, const char* model, GapKind kind, bool bounds) {
  const Poses& set = of(model);
  GapRequest request{kind == GapKind::travel,
                     kind == GapKind::face,
                     kind == GapKind::radial,
                     kind == GapKind::closest,
                     bounds,
                     set.reach};
  std::size_t i = 0;
  for (auto _ : state) benchmark::DoNotOptimize(set.pair->gaps(set.poses[i++ % set.poses.size()], request));
}

using Model = fcl::BVHModel<fcl::OBBRSSd>;

std::shared_ptr<Model> model_of(const Crown& crown) {
  std::vector<fcl::Vector3d> points;
  for (const Vec3& p : crown.points) points.emplace_back(p.x, p.y, p.z);
  std::vector<fcl::Triangle> triangles;
  for (const Triangle& t : crown.triangles) triangles.emplace_back(t.vertex[0], t.vertex[1], t.vertex[2]);
  auto model = std::make_shared<Model>();
  model->beginModel();
  model->addSubModel(points, triangles);
  model->endModel();
  return model;
}

void meshes(benchmark::State& state, const char* name) {
  const Poses& set = of(name);
  const auto crown = model_of(set.parts.crown);
  const auto valve = model_of(valve_surface(set.parts.profiles.front(), 0.0005));
  const Frame frame = frame_about({}, set.place.up);
  fcl::Transform3d place = fcl::Transform3d::Identity();
  place.linear().col(0) = fcl::Vector3d(frame.x.x, frame.x.y, frame.x.z);
  place.linear().col(1) = fcl::Vector3d(frame.y.x, frame.y.y, frame.y.z);
  place.linear().col(2) = fcl::Vector3d(frame.z.x, frame.z.y, frame.z.z);
  std::size_t i = 0;
  for (auto _ : state) {
    const Vec3 c = set.pair->rim_centre(set.poses[i++ % set.poses.size()]);
    place.translation() = fcl::Vector3d(c.x, c.y, c.z);
    const fcl::CollisionObjectd a(crown, fcl::Transform3d::Identity()), b(valve, place);
    fcl::DistanceRequestd request;
    fcl::DistanceResultd result;
    benchmark::DoNotOptimize(fcl::distance(&a, &b, request, result));
  }
}

const bool registered = [] {
  for (const char* model : {"two_valve_wedge", "four_valve_pent_roof", "canted_valve"}) {
    for (const GapKind kind : kGapKinds)
      for (const bool bounds : {false, true})
        benchmark::RegisterBenchmark(
            (std::string(model) + "/" + to_string(kind) + (bounds ? "/interval" : "/value")).c_str(), kernel, model,
            kind, bounds)
            ->Unit(benchmark::kMicrosecond);
    benchmark::RegisterBenchmark((std::string(model) + "/closest/FCL").c_str(), meshes, model)
        ->Unit(benchmark::kMicrosecond);
  }
  return true;
}();

}  // namespace
}  // namespace eyebrow::bench
