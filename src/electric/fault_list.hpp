#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "circuit/variation.hpp"
#include "electric/site_circuit.hpp"

/// Everything that can fail by itself in the wiring of a site.
namespace zoneproof::electric {

enum class FaultKind {
  open,          ///< a wire, joint, resistor or fuse conducts no more
  shorted,       ///< a resistor is bridged, a pair touches itself
  drifted,       ///< a joint or resistor far from its value (rulebook: fault_joint_ohm, fault_resistor_drift_pct)
  stuck_closed,  ///< a contact that closes and never opens again
  stuck_open,    ///< a contact that opens and never closes again
  touching,      ///< two neighbouring cores or screws
  to_negative,   ///< a core or screw against the panel's negative
  to_positive,   ///< a core or screw against the panel's positive
  dead           ///< a supply gives nothing, whatever feeds it
};
const char* word(FaultKind kind);

/// One fault, by the names that its place has in every network of the site.
struct SingleFault {
  std::string id;  ///< unique in a site and stable: "z1.go/open", "t1.in/touching/t2.in"
  FaultKind kind = FaultKind::open;
  std::string element;      ///< of the network; empty for a bridge or a dead supply
  std::string a, b;         ///< nodes of a bridge
  double ohm = 0.0;         ///< what the element or the bridge is then
  std::string dead_supply;  ///< id; kind dead
  std::string zone;         ///< whose pair or trigger wire it is in; empty: of the site
  std::string pointer;      ///< of what fails, in the site file
  Message says;             ///< "The wire from the panel to Zone 1 (Front door) is broken."
};

/// All faults of a site whose wiring is `circuit` (everything in earnest, at rest), in the order of zones, triggers,
/// units and feeds. Where the rulebook has no figure for a drift, none is listed.
std::vector<SingleFault> single_faults(const site::Site& site, const SiteCircuit& circuit);

/// What hangs on one element alone, found once for many faults of a network.
class Hanging {
 public:
  /// Referred to is the network. Cost: linear.
  explicit Hanging(const circuit::Network& network);
  /// Current sources with an end that nothing leads to once `cut` is open, in order.
  std::vector<circuit::ElementIndex> sources_without(circuit::ElementIndex cut) const;

 private:
  class Search;
  struct Span {
    int first = 0, last = -1;
  };
  const circuit::Network& network_;
  std::vector<circuit::ElementIndex> sources_;
  std::vector<int> reached_;  ///< per node: when; 0: never
  std::vector<Span> behind_;  ///< per element: when what it alone leads to was reached
};

/// What the fault is in a network; nothing where it has no place there (a supply that is off, an arming output that is
/// switched off), or for a dead supply: see dead_supply() of fault_view.hpp.
std::vector<circuit::Change> changes_of(const SingleFault& fault, const circuit::Network& network);
std::vector<circuit::Change> changes_of(const SingleFault& fault, const circuit::Network& network,
                                        const Hanging& hanging);

}  // namespace zoneproof::electric
