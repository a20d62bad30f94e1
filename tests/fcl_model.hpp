// Meshes as the Flexible Collision Library (FCL 0.7, of the Debian archive) wants them; for reference tests and
// the benchmark.
#pragma once
#include <fcl/fcl.h>

#include <memory>
#include <vector>

#include "eyebrow/crown.hpp"

namespace eyebrow::by_fcl {

using Model = fcl::BVHModel<fcl::OBBRSSd>;

inline std::shared_ptr<Model> model_of(const Crown& crown) {
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

/// From the frame's own coordinates to those that the frame is given in.
inline fcl::Transform3d placed(const Frame& frame) {
  fcl::Transform3d place = fcl::Transform3d::Identity();
  place.linear().col(0) = fcl::Vector3d(frame.x.x, frame.x.y, frame.x.z);
  place.linear().col(1) = fcl::Vector3d(frame.y.x, frame.y.y, frame.y.z);
  place.linear().col(2) = fcl::Vector3d(frame.z.x, frame.z.y, frame.z.z);
  place.translation() = fcl::Vector3d(frame.origin.x, frame.origin.y, frame.origin.z);
  return place;
}

/// Between the surfaces: overlap is not seen here but by fcl::collide.
inline double distance(const std::shared_ptr<Model>& still, const std::shared_ptr<Model>& moved,
                       const fcl::Transform3d& place) {
  fcl::DistanceRequestd request;
  fcl::DistanceResultd result;
  // Geometries, not objects: an object goes over every vertex for its box, which is no part of a pose's cost.
  fcl::distance(still.get(), fcl::Transform3d::Identity(), moved.get(), place, request, result);
  return result.min_distance;
}

}  // namespace eyebrow::by_fcl
