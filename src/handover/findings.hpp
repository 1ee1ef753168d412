#pragma once
#include <memory>
#include <vector>

#include "electric/fault_check.hpp"
#include "field/order_of_work.hpp"
#include "handover/answers.hpp"
#include "materials/materials.hpp"
#include "results/network.hpp"
#include "results/proof.hpp"
#include "results/supply.hpp"
#include "sight/zone_view.hpp"
#include "site/model.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

/// Everything that was computed of a site, once for all chapters.
struct Findings {
  const site::Site& site;
  proof::Proof proof;
  std::unique_ptr<const sight::Scene> scene;
  std::vector<sight::ZoneView> views;  ///< of all zones that want a picture, by number
  Answers answers;                     ///< levels, supplies and arming inputs
  electric::FaultAnalysis faults;
  results::NetworkAnswer network;
  field::OrderOfWork work;
  materials::Materials materials;

  const results::SupplyAnswer& supply() const { return answers.supply; }
};

/// Keeps a reference to the site. Cost: that of the whole proof, and of every single fault (electric/fault_check.hpp).
/// `prices`: the installer's own; null: none.
Findings find(const site::Site& site, const materials::PriceList* prices, const results::Progress& progress);

/// Whether everything is proven of chains and site: what the exit code of `prove` tells.
bool all_proven(const Findings& findings);

/// The chain of a zone; null where it has none.
const proof::Chain* chain_of(const Findings& findings, const std::string& zone);

using site::zones_in_order;

}  // namespace zoneproof::handover
