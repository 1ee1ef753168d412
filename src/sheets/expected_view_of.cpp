#include "sheets/expected_view_of.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/message.hpp"
#include "messages/sheets.hpp"
#include "sheets/plan_numbers.hpp"
#include "sheets/plan_words.hpp"
#include "sheets/well_inside.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using std::string;

namespace {

/// Half a body's width: who is drawn nearer to a wall than this stands in it.
constexpr double kBodyRoom_m = 0.25;

double to_stretch(plane::Point p, plane::Point a, plane::Point b) {
  const double dx = b.x - a.x, dy = b.y - a.y, size = dx * dx + dy * dy;
  const double share = size > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / size, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - a.x - share * dx, p.y - a.y - share * dy);
}

bool has_room(const sight::Building& building, plane::Point at, double floor_m, double height_m) {
  for (const sight::Prism& prism : building.prisms) {
    if (prism.top_m <= floor_m || prism.bottom_m >= floor_m + height_m) continue;
    const auto& ring = prism.outline;
    bool inside = false;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const plane::Point a = ring[i], b = ring[(i + 1) % ring.size()];
      if (to_stretch(at, a, b) < kBodyRoom_m) return false;
      if (prism.body && (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x))
        inside = !inside;
    }
    if (inside) return false;
  }
  return true;
}

/// Whether a line on the plan crosses a stretch, and at which share of it.
std::optional<double> crossing(plane::Point from, plane::Point to, plane::Point a, plane::Point b) {
  const double dx = to.x - from.x, dy = to.y - from.y, ex = b.x - a.x, ey = b.y - a.y;
  const double turn = dx * ey - dy * ex;
  if (turn == 0.0) return std::nullopt;
  const double share = ((a.x - from.x) * ey - (a.y - from.y) * ex) / turn;
  const double along = ((a.x - from.x) * dy - (a.y - from.y) * dx) / turn;
  if (share <= 0.0 || share >= 1.0 || along < 0.0 || along > 1.0) return std::nullopt;
  return share;
}

bool in_sight(const sight::Building& building, const sight::CameraModel& camera, sight::Vector3 at) {
  const auto place = camera.place_of(at);
  if (!place || !camera.in_picture(*place) || camera.masked(*place)) return false;
  const sight::Vector3 eye = camera.eye();
  for (const sight::Prism& prism : building.prisms) {
    if (prism.clear > 0.0) continue;
    const auto& ring = prism.outline;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const auto share = crossing({eye.x, eye.y}, {at.x, at.y}, ring[i], ring[(i + 1) % ring.size()]);
      const double height = share ? eye.z + *share * (at.z - eye.z) : 0.0;
      if (share && height > prism.bottom_m && height < prism.top_m) return false;
    }
  }
  return true;
}

/// Feet, middle and head, and both sides of the body: good enough to choose where somebody is drawn, no proof.
bool stands_free(const sight::Scene& scene, const sight::CameraModel& camera, plane::Point at, double floor_m) {
  const double height = scene.rules().demand.target_m;
  if (!has_room(scene.building(), at, floor_m, height)) return false;
  const sight::Vector3 eye = camera.eye();
  const double far = std::hypot(eye.x - at.x, eye.y - at.y);
  const plane::Point side = far > 0.0 ? plane::Point{-(eye.y - at.y) / far, (eye.x - at.x) / far} : plane::Point{1, 0};
  for (const double share : {0.02, 0.5, 0.98}) {
    for (const double beside : {-kBodyRoom_m, 0.0, kBodyRoom_m}) {
      const sight::Vector3 p = {at.x + beside * side.x, at.y + beside * side.y, floor_m + share * height};
      if (!in_sight(scene.building(), camera, p)) return false;
    }
  }
  return true;
}

/// The worst place is often the very corner of a room or the foot of a rack. Whoever stands there is drawn where a body
/// finds room and is seen whole, the nearest such place of rings around it up to a metre; where none is, where it finds
/// room and its middle is seen; else on the place itself.
plane::Point with_room(const sight::Scene& scene, const sight::CameraModel& camera, plane::Point at, double floor_m) {
  constexpr int kWays = 24, kRings = 10;
  constexpr double kStep_m = 0.1;
  const double height = scene.rules().demand.target_m;
  std::optional<plane::Point> second;
  for (int ring = 0; ring <= kRings; ++ring) {
    for (int i = 0; i < (ring == 0 ? 1 : kWays); ++i) {
      const double way = 2.0 * std::numbers::pi * i / kWays, away = ring * kStep_m;
      const plane::Point moved = {at.x + away * std::cos(way), at.y + away * std::sin(way)};
      if (stands_free(scene, camera, moved, floor_m)) return moved;
      if (!second && has_room(scene.building(), moved, floor_m, height) &&
          in_sight(scene.building(), camera, {moved.x, moved.y, floor_m + height / 2.0}))
        second = moved;
    }
  }
  return second.value_or(at);
}

std::optional<plane::Point> amid(const std::vector<std::vector<plane::Point>>& outlines) {
  Rings rings;
  for (const auto& ring : outlines) {
    rings.emplace_back();
    for (const plane::Point p : ring) rings.back().push_back({p.x, p.y});
  }
  const auto at = well_inside(rings);
  return at ? std::optional(plane::Point{at->x, at->y}) : std::nullopt;
}

class Maker {
 public:
  Maker(const sight::Scene& scene, const sight::Watching& watching, const string& of_zone)
      : scene_(scene), watching_(watching), of_zone_(of_zone), made_{watching.model, {}, {}} {}

  ViewOfCamera make(const std::vector<sight::ZoneView>& zones) {
    const site::Site& site = scene_.site();
    wish_.level = watching_.level;
    const auto witnesses = [&](const sight::ZoneView& zone) {
      if (!of_zone_.empty() && zone.zone != of_zone_) return false;
      return std::find(zone.cameras.begin(), zone.cameras.end(), watching_.camera) != zone.cameras.end();
    };
    for (const sight::ZoneView& zone : zones)
      if (witnesses(zone)) add(zone);
    made_.words.areas_known = known_ > 0 && unknown_ == 0;
    for (const NumberedPatch& patch : numbered_patches(site, zones, of_zone_))
      if (witnesses(*patch.view)) add_patch(patch);
    made_.view = sight::expected_view(made_.camera, scene_.building(), wish_);
    ExpectedViewWords& words = made_.words;
    words.camera = site::called(site.cameras, watching_.camera);
    const sight::Floor* floor = scene_.building().floor(watching_.level);
    words.above_floor_m = made_.camera.eye().z - (floor != nullptr ? floor->height_m : 0.0);
    for (const auto& [id, mask] : site.cameras.at(watching_.camera).masks)
      if (!mask.name.empty()) words.masks[id] = mask.name;
    for (std::size_t i = 0; i < scene_.building().things.size(); ++i) name(i);
    return std::move(made_);
  }

 private:
  void add(const sight::ZoneView& zone) {
    const sight::Coverage& coverage = zone.coverage;
    ++(coverage.area_m2 > 0.0 ? known_ : unknown_);
    const string whose = zone_heading(scene_.site(), zone.zone);
    if (coverage.worst && coverage.worst->camera == watching_.camera) add_worst(zone.zone, whose, *coverage.worst);
    for (std::size_t i = 0; i < coverage.areas.size(); ++i) {
      const string id = fmt::format("{}-area-{}", zone.zone, i + 1);
      wish_.marks.push_back({sight::SurfaceRole::area, id, coverage.areas[i], coverage.area_floors_m[i]});
    }
    add_amid(zone.zone, whose, coverage);
  }

  /// With the numbers that the plans give them.
  void add_patch(const NumberedPatch& numbered) {
    const string id = fmt::format("patch-{}", numbered.number);
    for (const std::size_t member : numbered.members) {
      const sight::Patch& patch = numbered.view->coverage.patches[member];
      wish_.marks.push_back({sight::SurfaceRole::patch, id, patch.outlines, patch.floor_m});
    }
    const string whose = zone_heading(scene_.site(), numbered.view->zone);
    made_.words.patches.push_back({id, text(say::sheets_of_zone(whose, blind_words(scene_.site(), numbered)))});
    made_.words.patch_numbers.push_back(numbered.number);
  }

  bool add_person(const string& id, plane::Point at, double floor_m) {
    const double height = scene_.rules().demand.target_m;
    if (!(height > 0.0)) return false;
    wish_.persons.push_back({id, at, floor_m, height});
    return true;
  }

  void add_worst(const string& zone, const string& whose, const sight::WorstPlace& worst) {
    const sight::Floor* floor = scene_.building().floor(worst.level);
    const string id = zone + "-worst";
    if (floor == nullptr) return;
    const plane::Point at = with_room(scene_, made_.camera, worst.at, floor->height_m);
    if (!add_person(id, at, floor->height_m)) return;
    made_.words.persons.push_back({id, text(seen(whose, worst.at, floor->height_m, true))});
  }

  /// One person for a zone: amid the part of its area where a person is shown largest and whole.
  void add_amid(const string& zone, const string& whose, const sight::Coverage& coverage) {
    std::optional<std::pair<plane::Point, double>> best;
    double most = 0.0;
    for (std::size_t i = 0; i < coverage.areas.size(); ++i) {
      if (coverage.area_levels[i] != watching_.level) continue;
      const auto at = amid(coverage.areas[i]);
      const double floor_m = coverage.area_floors_m[i];
      if (!at || !stands_free(scene_, made_.camera, *at, floor_m)) continue;
      const double size = made_.camera.pixels_per_metre({at->x, at->y, floor_m});
      if (!(size > most)) continue;
      most = size;
      best = {*at, floor_m};
    }
    const string id = zone + "-amid";
    if (!best || !add_person(id, best->first, best->second)) return;
    made_.words.persons.push_back({id, text(seen(whose, best->first, best->second, false))});
  }

  /// How large a person is there; a share is told where foot and head fall somewhere.
  Message seen(const string& whose, plane::Point at, double floor_m, bool worst) const {
    const sight::Demand& demand = scene_.rules().demand;
    const sight::Vector3 foot = {at.x, at.y, floor_m};
    const double middle = (demand.from_m + demand.to_m) / 2.0;
    const Measure density = {made_.camera.pixels_per_metre(foot + sight::Vector3{0.0, 0.0, middle}), "px_per_m"};
    const auto share = made_.camera.height_share_pct(foot, demand.target_m);
    if (!share) return worst ? say::sheets_worst_density(whose, density) : say::sheets_inside_density(whose, density);
    const Measure height = {*share, "pct"};
    return worst ? say::sheets_worst(whose, height, density) : say::sheets_inside(whose, height, density);
  }

  void name(std::size_t thing) {
    const site::Site& site = scene_.site();
    const sight::Thing& one = scene_.building().things[thing];
    string called;
    const auto take = [&](const auto& things) {
      const auto at = things.find(one.id);
      if (at != things.end()) called = at->second.name;
    };
    switch (one.kind) {
      case sight::ThingKind::opening: take(site.openings); break;
      case sight::ThingKind::block: take(site.blocks); break;
      case sight::ThingKind::stair: take(site.stairs); break;
      case sight::ThingKind::wall: break;
    }
    if (!called.empty()) made_.words.names[thing] = called;
  }

  const sight::Scene& scene_;
  const sight::Watching& watching_;
  const string& of_zone_;
  sight::PictureWish wish_;
  int known_ = 0, unknown_ = 0;  ///< zones that it is to witness, by whether their area is known
  ViewOfCamera made_;
};

}  // namespace

std::optional<ViewOfCamera> expected_view_of(const sight::Scene& scene, const std::vector<sight::ZoneView>& zones,
                                             const string& camera, const string& of_zone) {
  const auto found = scene.cameras().find(camera);
  if (found == scene.cameras().end() || !found->second.watching) return std::nullopt;
  return Maker(scene, *found->second.watching, of_zone).make(zones);
}

}  // namespace zoneproof::sheets
