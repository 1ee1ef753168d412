#include "sight/obstacles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>

#include "plane/predicates.hpp"
#include "plane/visibility.hpp"

namespace zoneproof::sight {

namespace {

using plane::Box;
using plane::Point;

constexpr double kStandOff_m = 0.002;
constexpr double kInLine_m = 1e-6;  ///< nearer to a wall even standing off: it looks along it, within 0.03 degrees
constexpr double kMargin_m = 1.0;   ///< of the visibility's bound around what counts

double clear_otherwise_of(const Prism& prism, const Medium& medium) {
  return medium.mesh_is_clear || medium.through_solid ? 1.0 : prism.clear_otherwise;
}

std::size_t side_count(const Prism& prism) { return prism.body ? prism.outline.size() : prism.outline.size() - 1; }

/// What of a segment lies within a box (Liang and Barsky, A new concept and method for line clipping, 1984, from
/// memory).
std::optional<plane::Segment> within(Point a, Point b, const Box& box) {
  double from = 0.0, to = 1.0;
  const auto narrow = [&](double start, double step, double low, double high) {
    if (step == 0.0) return start >= low && start <= high;
    double enter = (low - start) / step, leave = (high - start) / step;
    if (enter > leave) std::swap(enter, leave);
    from = std::max(from, enter), to = std::min(to, leave);
    return from < to;
  };
  if (!narrow(a.x, b.x - a.x, box.low.x, box.high.x) || !narrow(a.y, b.y - a.y, box.low.y, box.high.y))
    return std::nullopt;
  const auto at = [&](double share) {
    return Point{std::clamp(a.x + share * (b.x - a.x), box.low.x, box.high.x),
                 std::clamp(a.y + share * (b.y - a.y), box.low.y, box.high.y)};
  };
  return plane::Segment{from > 0.0 ? at(from) : a, to < 1.0 ? at(to) : b, true};
}

Box around(const Box& box, Point eye, double margin) {
  return {{std::min(box.low.x, eye.x) - margin, std::min(box.low.y, eye.y) - margin},
          {std::max(box.high.x, eye.x) + margin, std::max(box.high.y, eye.y) + margin}};
}

bool meets(const Prism& prism, const Box& box) {
  Point low = prism.outline[0], high = low;
  for (const Point p : prism.outline) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  return low.x <= box.high.x && high.x >= box.low.x && low.y <= box.high.y && high.y >= box.low.y;
}

class Obstacles {
 public:
  Obstacles(const Building& building, const Looking& looking, const Box& box, Regions& regions)
      : building_(building),
        looking_(looking),
        eye_(standing_off(building, looking)),
        box_(box),
        near_(around(box, eye_.at, kMargin_m)),
        regions_(regions) {}

  void add() {
    for (const Prism& prism : building_.prisms) {
      if (!stands(prism)) continue;
      if (looking_.hides == Hides::all && !prism.body) stacks_.push_back(&prism);
      add_prism(prism);
    }
    add_stacks();
    add_sectors();
  }

 private:
  bool stands(const Prism& prism) const {
    const auto& ignored = looking_.ignored;
    return meets(prism, near_) && std::find(ignored.begin(), ignored.end(), prism.thing) == ignored.end() &&
           clear_of(prism, looking_.medium) < 1.0;
  }

  void add_prism(const Prism& prism) {
    const auto stretch = hidden_stretch(eye_.height_m, looking_.band, prism.bottom_m, prism.top_m, looking_.hides);
    if (!stretch) return;
    const double clear = clear_of(prism, looking_.medium);
    if (stretch->whole() && clear == 0.0 && !prism.either)
      add_walls(prism);
    else
      add_shadow(prism, *stretch, clear);
  }

  /// What stands on each other over one stretch of a wall, sill, pane and lintel, hides a whole body together though
  /// none of them does alone. A stack with a leaf of two states hides so in one of them.
  void add_stacks() {
    std::stable_sort(stacks_.begin(), stacks_.end(), [](const Prism* a, const Prism* b) {
      const auto key = [](const Prism& p) {
        return std::array{p.outline[0].x, p.outline[0].y, p.outline[1].x, p.outline[1].y, p.bottom_m};
      };
      return key(*a) < key(*b);
    });
    for (std::size_t i = 0; i < stacks_.size();) {
      Prism stack = *stacks_[i];
      std::size_t parts = 1, next = i + 1;
      for (; next < stacks_.size() && stacks_[next]->outline == stack.outline; ++next) {
        const Prism& upper = *stacks_[next];
        if (clear_of(upper, looking_.medium) > 0.0 || clear_of(stack, looking_.medium) > 0.0) break;
        if (upper.bottom_m > stack.top_m) break;
        stack.top_m = std::max(stack.top_m, upper.top_m);
        if (upper.either) {
          stack.either = true;
          stack.thing = upper.thing;
          stack.clear_otherwise = upper.clear_otherwise;
        }
        ++parts;
      }
      if (parts > 1) add_prism(stack);
      i = next;
    }
  }

  void add_walls(const Prism& prism) {
    for (std::size_t i = 0; i < side_count(prism); ++i) {
      const auto wall = within(prism.outline[i], prism.outline[(i + 1) % prism.outline.size()], near_);
      if (!wall) continue;
      walls_.push_back(*wall);
      thing_of_wall_.push_back(prism.thing);
      if (looking_.hides == Hides::some && nearer(eye_.at, wall->from, wall->to, kInLine_m))
        regions_.add({box_.low, {box_.high.x, box_.low.y}, box_.high, {box_.low.x, box_.high.y}},
                     solid_label(prism.thing));
    }
  }

  plane::Label solid_label(std::size_t thing) {
    const auto [at, is_new] = solid_.try_emplace(thing, 0);
    if (is_new) at->second = regions_.label({looking_.viewer, Why::hidden, thing, {}, 0.0, false, 1.0});
    return at->second;
  }

  void add_shadow(const Prism& prism, const Stretch& stretch, double clear) {
    auto pieces = shadow(eye_.at, prism.outline, prism.body, stretch, box_);
    if (pieces.empty()) return;
    const plane::Label label = clear == 0.0 && !prism.either
                                   ? solid_label(prism.thing)
                                   : regions_.label({looking_.viewer,
                                                     Why::hidden,
                                                     prism.thing,
                                                     {},
                                                     clear,
                                                     prism.either,
                                                     prism.either ? clear_otherwise_of(prism, looking_.medium) : 1.0});
    for (auto& piece : pieces) regions_.add(std::move(piece), label);
  }

  /// What is behind the walls that are met first.
  void add_sectors() {
    if (walls_.empty()) return;
    const plane::Triangulation triangulation(plane::arrange(walls_, around(near_, eye_.at, kMargin_m)));
    const plane::Visibility visibility(triangulation);
    plane::View view;
    visibility.from(eye_.at, view);
    const auto corners = view.corners();
    const plane::Arrangement& arrangement = triangulation.arrangement();
    for (std::size_t i = 0; i < corners.size(); ++i) {
      if (corners[i].wall == plane::none) continue;
      const auto inputs = arrangement.inputs_of(corners[i].wall);
      if (inputs.empty() || inputs.back() == plane::Arrangement::of_bound) continue;
      const Point a = corners[i].at, b = corners[(i + 1) % corners.size()].at;
      for (auto& piece : shadow(eye_.at, {a, b}, false, {0.0, 1.0}, box_))
        regions_.add(std::move(piece), solid_label(thing_of_wall_[static_cast<std::size_t>(inputs.back())]));
    }
  }

  const Building& building_;
  const Looking& looking_;
  Eye eye_;
  Box box_, near_;
  Regions& regions_;
  std::map<std::size_t, plane::Label> solid_;
  std::vector<const Prism*> stacks_;
  std::vector<plane::Segment> walls_;
  std::vector<std::size_t> thing_of_wall_;
};

}  // namespace

double clear_of(const Prism& prism, const Medium& medium) {
  switch (prism.surface) {
    case site::Surface::solid: return medium.through_solid ? 1.0 : 0.0;
    case site::Surface::glass: return medium.through_glass ? 1.0 : 0.0;
    case site::Surface::mesh: return medium.mesh_is_clear ? 1.0 : prism.clear;
  }
  return 0.0;
}

bool nearer(Point p, Point a, Point b, double limit_m) {
  // Most segments are told apart by their boxes.
  if (p.x < std::min(a.x, b.x) - limit_m || p.x > std::max(a.x, b.x) + limit_m || p.y < std::min(a.y, b.y) - limit_m ||
      p.y > std::max(a.y, b.y) + limit_m)
    return false;
  const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
  const double share = square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
  const double off_x = a.x + share * dx - p.x, off_y = a.y + share * dy - p.y;
  return off_x * off_x + off_y * off_y <= limit_m * limit_m;
}

Eye standing_off(const Building& building, const Looking& looking) {
  Eye eye = looking.eye;
  const double size = std::hypot(looking.heading.x, looking.heading.y);
  if (size == 0.0) return eye;
  for (const Prism& prism : building.prisms) {
    for (std::size_t i = 0; i < side_count(prism); ++i) {
      if (!nearer(eye.at, prism.outline[i], prism.outline[(i + 1) % prism.outline.size()], kTouching_m)) continue;
      eye.at.x += kStandOff_m * looking.heading.x / size;
      eye.at.y += kStandOff_m * looking.heading.y / size;
      return eye;
    }
  }
  return eye;
}

void add_obstacles(const Building& building, const Looking& looking, const Box& box, Regions& regions) {
  Obstacles(building, looking, box, regions).add();
}

}  // namespace zoneproof::sight
