#include "field/positions.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "site/relations.hpp"

namespace zoneproof::field {

namespace {

constexpr double none = std::numeric_limits<double>::infinity();
/// A flight ends on the level whose floor is nearest to its last step, if that is within one riser of stairs.
constexpr double riser_m = 0.25;

bool told(const site::PlanPoint& point) { return point.x_m.known() && point.y_m.known(); }

/// The floor at that height above the datum; empty: none.
std::string level_at(const site::Site& site, double height_m) {
  std::string found;
  double least = riser_m;
  for (const auto& [id, level] : site.levels) {
    if (!level.elevation_m.known()) continue;
    const double off = std::fabs(level.elevation_m.nominal - height_m);
    if (off <= least) {
      least = off;
      found = id;
    }
  }
  return found;
}

double plain_m(double ax, double ay, double bx, double by) { return std::hypot(ax - bx, ay - by); }

}  // namespace

Positions::Positions(const site::Site& site) {
  for (const auto& [id, level] : site.levels) {
    const bool known = level.elevation_m.known();
    floors_[id] = known ? level_at(site, level.elevation_m.nominal) : id;
  }
  for (const auto& [id, detector] : site.detectors) take(id, detector.mount);
  for (const auto& [id, camera] : site.cameras) take(id, camera.mount);
  find_middles(site);
  read_stairs(site);
}

void Positions::take(const std::string& device, const site::Mount& mount) {
  const auto floor = floors_.find(mount.level.id);
  if (floor == floors_.end() || !mount.x_m.known() || !mount.y_m.known()) return;
  mounted_[device] = {floor->second, mount.x_m.nominal, mount.y_m.nominal, false};
}

/// The middle of an area: of what is mounted in it, on the floor on which most of that is.
void Positions::find_middles(const site::Site& site) {
  std::map<std::string, std::map<std::string, std::vector<Position>>> in_area;
  for (const auto& [id, at] : mounted_) {
    const std::string area = site::area_of(site, id);
    if (!area.empty()) in_area[area][at.level].push_back(at);
  }
  for (const auto& [area, levels] : in_area) {
    const std::vector<Position>* most = nullptr;
    for (const auto& [level, all] : levels) {
      if (most == nullptr || all.size() > most->size()) most = &all;
    }
    Position middle{most->front().level, 0.0, 0.0, true};
    for (const Position& one : *most) {
      middle.x_m += one.x_m / static_cast<double>(most->size());
      middle.y_m += one.y_m / static_cast<double>(most->size());
    }
    areas_[area] = middle;
  }
}

void Positions::read_stairs(const site::Site& site) {
  std::vector<double> flights;
  for (const auto& [id, stair] : site.stairs) {
    const auto level = site.levels.find(stair.level.id);
    if (level == site.levels.end() || !level->second.elevation_m.known() || !stair.rise_m.known()) continue;
    if (!told(stair.foot) || !told(stair.head)) continue;
    const std::string below = floors_.at(stair.level.id);
    const std::string above = level_at(site, level->second.elevation_m.nominal + stair.rise_m.nominal);
    if (above.empty() || above == below) continue;
    landings_.push_back({below, stair.foot.x_m.nominal, stair.foot.y_m.nominal});
    landings_.push_back({above, stair.head.x_m.nominal, stair.head.y_m.nominal});
    const double run =
        plain_m(stair.foot.x_m.nominal, stair.foot.y_m.nominal, stair.head.x_m.nominal, stair.head.y_m.nominal);
    flights.push_back(std::hypot(run, stair.rise_m.nominal));
  }
  join_landings(flights);
}

/// Shortest ways between landings (Floyd & Warshall).
void Positions::join_landings(const std::vector<double>& flights) {
  const std::size_t count = landings_.size();
  ways_.assign(count, std::vector<double>(count, none));
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t j = 0; j < count; ++j) {
      if (landings_[i].level == landings_[j].level)
        ways_[i][j] = plain_m(landings_[i].x_m, landings_[i].y_m, landings_[j].x_m, landings_[j].y_m);
    }
  }
  for (std::size_t f = 0; f < flights.size(); ++f) ways_[2 * f][2 * f + 1] = ways_[2 * f + 1][2 * f] = flights[f];
  for (std::size_t k = 0; k < count; ++k) {
    for (std::size_t i = 0; i < count; ++i) {
      for (std::size_t j = 0; j < count; ++j) ways_[i][j] = std::min(ways_[i][j], ways_[i][k] + ways_[k][j]);
    }
  }
}

std::optional<Position> Positions::of(const std::string& device, const std::string& area) const {
  if (const auto found = mounted_.find(device); found != mounted_.end()) return found->second;
  if (const auto found = areas_.find(area); found != areas_.end()) return found->second;
  return std::nullopt;
}

std::optional<double> Positions::between(const Position& a, const Position& b) const {
  if (a.level == b.level) return plain_m(a.x_m, a.y_m, b.x_m, b.y_m);
  double best = none;
  for (std::size_t i = 0; i < landings_.size(); ++i) {
    if (landings_[i].level != a.level) continue;
    for (std::size_t j = 0; j < landings_.size(); ++j) {
      if (landings_[j].level != b.level) continue;
      best = std::min(best, plain_m(a.x_m, a.y_m, landings_[i].x_m, landings_[i].y_m) + ways_[i][j] +
                                plain_m(landings_[j].x_m, landings_[j].y_m, b.x_m, b.y_m));
    }
  }
  return best < none ? std::optional(best) : std::nullopt;
}

}  // namespace zoneproof::field
