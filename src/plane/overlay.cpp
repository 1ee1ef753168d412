#include "plane/overlay.hpp"

#include <algorithm>
#include <map>
#include <stdexcept>
#include <utility>

#include "plane/predicates.hpp"
#include "plane/ring_area.hpp"

namespace zoneproof::plane {

namespace {

struct Sides {
  std::vector<Segment> segments;
  std::vector<Label> labels;  ///< of each segment
};

Sides sides_of(std::span<const Ring> rings) {
  Sides sides;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.corners.size(); ++i) {
      const Point from = ring.corners[i], to = ring.corners[i + 1 == ring.corners.size() ? 0 : i + 1];
      if (from == to) continue;
      sides.segments.push_back({from, to, false});
      sides.labels.push_back(ring.label);
    }
  }
  return sides;
}

/// Chains of edges run along their segment in both coordinates or stand still in one (arrangement.hpp), so neither
/// product is negative where both go the same way.
bool same_way(const Segment& segment, Point from, Point to) {
  const double along_x = (segment.to.x - segment.from.x) * (to.x - from.x);
  const double along_y = (segment.to.y - segment.from.y) * (to.y - from.y);
  return along_x != 0.0 ? along_x > 0.0 : along_y > 0.0;
}

/// Winding numbers that are not zero, by label.
using Windings = std::vector<std::pair<Label, std::int32_t>>;

void add(Windings& windings, Label label, std::int32_t turn) {
  const auto at = std::lower_bound(windings.begin(), windings.end(), label,
                                   [](const auto& winding, Label wanted) { return winding.first < wanted; });
  if (at == windings.end() || at->first != label)
    windings.insert(at, {label, turn});
  else if ((at->second += turn) == 0)
    windings.erase(at);
}

/// Windings met so far, each with the number of its set of labels.
class Register {
 public:
  explicit Register(std::vector<std::vector<Label>>& sets) : sets_(sets) {}

  std::int32_t number(const Windings& windings) {
    const auto [at, is_new] = known_.try_emplace(windings, static_cast<std::int32_t>(by_number_.size()));
    if (!is_new) return at->second;
    std::vector<Label> labels;
    for (const auto& [label, turn] : windings) labels.push_back(label);
    const auto [set, is_new_set] = sets_known_.try_emplace(labels, static_cast<std::int32_t>(sets_.size()));
    if (is_new_set) sets_.push_back(std::move(labels));
    by_number_.push_back({&at->first, set->second});
    return at->second;
  }
  const Windings& windings(std::int32_t number) const { return *by_number_[static_cast<std::size_t>(number)].windings; }
  std::int32_t set(std::int32_t number) const { return by_number_[static_cast<std::size_t>(number)].set; }

 private:
  struct Entry {
    const Windings* windings;
    std::int32_t set;
  };
  std::vector<std::vector<Label>>& sets_;
  std::map<Windings, std::int32_t> known_;
  std::map<std::vector<Label>, std::int32_t> sets_known_;
  std::vector<Entry> by_number_;
};

std::size_t index(std::int32_t i) { return static_cast<std::size_t>(i); }

}  // namespace

Overlay::Overlay(std::span<const Ring> rings, const Box& box, double step)
    : triangulation_([&] { return arrange(sides_of(rings).segments, box, step); }()) {
  const Sides sides = sides_of(rings);
  walk(sides.segments, sides.labels);
}

void Overlay::walk(std::span<const Segment> segments, std::span<const Label> label_of_segment) {
  const Triangulation& t = triangulation_;
  const std::int32_t count = t.half_count() / 3;
  Register met(sets_);
  std::vector<std::int32_t> number(index(count), none);
  std::vector<std::int32_t> waiting;
  for (Half h = 0; h < t.half_count() && waiting.empty(); ++h) {
    if (t.twin(h) != none) continue;
    number[index(h / 3)] = met.number({});
    waiting.push_back(h / 3);
  }
  Windings beyond;
  while (!waiting.empty()) {
    const std::int32_t triangle = waiting.back();
    waiting.pop_back();
    for (Half h = 3 * triangle; h < 3 * triangle + 3; ++h) {
      if (t.twin(h) == none || number[index(t.twin(h) / 3)] != none) continue;
      std::int32_t next_number = number[index(triangle)];
      if (t.edge(h) != none) {
        beyond = met.windings(next_number);
        for (const std::int32_t input : t.arrangement().inputs_of(t.edge(h))) {
          if (input == Arrangement::of_bound) continue;
          const bool same = same_way(segments[index(input)], t.point(t.origin(h)), t.point(t.target(h)));
          add(beyond, label_of_segment[index(input)], same ? -1 : 1);
        }
        next_number = met.number(beyond);
      }
      number[index(t.twin(h) / 3)] = next_number;
      waiting.push_back(t.twin(h) / 3);
    }
  }
  set_of_.reserve(number.size());
  for (const std::int32_t one : number) set_of_.push_back(met.set(one));
}

double Overlay::area(std::int32_t triangle) const {
  const Half h = 3 * triangle;
  const Triangulation& t = triangulation_;
  return 0.5 * twice_area(t.point(t.origin(h)), t.point(t.origin(h + 1)), t.point(t.origin(h + 2)));
}

Point Overlay::middle(std::int32_t triangle) const {
  const Half h = 3 * triangle;
  const Triangulation& t = triangulation_;
  const Point a = t.point(t.origin(h)), b = t.point(t.origin(h + 1)), c = t.point(t.origin(h + 2));
  return {(a.x + b.x + c.x) / 3.0, (a.y + b.y + c.y) / 3.0};
}

std::vector<Part> Overlay::parts(const std::function<std::int32_t(std::span<const Label>)>& class_of) const {
  std::vector<std::int32_t> class_of_set;
  for (std::int32_t set = 0; set < set_count(); ++set) class_of_set.push_back(class_of(labels(set)));
  const auto class_at = [&](std::int32_t triangle) { return class_of_set[index(set_of(triangle))]; };
  std::vector<Part> found;
  std::vector<bool> seen(index(triangle_count()), false);
  for (std::int32_t first = 0; first < triangle_count(); ++first) {
    if (seen[index(first)] || class_at(first) == none) continue;
    Part part{class_at(first), {first}, 0.0};
    seen[index(first)] = true;
    for (std::size_t i = 0; i < part.triangles.size(); ++i) {
      for (Half h = 3 * part.triangles[i]; h < 3 * part.triangles[i] + 3; ++h) {
        const Half g = triangulation_.twin(h);
        if (g == none || seen[index(g / 3)] || class_at(g / 3) != part.of_class) continue;
        seen[index(g / 3)] = true;
        part.triangles.push_back(g / 3);
      }
    }
    std::sort(part.triangles.begin(), part.triangles.end());
    for (const std::int32_t triangle : part.triangles) part.area += area(triangle);
    found.push_back(std::move(part));
  }
  return found;
}

std::vector<std::vector<Point>> Overlay::outlines(const Part& part) const {
  const Triangulation& t = triangulation_;
  const auto inside = [&](Half h) {
    return h != none && std::binary_search(part.triangles.begin(), part.triangles.end(), h / 3);
  };
  std::vector<Half> border;
  for (const std::int32_t triangle : part.triangles)
    for (Half h = 3 * triangle; h < 3 * triangle + 3; ++h)
      if (!inside(t.twin(h))) border.push_back(h);
  // From the end of a border edge, turning clockwise through the part's triangles to the next border edge: parts that
  // touch themselves in a corner come apart there.
  const auto follower = [&](Half h) {
    for (h = next(h); inside(t.twin(h));) h = next(t.twin(h));
    return h;
  };
  std::vector<bool> used(border.size(), false);
  std::vector<std::vector<Point>> rings;
  for (std::size_t i = 0; i < border.size(); ++i) {
    std::vector<Point> ring;
    for (Half h = border[i];; h = follower(h)) {
      const auto at = static_cast<std::size_t>(std::lower_bound(border.begin(), border.end(), h) - border.begin());
      if (used[at]) break;
      used[at] = true;
      ring.push_back(t.point(t.origin(h)));
    }
    if (ring.empty()) continue;
    std::vector<Point> corners;
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const Point before = ring[(k + ring.size() - 1) % ring.size()], after = ring[(k + 1) % ring.size()];
      if (orientation(before, ring[k], after) != 0) corners.push_back(ring[k]);
    }
    rings.push_back(std::move(corners));
  }
  std::stable_partition(rings.begin(), rings.end(), [&](const auto& ring) { return twice_area_of(ring) > 0.0; });
  return rings;
}

double Overlay::area_where(const std::function<bool(std::span<const Label>)>& passes) const {
  std::vector<bool> passing;
  for (std::int32_t set = 0; set < set_count(); ++set) passing.push_back(passes(labels(set)));
  double sum = 0.0;
  for (std::int32_t triangle = 0; triangle < triangle_count(); ++triangle)
    if (passing[index(set_of(triangle))]) sum += area(triangle);
  return sum;
}

}  // namespace zoneproof::plane
