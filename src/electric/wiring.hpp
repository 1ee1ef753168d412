#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "circuit/network.hpp"
#include "circuit/worst_case.hpp"
#include "electric/joint_source.hpp"
#include "electric/situation.hpp"
#include "electric/tracked.hpp"

namespace zoneproof::electric {

/// Plus and minus of something that is fed.
struct Poles {
  circuit::Node plus = circuit::reference;
  circuit::Node minus = circuit::reference;
};

/// A network under construction: circuit elements together with the data they rest on, and what is missing.
class Wiring {
 public:
  circuit::Network network;

  /// `name`: of part_name(), fit for a deck.
  circuit::ElementIndex resistor(const std::string& name, circuit::Node a, circuit::Node b, const Tracked& ohm);
  circuit::ElementIndex voltage(const std::string& name, circuit::Node minus, circuit::Node plus, const Tracked& volt);
  circuit::ElementIndex current(const std::string& name, circuit::Node from, circuit::Node to, const Tracked& ampere);
  circuit::ElementIndex constant_power(const std::string& name, Poles poles, const Tracked& watt, double lockout_volts);
  circuit::ElementIndex diode(const std::string& name, circuit::Node anode, circuit::Node cathode,
                              const Tracked& forward_volts, const Tracked& on_ohm);

  /// One core of the cable that `cable` names: no resistance where there is none, a gap where it is unknown.
  Tracked core_ohm(const site::Site& site, const site::Ref& cable);

  /// Says that a source and the resistance behind it, both here already, are known together.
  void joint(JointSource source) { joints_.push_back(std::move(source)); }
  const std::vector<JointSource>& joints() const { return joints_; }

  /// Something without which the network is not the site's: names the datum.
  void missing(const std::string& pointer, const char* reason);

  /// What element `index` rests on.
  const std::vector<Basis>& bases(circuit::ElementIndex index) const {
    return bases_.at(static_cast<std::size_t>(index));
  }
  /// What the value of a corner's entry rests on: of a diode its forward voltage, or its resistance.
  std::vector<Basis> bases(const circuit::CornerEntry& entry) const;
  const std::vector<chain::Gap>& gaps() const { return gaps_; }

  /// Leaves out every element that `kept` does not name, and the nodes that nothing is left at. Gaps stay, and the
  /// weakest origin of what is gone. Returns what each node is called now; -1: it is gone.
  std::vector<circuit::Node> keep_only(const std::vector<bool>& kept, const std::vector<circuit::Node>& asked);
  /// The weakest origin of what was left out; measured: nothing was.
  site::Origin weakest_left_out() const { return weakest_left_out_; }

 private:
  void rest_on(circuit::ElementIndex index, const Tracked& value);

  std::vector<std::vector<Basis>> bases_;
  std::map<circuit::ElementIndex, std::size_t> forward_bases_;  ///< of a diode: how many of its bases are its voltage's
  std::vector<chain::Gap> gaps_;
  std::vector<JointSource> joints_;
  site::Origin weakest_left_out_ = site::Origin::measured;
};

}  // namespace zoneproof::electric
