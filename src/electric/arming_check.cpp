#include "electric/arming_check.hpp"

#include <algorithm>
#include <deque>
#include <map>
#include <string_view>

#include "electric/arming.hpp"
#include "electric/element_name.hpp"
#include "electric/finding.hpp"
#include "electric/limit.hpp"
#include "electric/loose.hpp"
#include "electric/naming.hpp"
#include "electric/tap.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using chain::Verdict;
using circuit::infinite;
using site::Level;

class ArmingCheck {
 public:
  ArmingCheck(const site::Site& site, const std::string& unit)
      : site_(site),
        id_(unit),
        unit_(site.units.at(unit)),
        spec_(site::unit_spec(site, unit)),
        margin_(limit_of(site, "arming_margin_V")) {}

  std::vector<Evidence> run() {
    if (unit_.arming.output.none()) return {no_output()};
    if (!unit_.arming.output.known() || spec_ == nullptr) {
      const std::string& pointer = spec_ == nullptr ? unit_.part.pointer : unit_.arming.output.pointer;
      return all_open(pointer);
    }
    for (SupplyCondition supply : supply_conditions(site_)) {
      if (certainly_dead(site_, unit_.feed, supply) || panel_dead(supply)) continue;
      for (bool armed : {true, false}) judge(supply, armed);
    }
    broken_wire();
    std::vector<Evidence> all;
    for (auto& [check, kept] : worst_) all.push_back(kept.take());
    add_remedies(all);
    return all;
  }

 private:
  Subject subject(const std::string& check, bool armed, SupplyCondition supply) const {
    Subject s;
    s.id = id_;
    s.check = check;
    s.link = chain::Link::trigger;
    s.quantity = "arming_voltage";
    s.unit = "V";
    s.condition = std::string(word(supply)) + "/" + (armed ? "armed" : "disarmed");
    s.thing = text(armed ? say::arming_when_armed(thing_words(site_, id_), supply_words(supply))
                         : say::arming_when_disarmed(thing_words(site_, id_), supply_words(supply)));
    return s;
  }

  /// A panel without supply arms nothing: that its output cannot tell is no fault of the arming wire.
  bool panel_dead(SupplyCondition supply) const {
    const auto output = site_.outputs.find(unit_.arming.output.id);
    const auto panel = output == site_.outputs.end() ? site_.panels.end() : site_.panels.find(output->second.panel.id);
    return panel != site_.panels.end() && certainly_dead(site_, panel->second.feed, supply);
  }

  /// Without the output or the unit's part every question stands and none has an answer.
  std::vector<Evidence> all_open(const std::string& pointer) const {
    std::vector<Evidence> all;
    for (const char* check :
         {"arming_armed", "arming_disarmed", "arming_limits", "arming_sink", "arming_wire_broken"}) {
      const bool armed = std::string_view(check) != "arming_disarmed";
      all.push_back(unanswered(subject(check, armed, SupplyCondition::mains), {{pointer, "unknown"}}));
    }
    return all;
  }

  Evidence no_output() const {
    Evidence evidence = unanswered(subject("arming_armed", true, SupplyCondition::mains), {});
    evidence.verdict = Verdict::broken;
    evidence.says = say::arming_not_wired(thing_words(site_, id_));
    return evidence;
  }

  /// The certain limits of the level that means `armed`, by the setting.
  std::optional<Band> wanted_band(bool armed) const {
    if (!unit_.arming.armed_level.known()) return std::nullopt;
    const bool high = unit_.arming.armed_level.is(Level::high) == armed;
    Band band;
    if (high) band.at_least(0, spec_->arming.high_min_V);
    if (!high) band.at_most(0, spec_->arming.low_max_V);
    band.ask(margin_);
    band.limit_source = part_source(site_, unit_.part.id);
    band.limit_verified = true;  // the part's own sheet
    return band;
  }

  void judge(SupplyCondition supply, bool armed) {
    const Subject s = subject(armed ? "arming_armed" : "arming_disarmed", armed, supply);
    const ArmingPoint& point = points_.emplace_back(solve_arming(site_, id_, supply, armed, false));
    level(point, s);
    sink(point, s);
    limits(point, s);
  }

  void level(const ArmingPoint& point, const Subject& s) {
    if (point.quantities.empty()) return keep(unanswered(s, point.solved.gaps));
    const std::optional<Band> band = wanted_band(point.armed);
    if (!band) return keep(unanswered(s, {{unit_.arming.armed_level.pointer, "unknown"}}));
    if (!band->min && !band->max) return keep(unanswered(s, band->gaps));
    Evidence evidence = finding(s, point.wiring, point.quantities, point.solved, *band);
    if (!margin_.value) lacks_rule(evidence, margin_);
    keep(std::move(evidence), point, *band);
  }

  /// Ohm's law over the output's own path: the pull-up's current flows into it when it is on.
  void sink(const ArmingPoint& point, Subject s) {
    const site::Output& output = site_.outputs.at(unit_.arming.output.id);
    const site::OutputSpec* spec = site::spec_of(site_, output.part, &site::Part::output);
    const auto wire = point.wiring.network.find_element(part_name(id_, "arm_wire"));
    s.check = "arming_sink";
    s.quantity = "current";
    s.unit = "A";
    if (spec == nullptr) return keep(unanswered(s, {{output.part.pointer, "unknown"}}));
    if (!wire || point.solved.troubled()) return keep(unanswered(s, point.solved.gaps));
    const site::Value& limit = spec->limit_A;
    if (limit.unknown()) return keep(unanswered(s, {{limit.pointer, "unknown"}}));
    if (limit.none()) return;
    if (point.solved.unknown) return keep(unanswered(s, point.solved.gaps));
    const double most = most_sunk(point);
    Evidence evidence = unanswered(s, point.solved.gaps);
    add_if_weak(evidence.gaps, limit);
    evidence.value = evidence.bound = most;
    evidence.kind = chain::BoundKind::bounded;
    evidence.limit = limit.low;
    evidence.margin = limit.low - most;
    evidence.required_margin = 0.0;
    evidence.limit_source = part_source(site_, output.part.id);
    evidence.limit_verified = true;
    if (evidence.gaps.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
    evidence.says = say::arming_sinks(s.thing, Measure{most, "A"}, Measure{limit.low, "A"});
    keep(std::move(evidence));
  }

  /// Everything that pulls the inputs of all units on the output, at the level found: each pull-up's voltage over its
  /// smallest resistance.
  double most_sunk(const ArmingPoint& point) const {
    std::vector<double> least_ohm;
    std::vector<circuit::Quantity> across;
    for (const auto& [unit, entry] : site_.units) {
      if (entry.arming.output.id != unit_.arming.output.id) continue;
      for (const char* name : {"arm_inner_pullup", "arm_pullup", "arm_impedance"}) {
        const auto index = point.wiring.network.find_element(part_name(unit, name));
        if (!index) continue;
        const circuit::Element& pull = point.wiring.network.element(*index);
        least_ohm.push_back(pull.value.low);
        across.push_back(circuit::Quantity::voltage(pull.from, pull.to));
      }
    }
    const std::vector<circuit::WorstCase> volts = circuit::worst_case(point.wiring.network, across);
    double most = 0.0;
    for (std::size_t i = 0; i < volts.size(); ++i) {
      const double largest = std::max(std::abs(volts[i].low.bound), std::abs(volts[i].high.bound));
      most += least_ohm[i] > 0.0 ? largest / least_ohm[i] : infinite;
    }
    return most;
  }

  void limits(const ArmingPoint& point, Subject s) {
    const site::Value& most = spec_->arming.damage_max_V;
    s.check = "arming_limits";
    if (most.unknown()) return keep(unanswered(s, {{most.pointer, "unknown"}}));
    if (most.none()) return;
    if (point.quantities.empty()) return keep(unanswered(s, point.solved.gaps));
    Band band;
    band.at_most(0, most);
    band.limit_source = part_source(site_, unit_.part.id);
    band.limit_verified = true;
    keep(finding(s, point.wiring, point.quantities, point.solved, band));
  }

  /// A cut arming wire should read armed: then clips still come. Reading disarmed is silent, so it is thin, not broken.
  void broken_wire() {
    const Subject s = [&] {
      Subject named = subject("arming_wire_broken", true, SupplyCondition::mains);
      named.thing = text(say::arming_when_cut(thing_words(site_, id_)));
      return named;
    }();
    const ArmingPoint point = solve_arming(site_, id_, SupplyCondition::mains, true, true);
    const std::optional<Band> band = wanted_band(true);
    if (!band) return keep(unanswered(s, {{unit_.arming.armed_level.pointer, "unknown"}}));
    if (point.quantities.empty()) return keep(unanswered(s, point.solved.gaps));
    if (!band->min && !band->max) return keep(unanswered(s, band->gaps));
    Evidence evidence = finding(s, point.wiring, point.quantities, point.solved, *band);
    if (evidence.verdict == Verdict::broken) {
      evidence.verdict = Verdict::thin;
      evidence.says = say::arming_cut_reads_disarmed(thing_words(site_, id_));
    }
    keep(std::move(evidence));
  }

  void keep(Evidence evidence) {
    const std::string check = evidence.id;
    worst_[check].offer(std::move(evidence));
  }

  void keep(Evidence evidence, const ArmingPoint& point, const Band& band) {
    const std::string check = evidence.id;
    worst_[check].offer(std::move(evidence),
                        [&point, band] { return telling_corner(point.wiring, point.quantities, point.solved, band); });
  }

  /// Both levels on the wrong sides: inverted. Levels that do not move: a pull-up is missing.
  void add_remedies(std::vector<Evidence>& all) const {
    const auto armed = std::find_if(all.begin(), all.end(), [](const Evidence& e) { return e.id == "arming_armed"; });
    const auto disarmed =
        std::find_if(all.begin(), all.end(), [](const Evidence& e) { return e.id == "arming_disarmed"; });
    if (armed == all.end() || disarmed == all.end()) return;
    const bool both = armed->verdict == Verdict::broken && disarmed->verdict == Verdict::broken;
    const bool one = armed->verdict == Verdict::broken || disarmed->verdict == Verdict::broken;
    for (auto evidence : {armed, disarmed}) {
      if (evidence->verdict != Verdict::broken) continue;
      if (both) evidence->remedies.push_back(say::invert_arming(thing_words(site_, id_)));
      if (one && !both) evidence->remedies.push_back(say::fit_arming_pullup(thing_words(site_, id_)));
    }
  }

  const site::Site& site_;
  const std::string& id_;
  const site::Unit& unit_;
  const site::UnitSpec* spec_;
  Limit margin_;
  std::map<std::string, Worst> worst_;
  std::deque<ArmingPoint> points_;  // corners are told from them at the end
};

}  // namespace

ArmingPoint solve_arming(const site::Site& site, const std::string& unit, SupplyCondition supply, bool armed,
                         bool wire_broken) {
  ArmingPoint point;
  point.supply = supply;
  point.armed = armed;
  point.wire_broken = wire_broken;
  const Backbone backbone = build_backbone(site, supply, {}, point.wiring);
  build_inner_rail(site, unit, UnitCondition::powered, backbone, point.wiring);
  if (const auto input = build_arming(site, unit, armed, wire_broken, backbone, point.wiring)) {
    point.quantities.push_back(circuit::Quantity::voltage(*input, backbone.poles.at(unit).minus));
  }
  for (const auto& [id, other] : site.units) {  // every unit on the output pulls it; a cut wire is one unit's own
    if (id == unit || wire_broken || other.arming.output.id != site.units.at(unit).arming.output.id) continue;
    build_inner_rail(site, id, UnitCondition::powered, backbone, point.wiring);
    build_arming(site, id, armed, false, backbone, point.wiring);
  }
  join_loose_supplies(backbone, point.wiring);
  point.solved = solve_wiring(point.wiring, point.quantities);
  return point;
}

std::vector<Evidence> check_arming(const site::Site& site, const std::string& unit) {
  return ArmingCheck(site, unit).run();
}

}  // namespace zoneproof::electric
