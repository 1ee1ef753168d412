#include "results/survey.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "proof/chains.hpp"
#include "results/field_words.hpp"
#include "results/proof.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

/// What keeps any answer from being one: reason and pointer.
std::set<std::pair<std::string, std::string>> gaps_of(const proof::Proof& proof) {
  std::set<std::pair<std::string, std::string>> gaps;
  const auto take = [&](const std::vector<chain::Evidence>& evidence) {
    for (const chain::Evidence& one : evidence) {
      for (const chain::Gap& gap : one.gaps) gaps.insert({gap.reason, gap.pointer});
    }
  };
  for (const proof::Chain& chain : proof.chains) {
    for (const proof::LinkAnswer& link : chain.links) take(link.evidence);
  }
  take(proof.site_evidence);
  return gaps;
}

OpenDatum datum_of(const site::Site& site, const std::string& reason, const std::string& pointer) {
  OpenDatum datum = {pointer, reason, "", ""};
  const auto place = place_of(site::record_of<site::Site>(), pointer);
  if (!place) return datum;
  datum.thing = owner_words(site, *place);
  if (place->field != nullptr) datum.meaning = std::string(place->field->meaning);
  if (place->field == nullptr && place->record != nullptr) datum.meaning = std::string(place->record->meaning);
  return datum;
}

}  // namespace

const std::vector<std::string>& survey_reasons() {
  static const std::vector<std::string> reasons = {
      "unknown",           "incomplete_list",   "reading_open",    "reading_loaded", "reading_shorted",
      "reading_disagrees", "readings_disagree", "sheet_disagrees", "lens_turns",     "has_range",
      "typical",           "assumed",           "no_rule"};
  return reasons;
}

Survey survey(const site::Site& site, const Progress& progress, Kept* kept) {
  const proof::Proof proof = proof_of(site, "", progress, kept);
  const auto gaps = gaps_of(proof);
  Survey found;
  for (const proof::Chain& chain : proof.chains) {
    const bool broken = std::any_of(chain.links.begin(), chain.links.end(), [](const proof::LinkAnswer& link) {
      return link.verdict == chain::Verdict::broken;
    });
    if (broken) found.broken.push_back(chain.zone);
  }
  for (const std::string& asked : survey_reasons()) {
    for (const auto& [reason, pointer] : gaps) {
      if (reason == asked) found.open.push_back(datum_of(site, reason, pointer));
    }
  }
  return found;
}

Json json_of(const std::vector<OpenDatum>& open) {
  Json list = Json::array();
  for (const OpenDatum& datum : open) {
    list.push_back(
        {{"pointer", datum.pointer}, {"reason", datum.reason}, {"thing", datum.thing}, {"asks", datum.meaning}});
  }
  return list;
}

}  // namespace zoneproof::results
