#include "electric/arming_check.hpp"

#include <algorithm>
#include <deque>
#include <map>
#include <string_view>

#include "chain/limit.hpp"
#include "electric/arming.hpp"
#include "electric/element_name.hpp"
#include "electric/finding.hpp"
#include "electric/loose.hpp"
#include "electric/naming.hpp"
#include "electric/narrowed.hpp"
#include "electric/output_load.hpp"
#include "electric/tap.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;

namespace {

using chain::Evidence;
using chain::Verdict;
using site::Level;

class ArmingCheck {
 public:
  ArmingCheck(const site::Site& site, const std::string& unit)
      : site_(site),
        id_(unit),
        unit_(site.units.at(unit)),
        spec_(site::unit_spec(site, unit)),
        margin_(chain::limit_of(site, "arming_margin_V")) {}

  std::vector<Evidence> run() {
    if (unit_.arming.output.none()) return {no_output()};
    if (!unit_.arming.output.known() || spec_ == nullptr) {
      const std::string& pointer = spec_ == nullptr ? unit_.part.pointer : unit_.arming.output.pointer;
      return all_open(pointer);
    }
    for (SupplyCondition supply : arming_conditions(site_, id_))
      for (bool armed : {true, false}) judge(supply, armed);
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
    if (!margin_.value) chain::lacks_rule(evidence, margin_);
    keep(std::move(evidence), point, *band);
  }

  /// Everything that pulls the arming inputs of all units on the output.
  void sink(const ArmingPoint& point, Subject s) {
    s.check = "arming_sink";
    if (!point.wiring.network.find_element(part_name(id_, "arm_wire"))) {
      s.quantity = "current";
      s.unit = "A";
      return keep(unanswered(s, point.solved.gaps));
    }
    std::vector<std::string> pulls;
    for (const auto& [unit, entry] : site_.units) {
      if (entry.arming.output.id != unit_.arming.output.id) continue;
      for (const char* name : {"arm_inner_pullup", "arm_pullup", "arm_impedance"})
        pulls.push_back(part_name(unit, name));
    }
    for (Evidence& evidence : judge_load(site_, unit_.arming.output.id, s, point.wiring, point.solved, pulls))
      keep(std::move(evidence));
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
  chain::Limit margin_;
  std::map<std::string, Worst> worst_;
  std::deque<ArmingPoint> points_;  // corners are told from them at the end
};

/// A panel without supply arms nothing: that its output cannot tell is no fault of the arming wire.
bool arming_panel_dead(const site::Site& site, const site::Unit& unit, SupplyCondition supply) {
  const auto output = site.outputs.find(unit.arming.output.id);
  const auto panel = output == site.outputs.end() ? site.panels.end() : site.panels.find(output->second.panel.id);
  return panel != site.panels.end() && certainly_dead(site, panel->second.feed, supply);
}

}  // namespace

std::vector<SupplyCondition> arming_conditions(const site::Site& site, const std::string& unit) {
  const site::Unit& entry = site.units.at(unit);
  std::vector<SupplyCondition> conditions;
  for (const SupplyCondition supply : supply_conditions(site))
    if (!certainly_dead(site, entry.feed, supply) && !arming_panel_dead(site, entry, supply))
      conditions.push_back(supply);
  return conditions;
}

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
  narrow(point.wiring, point.quantities);
  point.solved = solve_wiring(point.wiring, point.quantities);
  return point;
}

std::vector<Evidence> check_arming(const site::Site& site, const std::string& unit) {
  return ArmingCheck(site, unit).run();
}

}  // namespace zoneproof::electric
