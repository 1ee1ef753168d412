// What is seen from a point between walls, beside CGAL's triangular expansion with both of its kernels.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cgal_view.hpp"
#include "open_polygon.hpp"
#include "plane/visibility.hpp"
#include "promises/promise.hpp"

namespace zoneproof::promises {

namespace {

constexpr double same_area = 1e-9;  // relative

double area(const std::vector<plane::Point>& ring, plane::Point about) {
  double twice = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const plane::Point a = ring[i], b = ring[(i + 1) % ring.size()];
    twice += (a.x - about.x) * (b.y - about.y) - (a.y - about.y) * (b.x - about.x);
  }
  return 0.5 * twice;
}

struct Map {
  open_data::Polygon polygon;
  std::vector<plane::Point> eyes;
  plane::Triangulation triangulation;
  plane::Visibility visibility;

  explicit Map(const std::filesystem::path& file)
      : polygon(open_data::read_polygon(file)),
        eyes(open_data::points_inside(polygon, 1000, 1)),
        triangulation(plane::arrange(polygon.walls(), polygon.bound())),
        visibility(triangulation) {}
};

/// Microseconds a query, summed over maps.
struct Sums {
  std::size_t maps = 0, queries = 0, wrong = 0;
  double ours = 0.0, theirs = 0.0, least = INFINITY, most = 0.0;

  void add(double our_us, double their_us) {
    ++maps;
    ours += our_us;
    theirs += their_us;
    least = std::min(least, their_us / our_us);
    most = std::max(most, their_us / our_us);
  }
};

std::size_t count_wrong(const Map& map, const cgal::Views& reference) {
  plane::View view;
  std::size_t wrong = 0;
  for (const plane::Point eye : map.eyes) {
    map.visibility.from(eye, view);
    const double theirs = area(reference.from(eye), eye);
    wrong += std::abs(view.area() - theirs) <= same_area * theirs ? 0 : 1;
  }
  return wrong;
}

void measure(const Map& map, cgal::Kernel kernel, Sums& sums) {
  const cgal::Views reference(map.polygon.rings, kernel);
  const std::size_t wrong = count_wrong(map, reference);
  if (kernel == cgal::Kernel::exact && wrong != 0)
    throw std::runtime_error(fmt::format("{}: {} areas are not those of exact constructions", map.polygon.name, wrong));
  sums.wrong += wrong;
  sums.queries += map.eyes.size();
  plane::View view;
  std::size_t corners = 0;  // added up, so that nothing is left out
  const double ours = seconds_of([&] {
    for (const plane::Point eye : map.eyes) map.visibility.from(eye, view), corners += view.corners().size();
  });
  const double theirs = seconds_of([&] {
    for (const plane::Point eye : map.eyes) corners += reference.corner_count(eye);
  });
  if (corners == 0) throw std::runtime_error("nothing is seen");
  sums.add(1e6 * ours / static_cast<double>(map.eyes.size()), 1e6 * theirs / static_cast<double>(map.eyes.size()));
}

Figure figure(const char* kernel, const Sums& sums, double aim) {
  Figure figure;
  figure.promise = "view from a point, open maps with holes";
  figure.beside =
      fmt::format("CGAL, {} constructions; ratios from {:.3g} to {:.3g} over {} maps; {} of its {} areas differ",
                  kernel, sums.least, sums.most, sums.maps, sums.wrong, sums.queries);
  figure.ours = sums.ours / static_cast<double>(sums.maps);
  figure.theirs = sums.theirs / static_cast<double>(sums.maps);
  figure.unit = "us";
  figure.aim_ratio = aim;
  figure.limit = "half in stepping from triangle to triangle, whose turns no processor foresees; a third in corners";
  return figure;
}

}  // namespace

std::vector<Figure> views() {
  Sums inexact, exact;
  for (const auto& file : open_data::polygon_files()) {
    if (file.stem().string().find("holes") == std::string::npos) continue;
    const Map map(file);
    measure(map, cgal::Kernel::inexact_constructions, inexact);
    measure(map, cgal::Kernel::exact, exact);
  }
  if (exact.maps == 0) throw std::runtime_error("the open polygons are not on this machine (ZONEPROOF_OPEN_DATA)");
  return {figure("inexact", inexact, 10.0), figure("exact", exact, 30.0)};
}

}  // namespace zoneproof::promises
