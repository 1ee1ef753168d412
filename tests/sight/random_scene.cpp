#include "sight/random_scene.hpp"

#include <algorithm>
#include <cmath>

#include "sight/random_camera.hpp"

namespace zoneproof::sight {

using plane::Point;

namespace {

constexpr double kCeiling_m = 3.0;

class Builder {
 public:
  explicit Builder(std::uint64_t seed) : random_(seed) {}

  RandomScene build() {
    outer_walls();
    for (std::uint64_t i = 2 + random_() % 4; i > 0; --i) inner_wall();
    for (std::uint64_t i = 2 + random_() % 5; i > 0; --i) block();
    constexpr Demand demands[] = {
        {0.9, 1.7, 1.7, 0.0}, {0.0, 1.7, 1.7, 0.0}, {0.4, 1.9, 1.9, 0.0}, {1.2, 1.2, 1.7, 0.0}};
    made_.demand = demands[random_() % 4];
    if (random_() % 2 == 0)
      made_.sources = {drawn(rectangle(0.5, 0.5, 15.5, 11.5))};
    else
      for (std::uint64_t i = 1 + random_() % 2; i > 0; --i) detector();
    for (std::uint64_t i = 1 + random_() % 2; i > 0; --i) camera();
    return std::move(made_);
  }

 private:
  double number(double low, double high) { return within(random_, low, high); }
  template <std::size_t N>
  double one_of(const double (&values)[N]) {
    return values[random_() % N];
  }

  void outer_walls() {
    const std::vector<Point> room = rectangle(0, 0, kRoomWide_m, kRoomDeep_m);
    for (std::size_t i = 0; i < 4; ++i) made_.scene.wall(room[i], room[(i + 1) % 4], 0.0, kCeiling_m);
  }

  /// Upright to an outer wall or aslant; whole, with a doorway, or with a window that may have glass.
  void inner_wall() {
    Point a, b;
    if (random_() % 3 == 0) {
      a = {number(1, 15), number(1, 11)}, b = {number(1, 15), number(1, 11)};
    } else if (random_() % 2 == 0) {
      const double x = std::round(number(2, 14));
      a = {x, 0.0}, b = {x, number(3, 12)};
    } else {
      const double y = std::round(number(2, 10));
      a = {0.0, y}, b = {number(3, 16), y};
    }
    constexpr double tops[] = {0.8, 1.0, 1.2, 1.7, 1.8, 2.2, 2.5, kCeiling_m, kCeiling_m, kCeiling_m};
    const double top = one_of(tops), length = std::hypot(b.x - a.x, b.y - a.y);
    if (length < 2.0 || top < kCeiling_m || random_() % 3 == 0) {
      if (random_() % 6 == 0)
        made_.scene.wall(a, b, number(1.9, 2.4), kCeiling_m);  // a beam
      else
        made_.scene.wall(a, b, 0.0, top);
      return;
    }
    const double from = number(0.1, 0.5), to = from + std::min(0.4, 1.2 / length);
    const auto at = [&](double share) { return Point{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}; };
    const bool window = random_() % 2 == 0;
    const double sill = window ? number(0.6, 1.2) : 0.0, head = number(1.9, 2.2);
    made_.scene.wall(a, at(from), 0.0, top);
    made_.scene.wall(at(to), b, 0.0, top);
    if (window) made_.scene.wall(at(from), at(to), 0.0, sill);
    made_.scene.wall(at(from), at(to), head, top);
    if (!window || random_() % 2 == 0) return;
    Prism& glass = made_.scene.wall(at(from), at(to), sill, head);
    glass.surface = site::Surface::glass;
    glass.clear = 1.0;
  }

  /// A turned rectangle or an L, from the floor or hanging.
  void block() {
    const double x = number(2, 14), y = number(2, 10), turn = random_() % 2 == 0 ? 0.0 : number(0, 1.5);
    const double wide = number(0.3, 2.5), deep = number(0.3, 1.2);
    std::vector<Point> outline = rectangle(-wide, -deep, wide, deep);
    if (random_() % 3 == 0)  // begins with the corner that turns in
      outline = {{0.0, 0.0}, {0.0, deep}, {-wide, deep}, {-wide, -deep}, {wide, -deep}, {wide, 0.0}};
    for (Point& p : outline)
      p = {x + std::cos(turn) * p.x - std::sin(turn) * p.y, y + std::sin(turn) * p.x + std::cos(turn) * p.y};
    constexpr double bottoms[] = {0.0, 0.0, 0.0, 0.71, 1.01, 1.93, 2.21};  // none touches a head by a hair
    const double bottom = one_of(bottoms);
    made_.scene.body(std::move(outline), bottom, bottom + (bottom > 0.0 ? number(0.03, 0.4) : number(0.2, 2.9)));
  }

  bool free_of_things(Point p) const {
    return std::all_of(made_.scene.building.prisms.begin(), made_.scene.building.prisms.end(), [&](const Prism& prism) {
      return distance_to(prism.outline, p) > 0.05 && !(prism.body && holds({prism.outline}, p));
    });
  }

  /// On an outer wall, where nothing else stands, or somewhere within; and which way is inward.
  std::pair<Point, double> mount() {
    for (;;) {
      if (random_() % 2 == 0) {
        const Point p = {number(0.2, 15.8), number(0.2, 11.8)};
        if (free_of_things(p)) return {p, number(0, 360)};
        continue;
      }
      const bool south = random_() % 2 == 0;
      const Point p = {number(0.2, 15.8), south ? 0.0 : kRoomDeep_m}, before = {p.x, south ? 0.06 : kRoomDeep_m - 0.06};
      if (free_of_things(before)) return {p, (south ? 0.0 : 180.0) + number(-60, 60)};
    }
  }

  void detector() {
    const auto [at, bearing] = mount();
    const double range = number(5, 15), facing = (90.0 - bearing) * M_PI / 180.0, half = M_PI / 4.0;
    std::vector<Point> fan = {at};
    for (int i = 0; i <= 24; ++i) {
      const double angle = facing - half + 2.0 * half * i / 24.0;
      const Point p = {at.x + range * std::cos(angle), at.y + range * std::sin(angle)};
      fan.push_back({std::clamp(p.x, -0.5, kRoomWide_m + 0.5), std::clamp(p.y, -0.5, kRoomDeep_m + 0.5)});
    }
    made_.sources.push_back(
        watched(fan, {at.x, at.y, number(2.0, 2.8)}, {std::cos(facing), std::sin(facing)}, Hides::some));
  }

  void camera() {
    const auto [at, bearing] = mount();
    CameraSetup setup = wide_camera({at.x, at.y, number(1.0, 2.9)}, bearing, number(-60, 0));
    const std::uint64_t kind = random_() % 4;
    if (kind == 0) {
      setup.lens.projection = site::Projection::equidistant;
      setup.focal_mm = 1.2;
      setup.tilt_deg = random_() % 2 == 0 && at.y > 0.0 && at.y < kRoomDeep_m ? -90.0 : number(-80, -20);
    } else if (kind == 1) {
      setup.focal_mm = number(3.5, 6);
      setup.lens.k1 = -0.15;
    } else {
      setup.focal_mm = number(2.0, 6);
      if (random_() % 4 == 0) setup.roll_deg = number(-30, 30);
    }
    if (random_() % 3 == 0) {
      const double x = number(0, 1500), y = number(0, 800);
      setup.masks.push_back({"mask", {{x, y}, {x + number(50, 400), y}, {x + 300, y + 200}, {x, y + 100}}});
    }
    Watching one = watching(setup, "camera " + std::to_string(made_.cameras.size()));
    if (kind > 1 && random_() % 2 == 0) one.px_per_m = number(60, 300);
    made_.cameras.push_back(std::move(one));
  }

  std::mt19937_64 random_;
  RandomScene made_;
};

}  // namespace

RandomScene random_scene(std::uint64_t seed) { return Builder(seed).build(); }

}  // namespace zoneproof::sight
