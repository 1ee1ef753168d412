#include "results/clip.hpp"

#include <algorithm>
#include <atomic>
#include <nlohmann/json.hpp>

#include "base/parallel_for.hpp"
#include "messages/results.hpp"
#include "results/results.hpp"
#include "results/zone_named.hpp"
#include "site/file.hpp"
#include "site/relations.hpp"
#include "timeline/answers.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;
using timeline::Told;

namespace {

/// Two numbers, null where the moment is not known.
void put_span(Json& object, const char* low, const char* high, const Told& told) {
  object[low] = told.known ? Json(told.span.low) : Json(nullptr);
  object[high] = told.known ? Json(told.span.high) : Json(nullptr);
}

Json json_of_line(const timeline::Line& line) {
  Json json = {{"what", word(line.what)}, {"thing", line.thing}};
  put_span(json, "earliest_s", "latest_s", line.at);
  json["gaps"] = json_of(line.at.gaps);
  return json;
}

Json json_of_row(const timeline::EdgeRow& row) {
  Json json = {{"phase", word(row.phase)}, {"alarm", word(row.alarm)}, {"clip", word(row.clip)}};
  json["lasts_s"] = row.lasts.known ? Json(row.lasts.span.high) : Json(nullptr);
  json["gaps"] = json_of(row.gaps);
  return json;
}

Json json_of_restart(const timeline::Restart& restart) {
  Json things = Json::array();
  for (const timeline::Restart::Thing& thing : restart.things) {
    Json one = {{"thing", thing.id}};
    put_span(one, "earliest_s", "latest_s", thing.works);
    things.push_back(std::move(one));
  }
  Json json = {{"things", std::move(things)}};
  put_span(json, "earliest_s", "latest_s", restart.all);
  put_span(json, "panel_earliest_s", "panel_latest_s", restart.panel);
  json["without_clip_s"] = restart.without_clip.known ? Json(restart.without_clip.span.high) : Json(nullptr);
  json["gaps"] = json_of(restart.without_clip.gaps);
  return json;
}

Json json_of_clip(const ClipTold& clip) {
  Json log = Json::array(), arming = Json::array();
  for (const timeline::Line& line : clip.log.lines) log.push_back(json_of_line(line));
  for (const timeline::EdgeRow& row : clip.arming) arming.push_back(json_of_row(row));
  return {{"trigger", clip.log.trigger}, {"channel", clip.log.channel}, {"camera", clip.log.camera},
          {"log", std::move(log)},       {"arming", std::move(arming)}, {"restart", json_of_restart(clip.restart)}};
}

ZoneClips clips_of(const sight::Scene& scene, const std::string& zone, const timeline::Carrying& carrying) {
  const site::Site& site = scene.site();
  ZoneClips told;
  told.zone = zone;
  const sight::ZoneView view = scene.view(zone, false);
  told.crossing = timeline::crossing_of(site, view);
  for (timeline::AlarmLog& log : timeline::logs_of_zone(site, zone, told.crossing, carrying, told.gaps)) {
    ClipTold clip = {{}, timeline::arming_edge(site, log.trigger), timeline::restart(site, log.trigger, log.channel)};
    clip.log = std::move(log);
    told.clips.push_back(std::move(clip));
  }
  told.evidence = timeline::evidence_of_zone(site, view, carrying);
  return told;
}

}  // namespace

bool ClipAnswer::all_proven() const {
  const auto proven = [](const chain::Evidence& evidence) { return evidence.verdict == chain::Verdict::proven; };
  return !zones.empty() && std::all_of(zones.begin(), zones.end(), [&](const ZoneClips& zone) {
    return !zone.evidence.empty() && std::all_of(zone.evidence.begin(), zone.evidence.end(), proven);
  });
}

Answered<ClipAnswer> answer(const site::Site& site, const ClipQuestion& question, const Progress& progress) {
  Answered<ClipAnswer> out;
  const ZoneFound named = find_zone(site, question.zone);
  if (named.problem) out.problems.push_back(*named.problem);
  if (!out.problems.empty()) return out;
  std::vector<std::string> zones;
  for (const auto& entry : site.zones)
    if (site::has_chain(site, entry.first) && (named.id.empty() || entry.first == named.id))
      zones.push_back(entry.first);
  std::stable_sort(zones.begin(), zones.end(), [&](const std::string& a, const std::string& b) {
    return site.zones.at(a).number.value.value_or(0) < site.zones.at(b).number.value.value_or(0);
  });
  const sight::Scene scene(site);
  const timeline::Carrying carrying = timeline::carrying_of(carriage::clip_bounds(carriage::storm_of(site)));
  ClipAnswer answer;
  answer.zones.resize(zones.size());
  std::atomic<long long> done = 0;
  parallel_for(zones.size(), [&](std::size_t i) {
    answer.zones[i] = clips_of(scene, zones[i], carrying);
    if (progress) progress(text(say::progress_zones(++done, static_cast<long long>(zones.size()))));
  });
  out.answer = std::move(answer);
  return out;
}

Json json_of(const site::Site& site, const ClipAnswer& answer) {
  Json zones = Json::array();
  for (const ZoneClips& one : answer.zones) {
    const site::Zone& zone = site.zones.at(one.zone);
    Json clips = Json::array();
    for (const ClipTold& clip : one.clips) clips.push_back(json_of_clip(clip));
    zones.push_back({{"zone", one.zone},
                     {"number", zone.number.known() ? Json(*zone.number.value) : Json(nullptr)},
                     {"name", zone.name},
                     {"way_m", one.crossing.way_m > 0.0 ? Json(one.crossing.way_m) : Json(nullptr)},
                     {"evidence", json_of(one.evidence)},
                     {"clips", std::move(clips)},
                     {"gaps", json_of(one.gaps)}});
  }
  return {{"all_proven", answer.all_proven()}, {"zones", std::move(zones)}};
}

Reply reply_of(const site::Site& site, const ClipAnswer& answer) {
  return {results_text("clip", site::site_hash(site), json_of(site, answer)), answer.all_proven() ? 0 : 1};
}

const char* word(timeline::Happens what) {
  using timeline::Happens;
  switch (what) {
    case Happens::enters: return "enters";
    case Happens::trips: return "trips";
    case Happens::panel_counts: return "panel_counts";
    case Happens::entry_ends: return "entry_ends";
    case Happens::unit_counts: return "unit_counts";
    case Happens::clip_asked: return "clip_asked";
    case Happens::clip_begins: return "clip_begins";
    case Happens::clip_ends: return "clip_ends";
    case Happens::leaves: return "leaves";
    case Happens::picture_at_station: return "picture_at_station";
    case Happens::picture_shown: return "picture_shown";
    case Happens::clip_at_station: break;
  }
  return "clip_at_station";
}

const char* word(timeline::ArmingPhase phase) {
  using timeline::ArmingPhase;
  switch (phase) {
    case ArmingPhase::disarmed: return "disarmed";
    case ArmingPhase::leaving: return "leaving";
    case ArmingPhase::armed: return "armed";
    case ArmingPhase::entering: break;
  }
  return "entering";
}

const char* word(timeline::Does does) {
  using timeline::Does;
  switch (does) {
    case Does::yes: return "yes";
    case Does::no: return "no";
    case Does::later: return "later";
    case Does::open: break;
  }
  return "open";
}

}  // namespace zoneproof::results
