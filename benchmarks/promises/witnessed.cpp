// What a camera shows of an area among many walls, exactly, beside rays of Embree to a thousandth of the area; and a
// warehouse of many walls and cameras, whole and after one wall has moved.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

#include "promises/promise.hpp"
#include "sight/coverage.hpp"
#include "sight/kept_views.hpp"
#include "sight/ray_scene.hpp"

namespace zoneproof::promises {

namespace {

using plane::Point;
using sight::Building;
using sight::Watching;

constexpr double kFloorOfAWall_m2 = 7.2;  ///< 500 walls in 60 m by 60 m
constexpr double kCeiling_m = 4.0;
constexpr int kHeights = 9;           ///< a band as rays see it: from its lower to its upper end
constexpr double kSharpness = 0.001;  ///< of the area: what the sampled share may be off, one standard deviation

double within(std::mt19937_64& random, double low, double high) {
  return low + (high - low) * static_cast<double>(random() >> 11) * 0x1p-53;
}

/// Partitions up to the ceiling, and as many racks, counters and lintels.
Building hall_of(int walls, double side) {
  std::mt19937_64 random(7);
  Building building;
  building.levels = {"ground"};
  building.floors = {{"ground", 0.0, kCeiling_m}};
  for (int i = 0; i < walls; ++i) {
    const Point a = {within(random, 0, side), within(random, 0, side)};
    const double turn = within(random, 0, 6.28), length = within(random, 1, 4);
    const Point b = {a.x + length * std::cos(turn), a.y + length * std::sin(turn)};
    const double bottom = i % 4 == 1 ? 2.1 : 0.0, top = i % 4 == 2 ? 1.2 : i % 4 == 3 ? 2.0 : kCeiling_m;
    building.things.push_back({sight::ThingKind::wall, "wall_" + std::to_string(i)});
    building.prisms.push_back(
        {building.things.size() - 1, false, {a, b}, bottom, top, site::Surface::solid, 0.0, false, 1.0});
  }
  return building;
}

Watching camera_at(Point at, double bearing) {
  sight::CameraSetup setup;
  setup.eye = {at.x, at.y, 3.0};
  setup.bearing_deg = bearing;
  setup.tilt_deg = -20.0;
  setup.focal_mm = 2.8;
  setup.sensor_width_px = 1920, setup.sensor_height_px = 1080, setup.pixel_um = 2.9;
  setup.encoded_width_px = 1920, setup.encoded_height_px = 1080;
  return {"camera", sight::CameraModel(setup), "ground", 0.0, 0.0, false, 25.0, 0.0};
}

sight::AreaSource area_around(Point low, Point high) {
  return {"detector", "", "ground", {{low, {high.x, low.y}, high, {low.x, high.y}}}, {}, "", 0, {}};
}

sight::Demand demand() { return {0.9, 1.7, 1.6, 50.0}; }

/// The share that rays see: places by chance, each at heights of the band.
double sampled_pct(const sight::RayScene& rays, const Watching& watching, Point low, Point high, int places) {
  std::mt19937_64 random(11);
  const sight::Vector3 eye = watching.model.eye();
  int seen = 0;
  for (int i = 0; i < places; ++i) {
    const Point at = {within(random, low.x, high.x), within(random, low.y, high.y)};
    bool all = true;
    for (int k = 0; k < kHeights && all; ++k) {
      const sight::Vector3 place = {at.x, at.y, 0.9 + 0.8 * k / (kHeights - 1)};
      all = watching.model.in_picture(place) && watching.model.pixels_per_metre(place) >= watching.px_per_m &&
            !rays.blocked(eye, place);
    }
    seen += all ? 1 : 0;
  }
  return 100.0 * seen / places;
}

Figure among_walls(int walls) {
  const double side = std::sqrt(kFloorOfAWall_m2 * walls), middle = side / 2.0;
  const Building hall = hall_of(walls, side);
  const Watching watching = camera_at({middle, middle}, 45.0);
  const Point low = {middle + 1.0, middle + 1.0}, high = {middle + 16.0, middle + 16.0};
  const std::vector<sight::AreaSource> sources = {area_around(low, high)};
  sight::Coverage found;
  const double ours = seconds_of([&] { found = sight::coverage(hall, sources, {watching}, demand(), 0.0); });
  const double share = found.share_pct() / 100.0;
  const int places = static_cast<int>(share * (1.0 - share) / (kSharpness * kSharpness));
  const sight::RayScene rays(hall.prisms);
  double sampled = 0.0;
  const double theirs = seconds_of([&] { sampled = sampled_pct(rays, watching, low, high, places); });
  if (std::abs(sampled - found.share_pct()) > 100.0 * 5.0 * kSharpness)
    throw std::runtime_error(fmt::format("exact {:.3f} % is not sampled {:.3f} %", found.share_pct(), sampled));
  Figure figure;
  figure.promise =
      fmt::format("witnessed part of an area among {} walls, exact, with the cause of each blind patch", walls);
  figure.beside = fmt::format("Embree, {} places of {} heights for 0.1 % of the area; both see {:.1f} %", places,
                              kHeights, found.share_pct());
  figure.ours = 1e3 * ours;
  figure.theirs = 1e3 * theirs;
  figure.unit = "ms";
  figure.aim_ratio = 100.0;
  figure.limit = "snap rounding and triangulation of all shadows that reach the area";
  return figure;
}

/// Zones side by side with a camera each, kept views: all, and again after one wall has moved.
std::vector<Figure> warehouse(int walls, int cameras) {
  const double side = std::sqrt(kFloorOfAWall_m2 * walls);
  Building hall = hall_of(walls, side);
  const int columns = static_cast<int>(std::ceil(std::sqrt(cameras)));
  std::vector<Watching> watching;
  std::vector<std::vector<sight::AreaSource>> areas;
  for (int i = 0; i < cameras; ++i) {
    const double pitch = side / columns;
    const Point low = {i % columns * pitch, i / columns * pitch}, high = {low.x + pitch, low.y + pitch};
    watching.push_back(camera_at({low.x + 0.1, low.y + 0.1}, 45.0));
    areas.push_back({area_around(low, high)});
  }
  sight::KeptViews kept;
  const auto all = [&] {
    double shown = 0.0;
    for (std::size_t i = 0; i < watching.size(); ++i) {
      const auto viewing = [&] {
        sight::ZoneView view;
        view.coverage = sight::coverage(hall, areas[i], {watching[i]}, demand(), 0.0);
        return view;
      };
      const std::string basis = sight::basis_of(hall, areas[i], {watching[i]}, {{}}, demand(), 0.0);
      shown += kept.of(std::to_string(i), basis, viewing).coverage.witnessed_m2;
    }
    if (!(shown > 0.0)) throw std::runtime_error("nothing is shown");
  };
  Figure whole, edit;
  whole.promise = fmt::format("views of {} zones with a camera each among {} walls", cameras, walls);
  whole.ours = 1e3 * seconds_once(all);
  whole.unit = "ms";
  whole.limit = "the same as of one view";
  const std::size_t given = kept.given();
  const auto from_middle = [&](const sight::Prism& wall) {
    return std::hypot(wall.outline[0].x - side / 2.0, wall.outline[0].y - side / 2.0);
  };
  const auto wall = std::min_element(hall.prisms.begin(), hall.prisms.end(),
                                     [&](const auto& a, const auto& b) { return from_middle(a) < from_middle(b); });
  for (Point& corner : wall->outline) corner.x += 0.5;
  edit.promise = fmt::format("... after one wall has moved; views computed anew: {{}} of {}", cameras);
  edit.beside = "all of them";
  edit.ours = 1e3 * seconds_once(all);
  edit.theirs = whole.ours;
  edit.unit = "ms";
  edit.limit = "what each view rests on is written out and compared";
  edit.promise = fmt::format(fmt::runtime(edit.promise), kept.given() - given);
  return {whole, edit};
}

}  // namespace

std::vector<Figure> witnessed() {
  std::vector<Figure> figures = {among_walls(500), among_walls(5000)};
  for (Figure& figure : warehouse(5000, 500)) figures.push_back(std::move(figure));
  return figures;
}

}  // namespace zoneproof::promises
