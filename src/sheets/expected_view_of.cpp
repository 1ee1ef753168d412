#include "sheets/expected_view_of.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/message.hpp"
#include "messages/sheets.hpp"
#include "sheets/well_inside.hpp"
#include "sight/words.hpp"
#include "site/relations.hpp"

namespace zoneproof::sheets {

using std::string;

namespace {

string zone_words(const site::Site& site, const string& id) {
  const site::Zone& zone = site.zones.at(id);
  if (!zone.number.known()) return site::name_or_id(zone.name, id);
  if (zone.name.empty()) return text(say::sheets_zone_number(*zone.number.value));
  return text(say::sheets_zone(*zone.number.value, zone.name));
}

class Maker {
 public:
  Maker(const sight::Scene& scene, const sight::Watching& watching)
      : scene_(scene), watching_(watching), made_{watching.model, {}, {}} {}

  ViewOfCamera make(const std::vector<sight::ZoneView>& zones) {
    const site::Site& site = scene_.site();
    wish_.level = watching_.level;
    for (const sight::ZoneView& zone : zones) {
      if (std::find(zone.cameras.begin(), zone.cameras.end(), watching_.camera) != zone.cameras.end()) add(zone);
    }
    made_.view = sight::expected_view(made_.camera, scene_.building(), wish_);
    ExpectedViewWords& words = made_.words;
    words.camera = site::called(site.cameras, watching_.camera);
    const sight::Floor* floor = scene_.building().floor(watching_.level);
    words.above_floor_m = made_.camera.eye().z - (floor != nullptr ? floor->height_m : 0.0);
    for (std::size_t i = 0; i < scene_.building().things.size(); ++i) name(i);
    return std::move(made_);
  }

 private:
  void add(const sight::ZoneView& zone) {
    const sight::Coverage& coverage = zone.coverage;
    const string whose = zone_words(scene_.site(), zone.zone);
    if (coverage.worst && coverage.worst->camera == watching_.camera) add_worst(zone.zone, whose, *coverage.worst);
    for (std::size_t i = 0; i < coverage.areas.size(); ++i) {
      const string id = fmt::format("{}-area-{}", zone.zone, i + 1);
      wish_.marks.push_back({sight::SurfaceRole::area, id, coverage.areas[i], coverage.area_floors_m[i]});
      if (coverage.area_levels[i] == watching_.level)
        add_inside(id, whose, coverage.areas[i], coverage.area_floors_m[i]);
    }
    for (std::size_t i = 0; i < coverage.patches.size(); ++i) {
      const sight::Patch& patch = coverage.patches[i];
      const string id = fmt::format("{}-patch-{}", zone.zone, i + 1);
      wish_.marks.push_back({sight::SurfaceRole::patch, id, patch.outlines, patch.floor_m});
      made_.words.patches.push_back({id, text(say::sheets_of_zone(whose, sight::patch_words(scene_.site(), patch)))});
    }
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
    if (floor == nullptr || !add_person(id, worst.at, floor->height_m)) return;
    made_.words.persons.push_back({id, text(seen(whose, worst.at, floor->height_m, true))});
  }

  void add_inside(const string& area, const string& whose, const std::vector<std::vector<plane::Point>>& outlines,
                  double floor_m) {
    Rings rings;
    for (const auto& ring : outlines) {
      rings.emplace_back();
      for (const plane::Point p : ring) rings.back().push_back({p.x, p.y});
    }
    const auto at = well_inside(rings);
    const string id = area + "-person";
    if (!at || !add_person(id, {at->x, at->y}, floor_m)) return;
    made_.words.persons.push_back({id, text(seen(whose, {at->x, at->y}, floor_m, false))});
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
  sight::PictureWish wish_;
  ViewOfCamera made_;
};

}  // namespace

std::optional<ViewOfCamera> expected_view_of(const sight::Scene& scene, const std::vector<sight::ZoneView>& zones,
                                             const string& camera) {
  const auto found = scene.cameras().find(camera);
  if (found == scene.cameras().end() || !found->second.watching) return std::nullopt;
  return Maker(scene, *found->second.watching).make(zones);
}

}  // namespace zoneproof::sheets
