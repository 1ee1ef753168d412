#pragma once
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "circuit/variation.hpp"
#include "electric/fault_list.hpp"
#include "electric/fault_watch.hpp"
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

SiteView view_of(const site::Site& site, const Watch& watch, const std::vector<double>& voltage);

/// How much was asked of the solver.
struct FaultWork {
  long long variations = 0;   ///< operating points looked at
  long long solved_anew = 0;  ///< networks that needed a solution of their own
};

/// The whole site solved in one condition, armed or not, with zones in some state; and any single changes of it.
class SolvedSite {
 public:
  SolvedSite(const site::Site& site, const SiteSituation& situation);

  const SiteCircuit& circuit() const { return *circuit_; }
  const Watch& watch() const { return watch_; }
  const FeedWatch& feeds() const { return feeds_; }
  const site::Site& site() const { return *site_; }
  const circuit::Variations& variations() const { return *variations_; }
  /// Voltages of all nodes after the changes; NaN where one floats.
  std::vector<double> voltages(const std::vector<circuit::Change>& changes) const {
    return variations_->with(changes).voltage;
  }
  /// What is seen after the changes.
  SiteView view(const std::vector<circuit::Change>& changes, FaultWork& work) const;
  /// What is seen with the fault, and `contacts` where they stand without supply; one that is stuck stays stuck.
  SiteView view(const SingleFault& fault, const std::vector<circuit::Change>& contacts, FaultWork& work) const;

 private:
  const site::Site* site_;
  std::unique_ptr<SiteCircuit> circuit_;  ///< its network is referred to
  Watch watch_;
  FeedWatch feeds_;
  std::unique_ptr<circuit::Variations> variations_;
};

/// What moves in one state of a zone, and where that is looked at, made ready for many glances at one solved site.
struct Movement {
  std::vector<circuit::Change> changes;
  circuit::Variations::Ready ready;
  circuit::Variations::Asked asked;
  circuit::Variations::Alone alone;

  /// `as_of`: another of the same zone, to share what is looked at where that is the same.
  Movement(const SolvedSite& site, std::vector<circuit::Change> moves, const ZoneWatch& watch,
           const Movement* as_of = nullptr);
};

/// One of these with a fault in it, for many states of its zones. Most faults are branches more in the formula of each
/// state; one that the formula does not take is put into the network, once for all states. Contacts that are held are
/// branches of the formula beside it, or, where they are many, in the network as well.
class FaultySite {
 public:
  struct Seen {
    bool panel_right = false, pictured = false;
    double room_volts = 0.0;  ///< by which nodes may move and nothing of it changes
  };

  /// `sound` and `work` are referred to.
  FaultySite(const SolvedSite& sound, const SingleFault& fault, FaultWork& work);

  /// Cost: of a glance (circuit/variation.hpp), but for voltages near a limit.
  /// `movement` was made ready for the sound site, with the nodes of `zone`.
  Seen look(const Movement& movement, const ZoneWatch& zone);
  /// The same, where it is known what is seen without the fault.
  Seen look(const Movement& movement, const ZoneWatch& zone, const Seen& sound);
  /// By group: no node that is looked at beside any of its movements is moved by the fault by more than this, in V;
  /// infinite where that cannot be told without a look.
  std::vector<double> most_moved(const circuit::Variations::Crowds& movements) const;
  /// What has no supply at rest.
  Unsupplied without_supply();
  /// What everybody sees at rest.
  SiteView view();
  /// From now on these contacts stand so, whatever moves them; one that the fault holds stays as it is.
  void hold(const std::vector<circuit::Change>& contacts);

 private:
  circuit::Varied exactly(const std::vector<circuit::Change>& movement);
  std::optional<std::vector<double>> glance(const Movement& movement) const;
  std::vector<circuit::Change> with_fault(const std::vector<circuit::Change>& movement) const;
  bool holds(const circuit::Change& movement) const;
  bool holds_one_of(const std::vector<circuit::Change>& movement) const;
  void change_to(std::vector<circuit::Change> changes);
  void put_in();

  const SolvedSite& sound_;
  std::vector<circuit::Change> changes_;  ///< the fault, and what is held
  std::vector<circuit::Change> beside_;   ///< of these, what the network with the fault does not hold
  circuit::Variations::Ready ready_;      ///< all of them, for the sound site
  circuit::Variations::Shock shock_;      ///< likewise
  FaultWork& work_;
  int refined_ = 0;                            ///< answers by the formula that a glance did not give
  std::unique_ptr<circuit::Network> network_;  ///< with the fault in it
  std::unique_ptr<circuit::Variations> anew_;
};

/// The contact movements that bring `zone` from rest into a state, as changes of the network at rest; nothing where the
/// state is another network (an output that switches, a cut or shorted pair).
std::optional<std::vector<circuit::Change>> movement_of(const SiteCircuit& rest, const SiteCircuit& moved);

/// A change of an element by its name, for other circuits of the same site.
struct NamedChange {
  std::string element;
  circuit::Kind kind = circuit::Kind::resistor;
  double before = 0.0, after = 0.0;  ///< ohm
};
std::vector<NamedChange> by_name(const SiteCircuit& rest, const std::vector<circuit::Change>& movement);

/// A movement in another condition of the supplies: what moves is contacts, which do not know what feeds them. Nothing
/// where one of them is not there as it was.
std::optional<std::vector<circuit::Change>> same_movement(const std::vector<NamedChange>& movement,
                                                          const SiteCircuit& rest);

}  // namespace zoneproof::electric
