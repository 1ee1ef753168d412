#pragma once
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "circuit/variation.hpp"
#include "electric/site_circuit.hpp"

/// What everybody on a site sees at one operating point: the panel of each zone, the unit of each trigger, and what is
/// without supply. Nominal values: what a fault does, not how closely.
namespace zoneproof::electric {

struct SiteView {
  std::map<std::string, std::optional<site::Reading>> panel;  ///< by zone; nothing: no window, or no voltage
  std::map<std::string, bool> triggers;                       ///< by trigger: whether its input is outside of normal
  std::map<std::string, std::optional<bool>> armed;  ///< by unit: what its arming input reads; nothing: neither
  std::set<std::string> without_supply;              ///< panels, units, detectors, by id
};

SiteView view_of(const site::Site& site, const SiteCircuit& circuit, const std::vector<double>& voltage);

/// The whole site solved in one condition, armed or not, with zones in some state; and any single changes of it.
class SolvedSite {
 public:
  SolvedSite(const site::Site& site, const SiteSituation& situation);

  const SiteCircuit& circuit() const { return *circuit_; }
  /// Voltages of all nodes after the changes; NaN where one floats.
  std::vector<double> voltages(const std::vector<circuit::Change>& changes) const {
    return variations_->with(changes).voltage;
  }
  /// What is seen after the changes; with how many of them had to be solved anew counted into `fresh`.
  SiteView view(const std::vector<circuit::Change>& changes, long long& fresh) const;

 private:
  const site::Site* site_;
  std::unique_ptr<SiteCircuit> circuit_;  ///< its network is referred to
  std::unique_ptr<circuit::Variations> variations_;
};

/// The contact movements that bring `zone` from rest into a state, as changes of the network at rest; nothing where the
/// state is another network (an output that switches, a cut or shorted pair).
std::optional<std::vector<circuit::Change>> movement_of(const SiteCircuit& rest, const SiteCircuit& moved);

}  // namespace zoneproof::electric
