// Any bytes as a storey: walls, bodies, doors, racks and glass between places of a coarse grid and at heights that
// often are those of eyes and bands, so that they meet in every way; a detector or a drawn area; cameras with masks. No
// crash, and areas that hold together.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "fuzz/held.hpp"
#include "sight/coverage.hpp"

namespace {

using namespace zoneproof;
using namespace zoneproof::sight;
using fuzz::hold;
using plane::Point;

constexpr double kMost_m = 16.0;
constexpr double kStep_m = 0.5;

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}
  bool more() const { return left_ > 0; }
  unsigned next() {
    if (left_ == 0) return 0;
    --left_;
    return *data_++;
  }
  Point point() {
    const unsigned both = next();
    return {(both & 15U) * kStep_m * 2.0, (both >> 4U) * kStep_m * 2.0};
  }
  double height() {
    constexpr double heights[] = {0.0, 0.4, 0.9, 1.2, 1.7, 2.1, 2.6, 3.0};
    return heights[next() % 8];
  }

 private:
  const std::uint8_t* data_;
  std::size_t left_;
};

void add_prism(Bytes& bytes, Building& building) {
  const unsigned kind = bytes.next();
  Prism prism;
  prism.thing = building.things.size();
  prism.body = (kind & 1U) != 0;
  const unsigned corners = prism.body ? 3 + (kind >> 1U) % 3 : 2;
  for (unsigned i = 0; i < corners; ++i) prism.outline.push_back(bytes.point());
  const double one = bytes.height(), other = bytes.height();
  prism.bottom_m = std::min(one, other);
  prism.top_m = (kind & 128U) != 0 ? INFINITY : std::max(one, other);
  if (prism.top_m <= prism.bottom_m) return;
  constexpr site::Surface surfaces[] = {site::Surface::solid, site::Surface::solid, site::Surface::glass,
                                        site::Surface::mesh};
  prism.surface = surfaces[(kind >> 3U) % 4];
  if (prism.surface != site::Surface::solid) prism.clear = prism.surface == site::Surface::glass ? 1.0 : 0.5;
  prism.either = (kind & 32U) != 0;
  if (prism.body) {  // as the building has them: counter-clockwise
    double twice = 0.0;
    for (std::size_t i = 0; i < corners; ++i) {
      const Point a = prism.outline[i], b = prism.outline[(i + 1) % corners];
      twice += a.x * b.y - b.x * a.y;
    }
    if (twice < 0.0) std::reverse(prism.outline.begin(), prism.outline.end());
  }
  const ThingKind kinds[] = {ThingKind::wall, ThingKind::block, ThingKind::stair, ThingKind::opening};
  building.things.push_back({kinds[(kind >> 6U) % 2 + (prism.body ? 1U : 0U)], std::to_string(prism.thing)});
  building.prisms.push_back(std::move(prism));
}

AreaSource area(Bytes& bytes) {
  const unsigned kind = bytes.next();
  AreaSource source;
  source.id = "source";
  source.level = "ground";
  source.outlines.emplace_back();
  for (unsigned i = 0; i < 3 + kind % 4; ++i) source.outlines.front().push_back(bytes.point());
  if ((kind & 8U) == 0) return source;
  Looking looks;
  looks.eye = {bytes.point(), bytes.height()};
  looks.heading = {static_cast<double>(kind >> 6U) - 1.0, static_cast<double>((kind >> 4U) & 3U) - 1.0};
  looks.medium = {false, (kind & 16U) != 0, (kind & 32U) != 0};
  looks.hides = (kind & 64U) != 0 ? Hides::all : Hides::some;
  looks.band = {0.0, 1.7};
  source.looks = looks;
  return source;
}

Watching camera(Bytes& bytes, std::size_t number) {
  const unsigned kind = bytes.next();
  CameraSetup setup;
  const Point at = bytes.point();
  setup.eye = {at.x, at.y, bytes.height()};
  setup.bearing_deg = bytes.next() * 7.5;
  setup.tilt_deg = static_cast<double>(bytes.next() % 13) * 15.0 - 90.0;
  setup.roll_deg = (kind & 1U) != 0 ? static_cast<double>(bytes.next()) : 0.0;
  setup.focal_mm = (kind & 2U) != 0 ? 2.0 : 6.0;
  setup.sensor_width_px = setup.encoded_width_px = 64;  // coarse ones, so that borders have few pieces
  setup.sensor_height_px = setup.encoded_height_px = 36;
  setup.pixel_um = 87.0;
  if ((kind & 12U) == 4U) setup.lens.k1 = -0.1;
  if ((kind & 12U) == 8U) setup.lens.projection = site::Projection::equidistant;
  if ((kind & 16U) != 0) {
    CameraSetup::Mask mask{"mask", {}};
    for (unsigned i = 0; i < 3 + (kind >> 6U); ++i) {
      const Point p = bytes.point();
      mask.corners.push_back({p.x * 4.0, p.y * 2.4});
    }
    setup.masks.push_back(std::move(mask));
  }
  const CameraModel model(setup);
  const double px = (kind & 32U) != 0 ? 2.0 : 0.0;
  const bool share = (kind & 64U) != 0 && model.is_flat();
  return {"camera " + std::to_string(number),
          model,
          "ground",
          (kind & 128U) != 0 ? 1.0 : 0.0,
          8.0,
          (kind & 128U) != 0,
          px,
          share ? 10.0 : 0.0};
}

double area_of(const Outlines& outlines) {
  double sum = 0.0;
  for (const auto& ring : outlines)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()];
      sum += 0.5 * (a.x * b.y - b.x * a.y);
    }
  return sum;
}

void hold_coverage(const Coverage& found, const Demand& demand, std::size_t stages) {
  const double most = kMost_m * kMost_m * static_cast<double>(stages), slack = 1e-6 * most;
  hold(found.area_m2 >= 0.0 && found.area_m2 <= most + slack, "an area is part of the plan");
  hold(found.witnessed_m2 >= -slack && found.witnessed_m2 <= found.area_m2 + slack,
       "no more is witnessed than there is");
  double blind = 0.0, area = 0.0;
  for (const Patch& patch : found.patches) {
    const double here = area_of(patch.outlines);
    hold(patch.area_m2 > 0.0 && std::abs(here - patch.area_m2) <= slack, "a patch has the area of its outline");
    for (const Cause& cause : patch.causes)
      hold(cause.area_m2 <= patch.area_m2 + slack && cause.alone_m2 <= cause.area_m2 + slack,
           "a cause takes no more than its patch");
    blind += here;
  }
  for (const Outlines& one : found.areas) area += area_of(one);
  hold(std::abs(area - found.area_m2) <= slack, "the areas are drawn as they are counted");
  hold(std::abs(found.area_m2 - blind - found.witnessed_m2) <= slack, "what is not blind is witnessed");
  for (const auto& [camera, alone] : found.by_camera_m2)
    hold(alone >= 0.0 && alone <= found.witnessed_m2 + slack, "one camera shows no more than all");
  hold(!found.worst || found.worst->px_per_m > 0.0, "the worst place is shown");
  hold(demand.to_m >= demand.from_m, "a band is one");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 8 || size > 256) return 0;  // longer ones find nothing that shorter ones do not
  Bytes bytes(data, size);
  const unsigned kind = bytes.next();
  Building building;
  building.levels = {"ground"};
  building.floors = {{"ground", 0.0, (kind & 1U) != 0 ? INFINITY : 3.0}};
  constexpr Demand demands[] = {
      {0.9, 1.7, 1.7, 0.0}, {0.0, 1.7, 1.7, 30.0}, {1.2, 1.2, 1.7, 0.0}, {0.4, 2.1, 2.1, 50.0}};
  const Demand demand = demands[(kind >> 1U) % 4];
  std::vector<AreaSource> sources = {area(bytes)};
  if ((kind & 8U) != 0) sources.push_back(area(bytes));
  std::vector<Watching> cameras;
  for (unsigned i = 0; i < (kind >> 4U) % 3; ++i) cameras.push_back(camera(bytes, i));
  while (bytes.more() && building.prisms.size() < 16) add_prism(bytes, building);
  std::size_t stages = 1;
  for (const Thing& thing : building.things) stages += thing.kind == ThingKind::stair ? 1 : 0;
  const Coverage found = coverage(building, sources, cameras, demand, 0.0);
  hold_coverage(found, demand, stages);
  Coverage sure = reached(building, sources, sources.front().outlines, "ground", demand, 0.0);
  hold(sure.witnessed_m2 >= -1e-6 && sure.witnessed_m2 <= sure.area_m2 + 1e-6, "no more is reached than is wanted");
  return 0;
}
