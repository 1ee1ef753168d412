#pragma once
#include <limits>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "electric/excerpt.hpp"
#include "electric/fault_dark.hpp"
#include "electric/fault_view.hpp"
#include "electric/site_circuit.hpp"
#include "electric/situation.hpp"

/// Inside of the look at faults: everything that a fault could take, in every condition of the supplies, as it stands
/// without one.
namespace zoneproof::electric {

/// One state of one zone in one condition: where it is looked at, and what moves there.
struct StateView {
  std::string zone;
  ZoneState state;
  const SolvedSite* solved = nullptr;
  ZoneWatch watch;
  std::shared_ptr<const Movement> movement;
  FaultySite::Seen before;  ///< without a fault
  LookedAt looked_at = {};  ///< of a state that is a network of its own
};

/// States of neighbouring zones, for one answer to what a fault far away is to all of them.
struct Crowd {
  std::vector<std::size_t> states;                              ///< of the condition, in order
  std::vector<circuit::Node> nodes;                             ///< that are looked at there
  double room_volts = std::numeric_limits<double>::infinity();  ///< of all of them
  std::set<std::string> detectors;                              ///< whose contacts speak there
};

/// One condition of the supplies, armed, with every state of every zone that somebody is to see.
struct Condition {
  SupplyCondition supply = SupplyCondition::mains;
  std::shared_ptr<SolvedSite> rest;
  std::vector<std::shared_ptr<SolvedSite>> others;  ///< states that are networks of their own
  std::vector<StateView> states;
  std::vector<Crowd> crowds;                        ///< of states that are movements of the site at rest
  circuit::Variations::Crowds movements_of_crowds;  ///< likewise
  std::vector<std::size_t> apart;                   ///< states that are not
  SiteView at_rest;                                 ///< without a fault, as the next
  Unsupplied without_supply;
  std::shared_ptr<Bystanders> everybody;  ///< at rest
  LookedAt looked_at;                     ///< at rest, by everybody and in states that are movements
};

/// Whether there is anything of a state, as it stands without a fault, that a fault could take.
bool can_be_lost(const StateView& state);

/// The detectors that speak in a state of a zone: to the panel, and to the units of its triggers.
std::set<std::string> speaking(const site::Site& site, const StateView& state);

/// The conditions of a site.
class Surroundings {
 public:
  /// `zones`: those that are looked at; none: all. Both are referred to.
  Surroundings(const site::Site& site, const std::set<std::string>& zones, FaultWork& work);

  std::vector<Condition> conditions;     ///< mains first
  std::shared_ptr<SolvedSite> disarmed;  ///< on mains
  SiteView at_rest_disarmed;
  std::shared_ptr<Bystanders> everybody_disarmed;
  LookedAt looked_at_disarmed;
  WiredContacts contacts;

 private:
  /// What a state moves, found in a circuit in which the zone's pair is the only one, with the units of its triggers;
  /// nothing where the state is another network.
  using Moves = std::optional<std::vector<NamedChange>>;

  /// What a zone stands in, without the rest of the site: its states come one after the other.
  struct Own {
    std::string zone;
    site::Site excerpt;
    Base base;  ///< of the first condition
  };

  bool anything_alive(SupplyCondition supply) const;
  SiteSituation situation(const site::Site& site, SupplyCondition supply, bool armed,
                          const std::map<std::string, ZoneState>& states) const;
  SiteSituation alone(const std::string& zone, SiteSituation all) const;
  void add_states(Condition& condition, const std::vector<std::string>& quiet, FaultWork& work);
  StateView state_view(Condition& condition, const std::string& zone, const ZoneState& state,
                       const std::vector<std::string>& quiet, FaultWork& work);
  std::optional<std::vector<circuit::Change>> movement_in(const Condition& condition, const std::string& zone,
                                                          const ZoneState& state);
  const Moves& moves_of(const std::string& zone, const ZoneState& state);
  Moves built_moves(const std::string& zone, const ZoneState& state);
  const Own& own(const std::string& zone);

  const site::Site& site_;
  const std::set<std::string>& zones_;
  std::optional<Excerpts> excerpts_;                                ///< made when the first movement is asked for
  std::optional<Own> own_;                                          ///< of the zone that was asked for last
  std::map<std::pair<std::string, std::string>, Moves> movements_;  ///< by zone and state
};

}  // namespace zoneproof::electric
