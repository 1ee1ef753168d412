#include "sight/picture_window.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "plane/overlay.hpp"
#include "plane/projective.hpp"
#include "plane/ring_area.hpp"
#include "sight/chains.hpp"
#include "sight/flat_clip.hpp"
#include "sight/picture_curve.hpp"

namespace zoneproof::sight {

namespace {

using plane::Label;
using plane::none;
using plane::Point;

constexpr double kBeyond = std::numeric_limits<double>::infinity();
/// Nearer than this to the plane of the eye nothing is drawn.
constexpr double kNear_m = 1e-3;
/// The overlay's grid, against focal lengths of some thousand pixels.
constexpr double kStep = 0x1p-24;
/// What is thinner cannot be seen.
constexpr double kThin_px = 0.05;
/// Depths closer than this share of themselves are one: surfaces that touch.
constexpr double kSameDepth = 1e-7;

class WindowView {
 public:
  WindowView(const CameraModel& camera, const PictureScene& scene, const Window& window,
             const std::vector<std::vector<Vector3>>& borders)
      : camera_(camera),
        scene_(scene),
        window_(window),
        wide_(grown(window.box, kOverlap)),
        overlay_(rings(borders), grown(wide_, kOverlap), kStep) {}

  void add_to(ExpectedView& view) {
    answer();
    add_areas(view);
    add_edges(view);
  }

 private:
  /// Windows are looked through a little beyond their border, so that a line on it has both of its sides.
  static constexpr double kOverlap = 0x1p-8;
  static plane::Box grown(const plane::Box& box, double by) {
    return {{box.low.x - by, box.low.y - by}, {box.high.x + by, box.high.y + by}};
  }
  static std::size_t index(std::int32_t i) { return static_cast<std::size_t>(i); }
  std::size_t facet_count() const { return scene_.facets.size(); }
  std::size_t label_count() const { return facet_count() + scene_.figures.size(); }
  /// Of edges that belong to no surface.
  Label guide() const { return static_cast<Label>(label_count()); }
  std::size_t surface_of(std::size_t label) const {
    return label < facet_count() ? scene_.facets[label].surface : scene_.figures[label - facet_count()].surface;
  }
  const Surface& surface_at(std::size_t label) const { return scene_.surfaces[surface_of(label)]; }

  Vector3 in_window(Vector3 p) const { return {dot(p, window_.right), dot(p, window_.down), dot(p, window_.forward)}; }
  Vector3 direction(Point p) const { return p.x * window_.right + p.y * window_.down + window_.forward; }
  std::optional<PicturePlace> place(Point p) const {
    return camera_.place_of(camera_.in_site((1.0 / length(direction(p))) * direction(p)));
  }

  std::vector<plane::Ring> rings(const std::vector<std::vector<Vector3>>& borders) const {
    std::vector<plane::Ring> all;
    for (std::size_t i = 0; i < facet_count(); ++i) {
      const bool mark = surface_at(i).role == SurfaceRole::area || surface_at(i).role == SurfaceRole::patch;
      for (const auto& ring : scene_.facets[i].rings) {
        std::vector<Vector3> corners;
        for (const Vector3& p : ring) corners.push_back(in_window(p));
        add_ring(cut_to(projected(before(corners, kNear_m)), wide_), i, !mark, all);
      }
    }
    for (std::size_t i = 0; i < scene_.figures.size(); ++i) {
      for (const auto& body : scene_.figures[i].bodies) {
        std::vector<Vector3> corners;
        for (const Vector3& p : body) corners.push_back(in_window(p));
        add_ring(cut_to(plane::convex_hull(projected(body_before(corners, kNear_m))), wide_), facet_count() + i, true,
                 all);
      }
    }
    // Both borders, so that no triangle lies on two sides of one.
    for (const plane::Box& box : {window_.box, wide_})
      all.push_back({{box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}}, guide()});
    for (const auto& [from, to] : scene_.meetings) add_guide(in_window(from), in_window(to), all);
    for (const std::vector<Vector3>& border : borders) add_border(border, all);
    return all;
  }

  /// Rings of one label add up where they overlap only when they turn the same way.
  static void add_ring(std::vector<Point> ring, std::size_t label, bool same_way, std::vector<plane::Ring>& all) {
    if (ring.size() < 3) return;
    if (same_way) ring = plane::counter_clockwise(std::move(ring));
    all.push_back({std::move(ring), static_cast<Label>(label)});
  }

  void add_border(const std::vector<Vector3>& border, std::vector<plane::Ring>& all) const {
    const Vector3 eye = camera_.in_camera(camera_.eye());
    for (std::size_t i = 0; i < border.size(); ++i) {
      const Vector3 a = camera_.in_camera(camera_.eye() + border[i]) - eye;
      const Vector3 b = camera_.in_camera(camera_.eye() + border[(i + 1) % border.size()]) - eye;
      add_guide(in_window(a), in_window(b), all);
    }
  }

  /// There and back again: an edge that encloses nothing.
  void add_guide(Vector3 from, Vector3 to, std::vector<plane::Ring>& all) const {
    std::vector<Point> line = ends_of(cut_to(ends_of(projected(before({from, to}, kNear_m))), wide_));
    if (line.size() < 2) return;
    all.push_back({std::move(line), guide()});
  }

  /// Depth along the window's axis at which a label's surface is met; infinite where it is not.
  double depth(std::size_t label, Point p) const {
    const Vector3 d = direction(p);
    if (label < facet_count()) {
      const Facet& facet = scene_.facets[label];
      const double fall = dot(facet.normal, d);
      return fall > 0.0 ? facet.offset / fall : kBeyond;
    }
    return nearest_approach(scene_.figures[label - facet_count()], d);
  }

  /// Of the sight line to the axis of a figure, as a multiple of the direction.
  static double nearest_approach(const Figure& figure, Vector3 d) {
    const Vector3 axis = figure.head - figure.foot;
    const double dd = dot(d, d), da = dot(d, axis), aa = dot(axis, axis);
    const double df = dot(d, figure.foot), af = dot(axis, figure.foot);
    const double det = dd * aa - da * da;
    double share = det > 1e-12 * dd * aa ? (da * df - dd * af) / det : 0.5;
    share = std::clamp(share, 0.0, 1.0);
    return dot(d, figure.foot + share * axis) / dd;
  }

  void answer() {
    const std::int32_t count = overlay_.triangle_count();
    shown_.assign(index(count), false);
    nearest_.assign(index(count), none);
    clear_.assign(index(count), {});
    for (std::int32_t t = 0; t < count; ++t) {
      const Point middle = overlay_.middle(t);
      if (!wide_.holds(middle)) continue;
      const auto at = place(middle);
      if (!at || !camera_.in_picture(*at) || camera_.masked(*at)) continue;
      shown_[index(t)] = true;
      answer(t, middle);
    }
    heal_slivers();
  }

  /// How thin a triangle is: its height over its longest side, and which side that is.
  std::pair<double, plane::Half> thinness(std::int32_t t) const {
    const plane::Triangulation& mesh = overlay_.triangulation();
    double longest = 0.0;
    plane::Half side = 3 * t;
    for (plane::Half h = 3 * t; h < 3 * t + 3; ++h) {
      const Point a = mesh.point(mesh.origin(h)), b = mesh.point(mesh.target(h));
      const double size = std::hypot(b.x - a.x, b.y - a.y);
      if (size > longest) longest = size, side = h;
    }
    return {longest > 0.0 ? 2.0 * overlay_.area(t) / longest : 0.0, side};
  }

  /// Edges that were meant to be one (a pane's and its wall's, an area's and the foot of the rack that ends it) enclose
  /// triangles too thin to be seen, and would be drawn twice. Those take the answer of what lies beyond their longest
  /// side, thin ones beside thin ones after them.
  void heal_slivers() {
    const double least = kThin_px / std::max(camera_.focal_across_px(), camera_.focal_down_px());
    std::vector<std::pair<std::int32_t, std::int32_t>> thin;  // and its neighbour
    std::vector<bool> settled(shown_.size(), true);
    for (std::int32_t t = 0; t < overlay_.triangle_count(); ++t) {
      if (!shown_[index(t)]) continue;
      const auto [height, side] = thinness(t);
      const plane::Half beyond = overlay_.triangulation().twin(side);
      if (height >= least || beyond == none || !shown_[index(beyond / 3)]) continue;
      thin.emplace_back(t, beyond / 3);
      settled[index(t)] = false;
    }
    for (int pass = 0; pass < 2; ++pass) {
      std::vector<std::int32_t> done;
      for (const auto& [t, neighbour] : thin) {
        if (settled[index(t)] || !settled[index(neighbour)]) continue;
        nearest_[index(t)] = nearest_[index(neighbour)];
        clear_[index(t)] = clear_[index(neighbour)];
        done.push_back(t);
      }
      for (const std::int32_t t : done) settled[index(t)] = true;
    }
  }

  void answer(std::int32_t t, Point middle) {
    double least = kBeyond;
    for (const Label label : overlay_.labels(overlay_.set_of(t))) {
      if (index(label) >= label_count() || !surface_at(index(label)).hides) continue;
      const double here = depth(index(label), middle);
      const bool nearer = here < least * (1.0 - kSameDepth), level = !nearer && here <= least * (1.0 + kSameDepth);
      const Label held = nearest_[index(t)];
      if (!nearer && !(level && held != none && rank(index(label)) > rank(index(held)))) continue;
      least = here;
      nearest_[index(t)] = label;
    }
    for (const Label label : overlay_.labels(overlay_.set_of(t))) {
      if (index(label) >= label_count() || surface_at(index(label)).hides) continue;
      if (depth(index(label), middle) <= least * (1.0 + kSameDepth)) clear_[index(t)].push_back(label);
    }
  }

  /// Of surfaces in one plane: a leaf is drawn on the wall, the back of a rack behind the wall that it stands at.
  int rank(std::size_t label) const {
    const SurfaceRole role = surface_at(label).role;
    if (role == SurfaceRole::opening) return 2;
    return role == SurfaceRole::wall ? 1 : 0;
  }

  void add_areas(ExpectedView& view) {
    std::map<std::size_t, std::vector<std::int32_t>> triangles;
    for (std::int32_t t = 0; t < overlay_.triangle_count(); ++t) {
      if (!window_.box.holds(overlay_.middle(t))) continue;
      if (nearest_[index(t)] != none) triangles[surface_of(index(nearest_[index(t)]))].push_back(t);
      for (const Label label : clear_[index(t)]) triangles[surface_of(index(label))].push_back(t);
    }
    for (auto& [surface, all] : triangles) {
      const auto rings = overlay_.outlines({0, std::move(all), 0.0});
      SeenArea seen = {surface, {}};
      for (const auto& ring : rings) {
        if (ring.size() < 3) continue;
        auto curve = curved(ring, true, to_picture());
        if (curve.size() >= 3) seen.rings.push_back(std::move(curve));
      }
      if (!seen.rings.empty()) view.areas.push_back(std::move(seen));
    }
  }

  /// A place of the window in the picture, held within its border: chords of the frame leave it by a hair.
  std::function<std::optional<PicturePlace>(Point)> to_picture() const {
    return [this](Point p) -> std::optional<PicturePlace> {
      const auto at = place(p);
      if (!at) return std::nullopt;
      return PicturePlace{std::clamp(at->across_px, 0.0, camera_.width_px()),
                          std::clamp(at->down_px, 0.0, camera_.height_px())};
    };
  }

  struct Kind {
    std::size_t surface;
    bool silhouette;
    bool operator<(const Kind& other) const {
      return surface != other.surface ? surface < other.surface : silhouette < other.silhouette;
    }
  };

  void add_edges(ExpectedView& view) {
    const plane::Triangulation& t = overlay_.triangulation();
    std::map<Kind, std::vector<std::pair<plane::Vertex, plane::Vertex>>> lines;
    for (plane::Half h = 0; h < t.half_count(); ++h) {
      const plane::Half g = t.twin(h);
      // Any side of a triangle: beside an edge of the arrangement may lie triangles one step of the grid wide in which
      // depths are equal, and the answers then differ across their other side.
      if (g == none || h > g || !shown_[index(h / 3)] || !shown_[index(g / 3)]) continue;
      const Point a = t.point(t.origin(h)), b = t.point(t.target(h));
      const Point middle = {(a.x + b.x) / 2.0, (a.y + b.y) / 2.0};
      if (!window_.box.holds(middle)) continue;
      const auto kind = kind_of(h / 3, g / 3, middle);
      if (kind) lines[*kind].emplace_back(t.origin(h), t.target(h));
    }
    for (const auto& [kind, pieces] : lines) {
      for (const auto& chain : chains_of(pieces)) {
        std::vector<Point> points;
        for (const plane::Vertex v : chain) points.push_back(t.point(v));
        auto curve = curved(straightened(points, 4.0 * kStep), false, to_picture());
        if (curve.size() >= 2) view.edges.push_back({kind.surface, kind.silhouette, std::move(curve)});
      }
    }
  }

  /// Whose line stands between two triangles, if any does.
  std::optional<Kind> kind_of(std::int32_t one, std::int32_t two, Point middle) const {
    const Label a = nearest_[index(one)], b = nearest_[index(two)];
    if (a != b) {
      const double depth_a = a == none ? kBeyond : depth(index(a), middle);
      const double depth_b = b == none ? kBeyond : depth(index(b), middle);
      const double least = std::min(depth_a, depth_b);
      const bool touching = std::abs(depth_a - depth_b) <= kTouching * least;
      if (touching && one_wall(index(a), index(b))) return std::nullopt;
      // A pane in its wall: the line is the pane's.
      if (const auto pane = begins(one, two, middle, least)) return Kind{surface_of(*pane), false};
      std::size_t owner = index(depth_b < depth_a ? b : a);
      if (touching) owner = more_particular(index(a), index(b));
      return Kind{surface_of(owner), !touching};
    }
    // Only what hides nothing begins or ends here. The lowest in the list stands for all that do so together.
    if (const auto clear = begins(one, two, middle, std::nullopt)) return Kind{surface_of(*clear), true};
    return std::nullopt;
  }

  /// What hides nothing and is seen on one side only, at a given depth where one is given.
  std::optional<std::size_t> begins(std::int32_t one, std::int32_t two, Point middle,
                                    std::optional<double> at_depth) const {
    for (const auto& [side, other] : {std::pair(one, two), std::pair(two, one)}) {
      for (const Label label : clear_[index(side)]) {
        if (has(other, label)) continue;
        if (at_depth && (surface_at(index(label)).role != SurfaceRole::opening ||
                         std::abs(depth(index(label), middle) - *at_depth) > kTouching * *at_depth))
          continue;
        return index(label);
      }
    }
    return std::nullopt;
  }

  /// Of two surfaces that meet: a door before the wall it is in; else the later one, wherever the line is asked about.
  std::size_t more_particular(std::size_t a, std::size_t b) const {
    const auto own = [&](std::size_t label) { return surface_at(label).role == SurfaceRole::wall ? 0 : 1; };
    if (own(a) != own(b)) return own(a) > own(b) ? a : b;
    return std::max(a, b);
  }

  bool has(std::int32_t triangle, Label label) const {
    const auto& all = clear_[index(triangle)];
    return std::find(all.begin(), all.end(), label) != all.end();
  }

  /// Two walls that go on in one plane look like one.
  bool one_wall(std::size_t a, std::size_t b) const {
    if (a >= facet_count() || b >= facet_count()) return false;
    return surface_at(a).role == SurfaceRole::wall && surface_at(b).role == SurfaceRole::wall &&
           length(scene_.facets[a].normal - scene_.facets[b].normal) < kTouching;
  }

  static constexpr double kTouching = 1e-5;
  const CameraModel& camera_;
  const PictureScene& scene_;
  Window window_;
  plane::Box wide_;
  plane::Overlay overlay_;
  std::vector<bool> shown_;
  std::vector<Label> nearest_;
  std::vector<std::vector<Label>> clear_;
};

}  // namespace

void add_window(const CameraModel& camera, const PictureScene& scene, const Window& window,
                const std::vector<std::vector<Vector3>>& borders, ExpectedView& view) {
  WindowView(camera, scene, window, borders).add_to(view);
}

}  // namespace zoneproof::sight
