#include "results/sight.hpp"

#include <algorithm>
#include <atomic>
#include <nlohmann/json.hpp>

#include "base/parallel_for.hpp"
#include "chain/channels.hpp"
#include "messages/results.hpp"
#include "results/results.hpp"
#include "results/zone_named.hpp"
#include "sight/answers.hpp"
#include "sight/words.hpp"
#include "site/file.hpp"
#include "site/relations.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

/// A camera by its id or the name that people call it; the problem where there is none.
std::optional<std::string> find_camera(const site::Site& site, const std::string& asked,
                                       std::vector<Message>& problems) {
  if (asked.empty() || site.cameras.count(asked) != 0) return asked;
  std::vector<std::string> known;
  for (const auto& [id, camera] : site.cameras) {
    if (camera.name == asked) return id;
    known.push_back(id);
  }
  problems.push_back(known.empty() ? say::no_cameras(asked) : say::no_such_camera(asked, known));
  return std::nullopt;
}

std::vector<std::string> zones_asked(const site::Site& site, const std::string& zone, const std::string& camera) {
  std::vector<std::string> zones;
  for (const auto& [id, entry] : site.zones) {
    if ((!zone.empty() && id != zone) || !site::has_chain(site, id)) continue;
    std::vector<chain::Gap> gaps;
    const std::vector<std::string> cameras = chain::cameras_of_zone(site, id, gaps);
    if (camera.empty() || std::find(cameras.begin(), cameras.end(), camera) != cameras.end()) zones.push_back(id);
  }
  return zones;
}

ZoneSeen seen(const sight::Scene& scene, const std::string& zone, bool cures) {
  ZoneSeen one;
  one.view = scene.view(zone, true);
  one.witnessed = sight::witnessed(scene, one.view);
  one.sensed = sight::sensed(scene, zone);
  if (cures) one.cures = sight::cures_of(scene, one.view);
  return one;
}

bool only_live(const site::Site& site, const std::string& camera) {
  bool any = false;
  for (const auto& [id, channel] : site.channels) {
    if (channel.camera.id != camera) continue;
    if (!channel.live_only.yes()) return false;
    any = true;
  }
  return any;
}

CameraUse use_of(const sight::Scene& scene, const std::string& camera) {
  const site::Site& site = scene.site();
  const sight::WatchingFound& found = scene.cameras().at(camera);
  CameraUse use;
  use.camera = camera;
  use.zones = zones_asked(site, "", camera);
  use.gaps = found.gaps;
  use.live_only = only_live(site, camera);
  if (!found.watching) return use;
  bool any = false, open = false;
  for (const std::string& zone : use.zones.empty() ? zones_asked(site, "", "") : use.zones) {
    const sight::Coverage shown = scene.coverage_by(zone, {*found.watching});
    if (shown.area_m2 <= 0.0) {  // where its detectors reach is not known: no share can be told
      open = true;
      continue;
    }
    any = any || shown.witnessed_m2 > 0.0;
    if (shown.witnessed_m2 > 0.0 || !use.zones.empty()) use.shown_pct[zone] = shown.share_pct();
  }
  use.shows_nothing = !any && !open;
  for (const auto& [id, area] : site.privacy_areas) {
    const double filmed = sight::filmed_m2(scene, *found.watching, area);
    if (filmed > scene.rules().least_patch_m2) use.filmed_m2[id] = filmed;
  }
  return use;
}

Json json_of_outlines(const sight::Outlines& outlines) {
  Json rings = Json::array();
  for (const auto& ring : outlines) {
    Json points = Json::array();
    for (const plane::Point point : ring) points.push_back({{"x_m", point.x}, {"y_m", point.y}});
    rings.push_back(std::move(points));
  }
  return rings;
}

Json json_of_patch(const site::Site& site, const sight::Patch& patch, std::size_t number) {
  Json causes = Json::array();
  for (const sight::Cause& cause : patch.causes)
    causes.push_back({{"camera", cause.camera},
                      {"why", sight::word(cause.why)},
                      {"thing", cause.thing.empty() ? Json(nullptr) : Json(cause.thing)},
                      {"mask", cause.mask.empty() ? Json(nullptr) : Json(cause.mask)},
                      {"area_m2", cause.area_m2},
                      {"alone_m2", cause.alone_m2},
                      {"says", json_of(sight::cause_message(site, cause))}});
  return {{"number", number},
          {"level", patch.level},
          {"floor_m", patch.floor_m},
          {"area_m2", patch.area_m2},
          {"x_m", patch.inside.x},
          {"y_m", patch.inside.y},
          {"causes", std::move(causes)},
          {"outlines", json_of_outlines(patch.outlines)}};
}

Json json_of_worst(const std::optional<sight::WorstPlace>& worst) {
  if (!worst) return nullptr;
  return {{"camera", worst->camera}, {"level", worst->level},       {"x_m", worst->at.x},
          {"y_m", worst->at.y},      {"px_per_m", worst->px_per_m}, {"height_pct", json_of_number(worst->height_pct)}};
}

Json json_of_zone(const site::Site& site, const ZoneSeen& one, double limit_pct) {
  const sight::Coverage& coverage = one.view.coverage;
  Json patches = Json::array(), cures = Json::array(), areas = Json::array(), by_camera = Json::object();
  for (std::size_t i = 0; i < coverage.patches.size(); ++i)
    patches.push_back(json_of_patch(site, coverage.patches[i], i + 1));
  for (const sight::Cure& cure : one.cures)
    cures.push_back({{"kind", sight::word(cure.kind)},
                     {"camera", cure.camera},
                     {"size", cure.size},
                     {"share_pct", cure.share_pct},
                     {"says", json_of(sight::cure_words(site, cure, limit_pct))}});
  for (std::size_t i = 0; i < coverage.areas.size(); ++i)
    areas.push_back({{"level", coverage.area_levels[i]},
                     {"floor_m", coverage.area_floors_m[i]},
                     {"outlines", json_of_outlines(coverage.areas[i])}});
  for (const auto& [camera, area] : coverage.by_camera_m2) by_camera[camera] = area;
  const site::Zone& zone = site.zones.at(one.view.zone);
  return {{"zone", one.view.zone},
          {"number", zone.number.known() ? Json(*zone.number.value) : Json(nullptr)},
          {"name", zone.name},
          {"witnessed", json_of(one.witnessed)},
          {"sensed", json_of(one.sensed)},
          {"cameras", one.view.cameras},
          {"area_m2", coverage.area_m2},
          {"witnessed_m2", coverage.witnessed_m2},
          {"by_camera_m2", std::move(by_camera)},
          {"worst_place", json_of_worst(coverage.worst)},
          {"patches", std::move(patches)},
          {"cures", std::move(cures)},
          {"areas", std::move(areas)}};
}

Json json_of_use(const CameraUse& use) {
  Json shown = Json::object(), filmed = Json::object(), gaps = Json::array();
  for (const auto& [zone, share] : use.shown_pct) shown[zone] = share;
  for (const auto& [area, size] : use.filmed_m2) filmed[area] = size;
  for (const chain::Gap& gap : use.gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  return {{"camera", use.camera},           {"zones", use.zones},         {"shown_pct", std::move(shown)},
          {"filmed_m2", std::move(filmed)}, {"live_only", use.live_only}, {"shows_nothing", use.shows_nothing},
          {"gaps", std::move(gaps)}};
}

}  // namespace

bool SightAnswer::all_seen() const {
  const auto proven = [](const chain::Evidence& evidence) { return evidence.verdict == chain::Verdict::proven; };
  return std::all_of(zones.begin(), zones.end(),
                     [&](const ZoneSeen& one) {
                       return proven(one.witnessed) && std::all_of(one.sensed.begin(), one.sensed.end(), proven);
                     }) &&
         std::all_of(cameras.begin(), cameras.end(), [](const CameraUse& use) { return use.filmed_m2.empty(); }) &&
         !zones.empty();
}

Answered<SightAnswer> answer(const site::Site& site, const SightQuestion& question, const Progress& progress) {
  Answered<SightAnswer> out;
  const ZoneFound zone = find_zone(site, question.zone);
  if (zone.problem) out.problems.push_back(*zone.problem);
  const std::optional<std::string> camera = find_camera(site, question.camera, out.problems);
  if (!out.problems.empty()) return out;
  const sight::Scene scene(site);
  const std::vector<std::string> zones = zones_asked(site, zone.id, *camera);
  SightAnswer answer;
  answer.whole_pct = scene.rules().whole_pct();
  answer.zones.resize(zones.size());
  std::atomic<long long> done = 0;
  parallel_for(zones.size(), [&](std::size_t i) {
    answer.zones[i] = seen(scene, zones[i], question.cures);
    if (progress) progress(text(say::progress_zones(++done, static_cast<long long>(zones.size()))));
  });
  std::vector<std::string> cameras;
  for (const auto& [id, entry] : site.cameras) {
    if (!question.uses) break;
    bool asked = camera->empty() ? zone.id.empty() : id == *camera;
    for (const ZoneSeen& one : answer.zones)
      asked = asked || std::find(one.view.cameras.begin(), one.view.cameras.end(), id) != one.view.cameras.end();
    if (asked) cameras.push_back(id);
  }
  answer.cameras = parallel_map<CameraUse>(cameras.size(), [&](std::size_t i) { return use_of(scene, cameras[i]); });
  std::stable_sort(answer.zones.begin(), answer.zones.end(), [&](const ZoneSeen& a, const ZoneSeen& b) {
    const int rank_a = chain::rank(a.witnessed.verdict), rank_b = chain::rank(b.witnessed.verdict);
    if (rank_a != rank_b) return rank_a < rank_b;
    return site.zones.at(a.view.zone).number.value.value_or(0) < site.zones.at(b.view.zone).number.value.value_or(0);
  });
  out.answer = std::move(answer);
  return out;
}

Json json_of(const site::Site& site, const SightAnswer& answer) {
  std::vector<const ZoneSeen*> sorted;
  for (const ZoneSeen& one : answer.zones) sorted.push_back(&one);
  std::sort(sorted.begin(), sorted.end(), [](const auto* a, const auto* b) { return a->view.zone < b->view.zone; });
  Json zones = Json::array(), cameras = Json::array();
  for (const ZoneSeen* one : sorted) zones.push_back(json_of_zone(site, *one, answer.whole_pct));
  for (const CameraUse& use : answer.cameras) cameras.push_back(json_of_use(use));
  return {{"all_seen", answer.all_seen()}, {"zones", std::move(zones)}, {"cameras", std::move(cameras)}};
}

Reply reply_of(const site::Site& site, const SightAnswer& answer) {
  return {results_text("sight", site::site_hash(site), json_of(site, answer)), answer.all_seen() ? 0 : 1};
}

}  // namespace zoneproof::results
