#include "materials/estimate.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <vector>

#include "base/embedded.hpp"
#include "site/relations.hpp"

namespace zoneproof::materials {

namespace {

struct Allowance {
  double more_pct = 0.0, end_m = 0.0;
};

const Allowance& allowance() {
  static const Allowance read = [] {
    const auto json = nlohmann::json::parse(embedded_file("costs/cable_estimate.json"));
    return Allowance{json.at("more_pct").get<double>(), json.at("end_m").get<double>()};
  }();
  return read;
}

}  // namespace

std::optional<CableEstimates::End> CableEstimates::end_of(const site::Mount& mount) const {
  const auto level = site_.levels.find(mount.level.id);
  if (level == site_.levels.end() || !mount.x_m.known() || !mount.y_m.known()) return std::nullopt;
  const site::FloorLevel& floor = level->second;
  if (!floor.elevation_m.known() || !floor.ceiling_m.known()) return std::nullopt;
  const double height = mount.z_m.known() ? mount.z_m.nominal : 0.0;
  return End{mount.x_m.nominal, mount.y_m.nominal, floor.elevation_m.nominal,
             std::max(0.0, floor.ceiling_m.nominal - height), false};
}

std::optional<CableEstimates::End> CableEstimates::middle_of(const std::string& area) const {
  std::map<std::string, std::vector<End>> levels;
  for (const auto& [id, detector] : site_.detectors) {
    if (detector.area.id != area) continue;
    site::Mount on_floor = detector.mount;
    on_floor.z_m = {};
    if (const auto end = end_of(on_floor)) levels[detector.mount.level.id].push_back(*end);
  }
  const std::vector<End>* most = nullptr;
  for (const auto& [level, ends] : levels) {
    if (most == nullptr || ends.size() > most->size()) most = &ends;
  }
  if (most == nullptr) return std::nullopt;
  End middle = most->front();
  middle.x_m = middle.y_m = 0.0;
  middle.rough = true;
  for (const End& end : *most) {
    middle.x_m += end.x_m / static_cast<double>(most->size());
    middle.y_m += end.y_m / static_cast<double>(most->size());
  }
  return middle;
}

std::optional<CableEstimates::End> CableEstimates::end_of(const std::string& id) const {
  if (const auto detector = site_.detectors.find(id); detector != site_.detectors.end()) {
    if (const auto end = end_of(detector->second.mount)) return end;
  }
  if (const auto camera = site_.cameras.find(id); camera != site_.cameras.end()) return end_of(camera->second.mount);
  const std::string area = site::area_of(site_, id);
  return area.empty() ? std::nullopt : middle_of(area);
}

std::optional<Estimate> CableEstimates::between(const std::string& a, const std::string& b) const {
  const std::optional<End> from = end_of(a), to = end_of(b);
  if (!from || !to) return std::nullopt;
  const double way = std::fabs(from->x_m - to->x_m) + std::fabs(from->y_m - to->y_m) +
                     std::fabs(from->floor_m - to->floor_m) + from->riser_m + to->riser_m;
  const Allowance& more = allowance();
  return Estimate{way * (1.0 + more.more_pct / 100.0) + 2.0 * more.end_m, from->rough || to->rough};
}

}  // namespace zoneproof::materials
