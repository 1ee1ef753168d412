#include "results/network.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "carriage/answers.hpp"
#include "results/results.hpp"

namespace zoneproof::results {

using chain::Evidence;
using Json = nlohmann::ordered_json;

namespace {

double share(const carriage::HopLoad& load) { return (load.live_bps + load.alarm_bps) / load.rate_bps; }

}  // namespace

bool NetworkAnswer::all_proven() const {
  return !things.empty() && std::all_of(things.begin(), things.end(),
                                        [](const ThingTold& thing) { return thing.verdict == chain::Verdict::proven; });
}

NetworkAnswer network_answer(const site::Site& site) {
  const carriage::SiteStorm storm = carriage::storm_of(site);
  std::map<std::string, ThingTold> things;
  for (Evidence& evidence : carriage::carriage_answers(site, storm)) {
    ThingTold& thing = things[evidence.subject];
    thing.thing = evidence.subject;
    thing.evidence.push_back(std::move(evidence));
  }
  NetworkAnswer answer;
  const auto worse = [](const auto& a, const auto& b) { return chain::rank(a.verdict) < chain::rank(b.verdict); };
  for (auto& [id, thing] : things) {
    std::stable_sort(thing.evidence.begin(), thing.evidence.end(), worse);
    thing.verdict = thing.evidence.front().verdict;
    answer.things.push_back(std::move(thing));
  }
  std::stable_sort(answer.things.begin(), answer.things.end(), worse);
  answer.loads = carriage::hop_loads(storm);
  std::erase_if(answer.loads, [](const carriage::HopLoad& load) { return !load.hop.known; });
  std::stable_sort(answer.loads.begin(), answer.loads.end(),
                   [](const auto& a, const auto& b) { return share(a) > share(b); });
  return answer;
}

Json json_of(const NetworkAnswer& answer) {
  Json things = Json::array(), loads = Json::array();
  for (const ThingTold& thing : answer.things)
    things.push_back(
        {{"thing", thing.thing}, {"verdict", chain::word(thing.verdict)}, {"evidence", json_of(thing.evidence)}});
  for (const carriage::HopLoad& load : answer.loads)
    loads.push_back({{"thing", load.hop.thing},
                     {"from", load.hop.from.empty() ? Json(nullptr) : Json(load.hop.from)},
                     {"rate_bps", load.rate_bps},
                     {"live_bps", load.live_bps},
                     {"alarm_bps", load.alarm_bps}});
  return {{"all_proven", answer.all_proven()}, {"things", std::move(things)}, {"loads", std::move(loads)}};
}

}  // namespace zoneproof::results
