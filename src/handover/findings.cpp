#include "handover/findings.hpp"

#include <algorithm>

#include "results/kept.hpp"
#include "results/proof.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

namespace {

std::vector<field::ToldOfZone> told_to_the_field(const proof::Proof& proof) {
  std::vector<field::ToldOfZone> told;
  for (const proof::Chain& chain : proof.chains) {
    told.push_back({chain.zone, {}});
    for (const proof::LinkAnswer& link : chain.links) chain::append(told.back().evidence, link.evidence);
  }
  return told;
}

}  // namespace

Findings find(const site::Site& site, const materials::PriceList* prices, const results::Progress& progress) {
  results::Kept kept;
  ReadingsTaken readings;
  proof::Proof proof = results::proof_of(
      site, "", progress, &kept,
      [&](const std::string& zone, const electric::LevelsOfZone& levels) { readings.take(zone, levels); });
  auto scene = std::make_unique<const sight::Scene>(site, &kept.views);
  std::vector<sight::ZoneView> views;
  for (const std::string& zone : zones_in_order(site))
    if (site::has_chain(site, zone)) views.push_back(scene->view(zone, true));
  const std::vector<field::ToldOfZone> told = told_to_the_field(proof);
  // Views are kept no longer than this function; the scene that stays behind asks for none.
  return {site,
          std::move(proof),
          std::make_unique<const sight::Scene>(site),
          std::move(views),
          answers_of(site, std::move(readings).readings()),
          electric::analyse_faults(site),
          results::network_answer(site),
          field::order_of_work(site, told),
          materials::materials_of(site, {nullptr, nullptr, prices})};
}

bool all_proven(const Findings& findings) {
  const results::ProveAnswer all{
      {chain::Link::sense, chain::Link::loop, chain::Link::trigger, chain::Link::view, chain::Link::deliver},
      findings.proof,
      true};
  return all.all_proven();
}

const proof::Chain* chain_of(const Findings& findings, const std::string& zone) {
  const auto found = std::find_if(findings.proof.chains.begin(), findings.proof.chains.end(),
                                  [&](const proof::Chain& chain) { return chain.zone == zone; });
  return found == findings.proof.chains.end() ? nullptr : &*found;
}

}  // namespace zoneproof::handover
