#include "electric/ohmmeter.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>

#include "electric/answer.hpp"
#include "electric/element_name.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Node;

constexpr double faint_meter_A = 1e-9;
/// Below the open voltage by less than this share nothing tells the network from an open one.
constexpr double open_share = 1e-6;

bool solved_well(circuit::Trouble trouble) {
  return trouble == circuit::Trouble::none || trouble == circuit::Trouble::leakage_defined;
}

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// The negatives of a site as a wiring of their own: copies of those conductors of the one circuit that join them.
class Negatives {
 public:
  explicit Negatives(const site::Site& site) {
    backbone_ = build_backbone(site, SupplyCondition::mains, {}, live_);
    for (const chain::Gap& gap : live_.gaps()) {
      if (concerns_negatives(gap.pointer)) dead_.missing(gap.pointer, gap.reason.c_str());
    }
  }

  Ohms between(const std::string& red, const std::string& black) {
    const std::optional<Node> from = minus_of(red), to = minus_of(black);
    if (!from || !to) {
      dead_.missing("/" + std::string(from ? black : red), "unknown");
      return ohms_between(std::move(dead_), circuit::reference);
    }
    names_[*to] = circuit::reference;
    copy_what_reaches(*to);
    copy_what_reaches(*from);
    return ohms_between(std::move(dead_), now(*from));
  }

 private:
  static bool concerns_negatives(const std::string& pointer) {
    return pointer == "/bonds_complete" || pointer.rfind("/bonds/", 0) == 0 || ends_with(pointer, "/feed/from") ||
           ends_with(pointer, "/feed/cable");
  }

  static bool joins_negatives(const std::string& element) {
    return ends_with(element, ".feed_minus") || ends_with(element, ".bond");
  }

  std::optional<Node> minus_of(const std::string& id) const {
    if (const auto supply = backbone_.supplies.find(id); supply != backbone_.supplies.end())
      return supply->second.minus;
    if (const auto fed = backbone_.poles.find(id); fed != backbone_.poles.end()) return fed->second.minus;
    return std::nullopt;
  }

  Node now(Node then) {
    const auto found = names_.find(then);
    if (found != names_.end()) return found->second;
    const std::string name = then == circuit::reference ? std::string("reference.neg") : live_.network.node_name(then);
    return names_[then] = dead_.network.node(name);
  }

  /// Every conductor that hangs together with `start`; what does not would float.
  void copy_what_reaches(Node start) {
    std::vector<Node> open = {start};
    while (!open.empty()) {
      const Node at = open.back();
      open.pop_back();
      for (std::size_t i = 0; i < live_.network.elements().size(); ++i) {
        const circuit::Element& element = live_.network.elements()[i];
        if (copied_.count(i) != 0 || !joins_negatives(element.name)) continue;
        if (element.from != at && element.to != at) continue;
        copied_[i] = true;
        dead_.resistor(element.name, now(element.from), now(element.to),
                       {element.value, live_.bases(static_cast<circuit::ElementIndex>(i))});
        open.push_back(element.from == at ? element.to : element.from);
      }
    }
  }

  Wiring live_, dead_;
  Backbone backbone_;
  std::map<Node, Node> names_;
  std::map<std::size_t, bool> copied_;
};

/// One resistance and nothing else.
Ohms alone(Wiring wiring, const std::string& name, const Tracked& ohm) {
  const Node red = wiring.network.node("red");
  wiring.resistor(name, red, circuit::reference, ohm);
  return ohms_between(std::move(wiring), red);
}

/// The way back is one core, however many make the conductor.
Tracked out_and_back(const site::Site& site, const site::Ref& cable, Wiring& wiring) {
  const Tracked out = wiring.core_ohm(site, cable);
  const auto found = site.cables.find(cable.id);
  const auto cores = found == site.cables.end() ? 1 : found->second.cores_in_parallel.value.value_or(1);
  return out + scaled(out, static_cast<double>(cores));
}

Ohms unknown_cable(const site::Ref& cable) {
  Wiring wiring;
  wiring.missing(cable.pointer, "unknown");
  return ohms_between(std::move(wiring), circuit::reference);
}

}  // namespace

std::optional<double> ohms_of_volts(double volts, double current_A) {
  if (!(volts < current_A * meter_across_ohm * (1.0 - open_share))) return std::nullopt;
  return std::max(0.0, volts) / (current_A - volts / meter_across_ohm);
}

namespace {

/// Reads a wiring with the meter in it.
circuit::Trouble read(Ohms& ohms, Wiring metered, Node red, double current_A) {
  ohms.across = circuit::Quantity::voltage(red);
  const Solved solved = solve_wiring(metered, {ohms.across});
  const circuit::WorstCase& worst = solved.cases.front();
  ohms.gaps = solved.gaps;
  ohms.known = !solved.unknown && solved_well(worst.trouble);
  if (ohms.known) {
    ohms.low = ohms_of_volts(worst.low.bound, current_A);
    ohms.nominal = ohms_of_volts(worst.nominal, current_A);
    ohms.high = ohms_of_volts(worst.high.bound, current_A);
    ohms.low_exact = solved.low_exact.front();
    ohms.high_exact = solved.high_exact.front();
    ohms.low_corner = worst.low.corner;
    ohms.high_corner = worst.high.corner;
  }
  ohms.wiring = std::move(metered);
  return solved.unknown ? circuit::Trouble::none : worst.trouble;
}

}  // namespace

Ohms ohms_between(Wiring wiring, Node red) {
  Ohms ohms;
  ohms.gaps = wiring.gaps();
  const bool same = red == circuit::reference;
  if (!same) {
    // What is open stands at the meter's highest voltage: where that is too high to be solved closely, a faint current
    // asks again.
    for (const double current : {meter_A, faint_meter_A}) {
      Wiring metered = wiring;
      metered.current("meter", circuit::reference, red, Tracked::fact(current));
      metered.resistor("meter.across", red, circuit::reference, Tracked::fact(meter_across_ohm));
      if (read(ohms, std::move(metered), red, current) != circuit::Trouble::not_converged) break;
    }
    return ohms;
  } else if (std::none_of(ohms.gaps.begin(), ohms.gaps.end(),
                          [](const chain::Gap& gap) { return chain::nothing_known(gap.reason); })) {
    ohms.known = ohms.low_exact = ohms.high_exact = true;  // one and the same screw
    ohms.low = ohms.nominal = ohms.high = 0.0;
  }
  ohms.wiring = std::move(wiring);
  return ohms;
}

Ohms loop_ohms(const site::Site& site, const std::string& zone, FarEnd end) {
  Wiring wiring;
  const Node red = wiring.network.node("red");
  build_dead_loop(site, zone, end, red, circuit::reference, wiring);
  return ohms_between(std::move(wiring), red);
}

Ohms out_and_back_ohms(const site::Site& site, const site::Ref& cable) {
  if (cable.unknown()) return unknown_cable(cable);
  Wiring wiring;
  const Tracked ohm = out_and_back(site, cable, wiring);
  return alone(std::move(wiring), "conductor", ohm);
}

Ohms trigger_wire_ohms(const site::Site& site, const std::string& id) {
  const site::Trigger& trigger = site.triggers.at(id);
  if (trigger.cable.unknown()) return unknown_cable(trigger.cable);
  Wiring wiring;
  Tracked ohm = out_and_back(site, trigger.cable, wiring);
  if (!trigger.series_ohm.none()) {
    const auto unit = site.units.find(trigger.unit.id);
    const std::vector<site::Ref> areas =
        unit == site.units.end() ? std::vector<site::Ref>{} : std::vector<site::Ref>{unit->second.area};
    ohm = ohm + component_ohm(site, trigger.series_ohm, 0.0, temperatures_of(site, areas));
  }
  return alone(std::move(wiring), "wire", ohm);
}

Ohms insulation_ohms(const site::Site& site, const site::Ref& cable, int cores) {
  if (site.cables.count(cable.id) == 0) return unknown_cable(cable);
  return alone(Wiring{}, "insulation", scaled(leakage_ohm(site, cable.id), 1.0 / cores));
}

Ohms negatives_ohms(const site::Site& site, const std::string& red, const std::string& black) {
  return Negatives(site).between(red, black);
}

}  // namespace zoneproof::electric
