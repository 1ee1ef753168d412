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
/// Of those that are watched. `volts` tells whether one of them stands near a limit.
SiteView view_of(const site::Site& site, const Watch& watch, Volts& volts);

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
  const Hanging& hanging() const { return hanging_; }
  /// Voltages of all nodes after the changes; NaN where one floats.
  std::vector<double> voltages(const std::vector<circuit::Change>& changes) const {
    return variations_->with(changes).voltage;
  }
  /// What is seen after the changes.
  SiteView view(const std::vector<circuit::Change>& changes, FaultWork& work) const;

 private:
  const site::Site* site_;
  std::unique_ptr<SiteCircuit> circuit_;  ///< its network is referred to
  Watch watch_;
  FeedWatch feeds_;
  std::unique_ptr<circuit::Variations> variations_;
  Hanging hanging_;
};

/// Everybody who looks at a solved site at rest, in parts: most faults move nothing of most of them.
struct Bystanders {
  std::vector<PartOfWatch> parts;
  std::vector<circuit::Variations::Asked> asked;  ///< by part
  std::vector<double> room_volts;                 ///< likewise: by which its nodes may move and nothing of it changes
  circuit::Variations::Crowds crowds;             ///< of parts in which nothing moves
  explicit Bystanders(const SolvedSite& site);
};

/// Nodes that are looked at together: where a fault moves one of a group, all of it is wanted.
using LookedAt = std::vector<std::vector<circuit::Node>>;

/// What a supply that gives nothing is in the network of a site. Its units are off: they do not draw on.
std::vector<circuit::Change> dead_supply(const site::Site& site, const SiteCircuit& circuit, const std::string& supply);

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
/// state; one that the formula does not take is put into the network, once for all states, as contacts that are held
/// are where they are many.
class FaultySite {
 public:
  struct Seen {
    bool panel_right = false, pictured = false;
    double room_volts = 0.0;  ///< by which nodes may move and nothing of it changes
  };

  /// `sound`, `looked_at` and `work` are referred to. `looked_at`: everything that will be looked at; null: any node
  /// may be.
  FaultySite(const SolvedSite& sound, const SingleFault& fault, FaultWork& work, const LookedAt* looked_at = nullptr);

  /// Cost: of a glance (circuit/variation.hpp), but for voltages near a limit.
  /// `movement` was made ready for the sound site, with the nodes of `zone`.
  Seen look(const Movement& movement, const ZoneWatch& zone);
  /// The same, where it is known what is seen without the fault.
  Seen look(const Movement& movement, const ZoneWatch& zone, const Seen& sound);
  /// By group: no node that is looked at beside any of its movements is moved by the fault by more than this, in V;
  /// infinite where that cannot be told without a look.
  std::vector<double> most_moved(const circuit::Variations::Crowds& movements) const;
  /// False: what has changed moves none of these nodes, whatever else is done. Asked only where the bound above tells
  /// nothing: linear in the network, once.
  bool may_move(const std::vector<circuit::Node>& nodes);
  /// What has no supply at rest.
  Unsupplied without_supply();
  /// The same, where it is known what has none without the fault.
  Unsupplied without_supply(const Bystanders& everybody, const Unsupplied& sound);
  /// What is seen at rest by whoever may see something else than without the fault; nothing is told of the others.
  SiteView view(const Bystanders& everybody);
  /// From now on these contacts stand so, whatever moves them; one that the fault holds stays as it is.
  void hold(const std::vector<circuit::Change>& contacts);

 private:
  /// The network with the fault in it, as far as anything that is looked at depends on what has changed.
  struct Own {
    circuit::Network network = {};
    std::vector<circuit::Node> nodes;             ///< by node of the sound network; -1: it is not there
    std::vector<circuit::ElementIndex> elements;  ///< likewise
    std::unique_ptr<circuit::Variations> variations;

    Own(const circuit::Network& sound, const std::vector<circuit::Node>& asked,
        const std::vector<circuit::Change>& changes);
    std::vector<circuit::Change> of(const std::vector<circuit::Change>& changes) const;
    std::optional<std::vector<circuit::Node>> of(const std::vector<circuit::Node>& asked) const;
  };

  std::vector<double> exactly(const std::vector<circuit::Change>& movement, const std::vector<circuit::Node>& asked);
  std::optional<std::vector<double>> glance(const Movement& movement);
  bool can_move(const std::vector<circuit::Node>& nodes);
  static Seen seen(const ZoneWatch& zone, Volts& volts);
  template <class Do>
  void each_moved(const Bystanders& everybody, Do&& look);
  std::vector<circuit::Change> with_fault(const std::vector<circuit::Change>& movement) const;
  bool holds(const circuit::Change& movement) const;
  bool holds_one_of(const std::vector<circuit::Change>& movement) const;
  void change_to(std::vector<circuit::Change> changes);
  void put_in();

  const SolvedSite& sound_;
  const LookedAt* looked_at_;
  std::vector<circuit::Change> changes_;  ///< the fault, and what is held
  circuit::Variations::Ready ready_;      ///< all of them, for the sound site
  circuit::Variations::Shock shock_;      ///< likewise
  FaultWork& work_;
  int refined_ = 0;  ///< answers by the formula that a glance did not give
  std::unique_ptr<Own> anew_;
  std::vector<bool> movable_;  ///< per node, once it is asked for: whether what has changed can move it
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
