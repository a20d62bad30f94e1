#include "solid/void_volume.hpp"

#include <algorithm>
#include <cmath>

#include "solid/valve_outline.hpp"

namespace eyebrow {
namespace {

// 180,000 cells; on pockets of a third of the bore the midpoint rule is then good to a few 1e-4 of their volume.
constexpr int kRings = 250;
constexpr int kSectors = 720;

/// A roof's plane as its height over a place, height - slope . place.
struct Slope {
  double height, x, y;
};

std::vector<Slope> slopes_of(const Piston& piston) {
  std::vector<Slope> slopes;
  if (!piston.roof_dome) return slopes;
  for (const RoofPlane& plane : piston.roof_dome->planes) {
    const double steep = std::tan(plane.slope);
    slopes.push_back({plane.meets * steep, steep * std::cos(plane.toward), steep * std::sin(plane.toward)});
  }
  return slopes;
}

double dome_height(const Piston& piston, const std::vector<Slope>& slopes, double x, double y) {
  double z = 0;
  if (piston.round_dome) {
    const RoundDome& dome = *piston.round_dome;
    const double r = std::hypot(x, y), base = dome.base_diameter / 2;
    if (r < base && dome.shape == DomeShape::sphere) {
      const FaceSphere ball = face_sphere(FaceShape::dished, dome.height, base);
      z = ball.centre + std::sqrt(std::max(0.0, ball.radius * ball.radius - r * r));
    } else if (r < base) {
      z = std::min(dome.height, dome.height * (base - r) / (base - dome.top_diameter / 2));
    }
  }
  if (piston.roof_dome) {
    double roof = piston.roof_dome->plateau;
    for (const Slope& slope : slopes) roof = std::min(roof, slope.height - slope.x * x - slope.y * y);
    z = std::max(z, roof);
  }
  return z;
}

struct Ring {
  double inner, outer;
};

/// About `count` rings over the crown, none across a circle where the turned body's top has a kink.
std::vector<Ring> rings_of(const Piston& piston, int count) {
  const double radius = piston.crown_diameter / 2;
  std::vector<double> kinks{0, radius, radius - piston.top_chamfer};
  if (piston.round_dome) {
    kinks.push_back(piston.round_dome->base_diameter / 2);
    kinks.push_back(piston.round_dome->top_diameter / 2);
  }
  std::sort(kinks.begin(), kinks.end());
  std::vector<Ring> rings;
  for (std::size_t i = 1; i < kinks.size(); ++i) {
    const double wide = kinks[i] - kinks[i - 1];
    const int n = wide > 0 ? static_cast<int>(std::ceil(count * wide / radius)) : 0;
    for (int k = 0; k < n; ++k) rings.push_back({kinks[i - 1] + wide * k / n, kinks[i - 1] + wide * (k + 1) / n});
  }
  return rings;
}

/// Length of the union of spans within [bottom, top].
double covered(std::vector<Span>& spans, double bottom, double top) {
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.low < b.low; });
  double length = 0, reached = bottom;
  for (const Span& span : spans) {
    const double from = std::max(span.low, reached), to = std::min(span.high, top);
    if (to > from) length += to - from, reached = to;
  }
  return length;
}

double top_of(const Piston& piston, const std::vector<Slope>& slopes, double x, double y) {
  const double r = std::hypot(x, y), radius = piston.crown_diameter / 2;
  if (r > radius) return 0;
  const double dome = dome_height(piston, slopes, x, y);
  // The chamfer is turned: its cone goes on upward and takes what of a dome stands outside it.
  return piston.top_chamfer > 0 ? std::min(dome, radius - piston.top_chamfer - r) : dome;
}

}  // namespace

double blank_top(const Piston& piston, double x, double y) {
  return top_of(piston, slopes_of(piston), x, y);
}

CrownVolume crown_volume(const Piston& piston, double bottom, const std::vector<Tool>& tools, int finer) {
  CrownVolume volume;
  const int sectors = kSectors * finer;
  const double dphi = 2 * kPi / sectors;
  const std::vector<Slope> slopes = slopes_of(piston);
  std::vector<Span> spans;
  for (const Ring& ring : rings_of(piston, kRings * finer)) {
    const double r = (ring.inner + ring.outer) / 2, cell = r * (ring.outer - ring.inner) * dphi;
    for (int sector = 0; sector < sectors; ++sector) {
      const double phi = (sector + 0.5) * dphi, x = r * std::cos(phi), y = r * std::sin(phi);
      const double top = top_of(piston, slopes, x, y);
      spans.clear();
      for (const Tool& tool : tools) {
        if (const auto span = on_vertical(tool, x, y, top)) spans.push_back(*span);
      }
      const double gone = covered(spans, bottom, top);
      volume.removed += cell * gone;
      volume.metal += cell * (top - bottom - gone);
    }
  }
  return volume;
}

}  // namespace eyebrow
