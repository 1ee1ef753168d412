// Back-feed into a dead panel. The inner diode of a programmable output leads from its screw to the panel's positive.
// When the panel has lost its supply and the unit has not, whatever pulls the arming input up lifts the screw above
// that dead rail and feeds it through the diode: the panel may stay half alive, and the diode, often a mere part of the
// chip, may not stand the current. The rail is taken at 0 V, its lowest: so no real dead panel takes more.
#include "electric/back_feed.hpp"

#include <algorithm>
#include <cmath>

#include "base/outward.hpp"
#include "electric/arming.hpp"
#include "electric/element_name.hpp"
#include "electric/finding.hpp"
#include "electric/loose.hpp"
#include "electric/naming.hpp"
#include "electric/output.hpp"
#include "electric/tap.hpp"
#include "messages/electric.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using chain::Verdict;

/// Current that the voltage accuracy of the solver leaves open over the smallest pull that is used, 1 kohm.
constexpr double no_current_A = 1e-11;

const site::Output& output_of_arming(const site::Site& site, const std::string& unit) {
  return site.outputs.at(site.units.at(unit).arming.output.id);
}

std::string panel_supply(const site::Site& site, const site::Output& output) {
  const auto panel = site.panels.find(output.panel.id);
  return panel == site.panels.end() ? std::string() : site::supply_of(site, panel->second.feed);
}

/// The units on the same output that run when the panel's supply does not.
std::vector<std::string> units_alive(const site::Site& site, const site::Ref& output, const std::string& dead,
                                     SupplyCondition supply) {
  std::vector<std::string> alive;
  for (const auto& [id, unit] : site.units) {
    const bool on_it = unit.arming.output.id == output.id;
    if (on_it && site::supply_of(site, unit.feed) != dead && !certainly_dead(site, unit.feed, supply))
      alive.push_back(id);
  }
  return alive;
}

/// What stands between the input and a potential that may pull it up.
void collect_pulls(const std::string& unit, BackFeed& point) {
  const circuit::Network& network = point.wiring.network;
  const auto input = network.find_node(part_name(unit, "arm"));
  for (const char* name : {"arm_inner_pullup", "arm_pullup", "arm_impedance"}) {
    const auto index = network.find_element(part_name(unit, name));
    if (!index) continue;
    const circuit::Element& pull = network.element(*index);
    point.pulls.push_back(*index);
    point.quantities.push_back(circuit::Quantity::voltage(pull.from == *input ? pull.to : pull.from, *input));
  }
  if (const auto wire = network.find_element(part_name(unit, "arm_wire"))) point.wires.push_back(*wire);
}

/// The largest current through a resistor whose voltage is at most `volts`: over its least resistance where it flows
/// that way, over its largest where it certainly flows the other way.
double most_current(double volts, const circuit::Range& ohm) {
  if (volts <= 0.0) return volts / ohm.high;
  return ohm.low > 0.0 ? volts / ohm.low : circuit::infinite;
}

class BackFeedCheck {
 public:
  BackFeedCheck(const site::Site& site, const std::string& unit)
      : site_(site), id_(unit), unit_(site.units.at(unit)), output_(output_of_arming(site, unit)) {}

  std::vector<Evidence> run() {
    const site::OutputSpec* spec = site::spec_of(site_, output_.part, &site::Part::output);
    if (spec == nullptr || spec->clamp_forward_V.none() || site::is_relay(site_, output_)) return {};
    const std::string dead = panel_supply(site_, output_);
    const std::string own = site::supply_of(site_, unit_.feed);
    if (!dead.empty() && dead == own) return {};
    if (dead.empty() || own.empty()) {
      const std::string& pointer = own.empty() ? unit_.feed.from.pointer : output_.panel.pointer;
      return {unanswered(subject(SupplyCondition::mains), {{pointer, "unknown"}})};
    }
    for (SupplyCondition supply : supply_conditions(site_)) {
      if (!certainly_dead(site_, unit_.feed, supply)) worst_.offer(judge(supply, *spec));
    }
    return worst_.any() ? std::vector<Evidence>{worst_.take()} : std::vector<Evidence>{};
  }

 private:
  Subject subject(SupplyCondition supply) const {
    const Message thing =
        say::arming_of_dead_panel(thing_words(site_, id_), thing_words(site_, output_.panel.id), supply_words(supply));
    const std::string condition = std::string(word(supply)) + "/panel_dead";
    return {id_, "arming_back_feed", chain::Link::trigger, "current", "A", condition, text(thing)};
  }

  Evidence judge(SupplyCondition supply, const site::OutputSpec& spec) const {
    const Subject s = subject(supply);
    const BackFeed point = solve_back_feed(site_, id_, supply);
    if (point.quantities.empty()) return unanswered(s, point.solved.gaps);
    const double most = most_fed_back(point);
    if (!std::isfinite(most)) {
      std::vector<chain::Gap> gaps = point.solved.gaps;
      if (gaps.empty()) gaps.push_back({"", "undecided"});
      return unanswered(s, gaps);
    }
    Evidence evidence = unanswered(s, point.solved.gaps);
    evidence.kind = chain::BoundKind::bounded;
    evidence.value = evidence.bound = most;
    evidence.origin = point.solved.weakest;
    evidence.limit_source = part_source(site_, output_.part.id);
    evidence.limit_verified = true;  // the part's own sheet
    if (!(most > no_current_A)) {
      if (evidence.gaps.empty()) evidence.verdict = Verdict::proven;
      evidence.says = say::feeds_nothing_back(s.thing);
      return evidence;
    }
    against_limit(evidence, s, most, spec);
    return evidence;
  }

  void against_limit(Evidence& evidence, const Subject& s, double most, const site::OutputSpec& spec) const {
    add_if_weak(evidence.gaps, spec.clamp_max_A);
    if (!spec.clamp_max_A.known()) {
      if (spec.clamp_max_A.none()) evidence.gaps.push_back({spec.clamp_max_A.pointer, "unknown"});
      evidence.says = say::feeds_back_unknown_limit(s.thing, highest({most, "A"}), thing_words(site_, output_id()));
    } else {
      evidence.limit = spec.clamp_max_A.low;
      evidence.margin = spec.clamp_max_A.low - most;
      evidence.required_margin = 0.0;
      if (evidence.gaps.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
      evidence.says = say::feeds_back(s.thing, highest({most, "A"}), thing_words(site_, output_id()),
                                      Measure{spec.clamp_max_A.low, "A"});
    }
    if (evidence.verdict != Verdict::proven) evidence.remedies.push_back(remedy(spec));
  }

  /// A diode in the wire helps only where the wanted current flows the other way than the unwanted one.
  Message remedy(const site::OutputSpec& spec) const {
    if (spec.kind.is(site::OutputKind::switched_positive)) return say::block_back_feed(thing_words(site_, id_));
    return say::isolate_arming(thing_words(site_, id_));
  }

  const std::string& output_id() const { return unit_.arming.output.id; }

  const site::Site& site_;
  const std::string& id_;
  const site::Unit& unit_;
  const site::Output& output_;
  Worst worst_;
};

}  // namespace

BackFeed solve_back_feed(const site::Site& site, const std::string& unit, SupplyCondition supply) {
  const site::Output& output = output_of_arming(site, unit);
  const site::Ref& output_ref = site.units.at(unit).arming.output;
  const std::string dead = panel_supply(site, output);
  BackFeed point;
  const UnitUnderStudy studied{{}, UnitCondition::powered, dead};
  const Backbone backbone = build_backbone(site, supply, studied, point.wiring);
  for (const std::string& id : units_alive(site, output_ref, dead, supply)) {
    build_inner_rail(site, id, UnitCondition::powered, backbone, point.wiring);
    build_arming_of_dead_panel(site, id, backbone, point.wiring);
  }
  const auto screw = point.wiring.network.find_node(part_name(output_ref.id, "out"));
  point.clamp = point.wiring.network.find_element(part_name(output_ref.id, "clamp"));
  if (screw) {
    point.quantities.push_back(circuit::Quantity::voltage(*screw, backbone.poles.at(output.panel.id).plus));
    for (const std::string& id : units_alive(site, output_ref, dead, supply)) collect_pulls(id, point);
  }
  join_loose_supplies(backbone, point.wiring);
  point.solved = solve_wiring(point.wiring, point.quantities);
  std::vector<circuit::Corner> corners;
  for (const circuit::WorstCase& worst : point.solved.cases) corners.push_back(worst.high.corner);
  // The voltages may hang on less than the current does: what the current hangs on counts.
  point.solved.gaps = weak_data(
      point.wiring,
      [&](const circuit::Solution& solution) {
        std::vector<double> amps;
        for (circuit::ElementIndex wire : point.wires)
          amps.push_back(solution.current.at(static_cast<std::size_t>(wire)));
        return amps;
      },
      corners);
  return point;
}

double most_fed_back(const BackFeed& point) {
  const circuit::Network& network = point.wiring.network;
  if (!point.clamp || point.solved.cases.front().high.bound < network.element(*point.clamp).value.low) return 0.0;
  double most = 0.0;
  for (std::size_t i = 0; i < point.pulls.size(); ++i) {
    most += most_current(point.solved.cases.at(i + 1).high.bound, network.element(point.pulls[i]).value);
  }
  return std::max(0.0, most);
}

std::vector<Evidence> check_back_feed(const site::Site& site, const std::string& unit) {
  if (site.outputs.count(site.units.at(unit).arming.output.id) == 0) return {};
  return BackFeedCheck(site, unit).run();
}

}  // namespace zoneproof::electric
