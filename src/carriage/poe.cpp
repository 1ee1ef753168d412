// Power over data cables: docs/methods/power-over-data-cables.md.
#include "carriage/poe.hpp"

#include <algorithm>
#include <map>

#include "base/outward.hpp"
#include "carriage/finding.hpp"
#include "carriage/naming.hpp"
#include "carriage/poe_link.hpp"
#include "electric/naming.hpp"
#include "messages/carriage.hpp"
#include "site/relations.hpp"

namespace zoneproof::carriage {

namespace {

using chain::Evidence;
using chain::Verdict;
using electric::Tracked;

/// What a port sets aside for a known class.
Tracked watts_of_class(const site::Site& site, const site::Count& poe_class) {
  const chain::Limit watts = chain::limit_at(site, "poe_port_W", static_cast<double>(*poe_class.value));
  if (!watts.value) return anything(watts.pointer, "no_rule");
  return {circuit::Range::exactly(*watts.value), {electric::Basis{poe_class.pointer}}};
}

Threshold limit_from_count(const site::Count& count, const std::string& source) {
  Threshold limit;
  limit.source = source;
  limit.verified = true;  // the part's own sheet
  if (count.known())
    limit.value = static_cast<double>(*count.value);
  else
    limit.gaps.push_back({count.pointer, "unknown"});
  return limit;
}

/// Broken or not, with the sentence that numbers make, or that there are none.
Evidence said(Evidence evidence, const std::string& thing, const Message& numbers) {
  evidence.says = evidence.value ? numbers : say::poe_open(thing);
  return evidence;
}

bool wants_remedy(const Evidence& evidence) {
  return evidence.verdict == Verdict::broken || evidence.verdict == Verdict::thin;
}

constexpr int kDigits = 4;  ///< 12.95 W of a class are not 12.9 W
Measure shown_value(const Evidence& evidence) { return {evidence.value.value_or(0.0), evidence.unit, kDigits}; }
Measure shown_limit(const Evidence& evidence) { return {evidence.limit.value_or(0.0), evidence.unit, kDigits}; }

/// The checks of one camera.
class CameraPower {
 public:
  CameraPower(const site::Site& site, const PoweredCamera& camera)
      : site_(site), camera_(camera), name_(device_words(site, camera.camera)), circuit_(poe_circuit(site, camera)) {}

  std::vector<Evidence> all() const { return {by_class(), voltage(), loop(), power()}; }

 private:
  Asked asked(const char* check, const char* quantity, const char* unit) const {
    return {check, camera_.camera, quantity, unit, camera_.link};
  }

  const site::Count* own_class() const { return camera_.spec != nullptr ? &camera_.spec->poe_class : nullptr; }

  /// An entry of the rulebook at the class that the camera asks for.
  Threshold of_class(const char* rule) const {
    Threshold limit;
    const site::Count* asked_for = own_class();
    if (asked_for != nullptr && asked_for->known())
      return limit_from(chain::limit_at(site_, rule, static_cast<double>(*asked_for->value)));
    limit.gaps.push_back({asked_for != nullptr ? asked_for->pointer : camera_.part_pointer, "unknown"});
    return limit;
  }

  /// In watts: class 0 asks for as much as class 3.
  Evidence by_class() const {
    const Threshold wanted = of_class("poe_port_W");
    const PowerGiver& giver = camera_.giver;
    const Asked about = asked("poe_class", "power", "W");
    const bool powerless = giver.poe_ports != nullptr && giver.poe_ports->value == 0;
    if (powerless) {
      Evidence evidence = open(about, wanted.gaps);
      evidence.verdict = Verdict::broken;
      evidence.says = say::poe_gives_none(device_words(site_, giver.id), name_);
      evidence.remedies.push_back(say::poe_other_giver(name_));
      return evidence;
    }
    Evidence evidence = held(about, number_of(served(), false, "W"), Side::at_least, wanted);
    if (!evidence.value) return said(std::move(evidence), name_, say::poe_open(name_));
    evidence.says = say::poe_class_asked(name_, *own_class()->value, shown_limit(evidence),
                                         device_words(site_, giver.id), *giver.serves->value, shown_value(evidence));
    if (wants_remedy(evidence)) evidence.remedies.push_back(say::poe_other_giver(name_));
    return evidence;
  }

  /// What a port of its switch or injector gives at the most.
  Tracked served() const {
    const site::Count* serves = camera_.giver.serves;
    if (serves == nullptr) return anything(camera_.giver.missing);
    if (!serves->known()) return anything(serves->pointer);
    return watts_of_class(site_, *serves);
  }

  Evidence voltage() const {
    Number at_camera{
        voltage_at_camera(circuit_),
        {{circuit_.source_V, false, "V"}, {circuit_.loop_ohm, true, "ohm"}, {circuit_.power_W, true, "W"}}};
    const Threshold least = of_class("poe_device_min_V");
    Evidence evidence = held(asked("poe_voltage", "supply_voltage", "V"), at_camera, Side::at_least, least,
                             margin_from(chain::limit_of(site_, "poe_margin_V")));
    const bool falls = evidence.value == 0.0;
    if (falls) evidence.value = evidence.bound = evidence.margin = std::nullopt;
    evidence.says = falls            ? say::poe_collapses(name_, highest({circuit_.power_W.range.high, "W"}),
                                                          highest({circuit_.loop_ohm.range.high, "ohm"}))
                    : evidence.value ? say::poe_voltage_at(name_, shown_value(evidence), shown_limit(evidence))
                                     : say::poe_open(name_);
    if (wants_remedy(evidence)) evidence.remedies.push_back(say::poe_shorten(name_));
    return evidence;
  }

  /// The resistance is that of all pairs of the class, so the cable has to have them.
  Evidence loop() const {
    const Asked about = asked("poe_loop", "loop_resistance", "ohm");
    const site::Count* cores = cores_of_cable();
    const std::optional<double> pairs = of_class("poe_pairs").value;
    const bool too_few =
        cores != nullptr && cores->known() && pairs && static_cast<double>(*cores->value) < 2.0 * *pairs;
    if (too_few) return without_its_pairs(open(about, {}), *cores->value, static_cast<long long>(2.0 * *pairs));
    Evidence evidence = held(about, number_of(circuit_.loop_ohm, true, "ohm"), Side::at_most, of_class("poe_loop_ohm"));
    if (cores != nullptr && !cores->known()) {
      chain::add_gap(evidence.gaps, {cores->pointer, "unknown"});
      if (evidence.verdict != Verdict::broken) evidence.verdict = Verdict::unanswered;
    }
    evidence = said(std::move(evidence), name_, say::poe_loop_has(name_, shown_value(evidence), shown_limit(evidence)));
    if (wants_remedy(evidence)) evidence.remedies.push_back(say::poe_shorten(name_));
    return evidence;
  }

  Evidence power() const {
    Evidence evidence = held(asked("poe_power", "power", "W"), number_of(circuit_.power_W, true, "W"), Side::at_most,
                             of_class("poe_device_W"));
    evidence = said(std::move(evidence), name_, say::poe_takes(name_, shown_value(evidence), shown_limit(evidence)));
    if (wants_remedy(evidence)) evidence.remedies.push_back(say::poe_higher_class(name_));
    return evidence;
  }

  Evidence without_its_pairs(Evidence evidence, long long cores, long long needed) const {
    evidence.verdict = Verdict::broken;
    evidence.says = say::poe_too_few_cores(name_, needed, cores);
    evidence.remedies.push_back(say::poe_all_pairs(name_));
    return evidence;
  }

  /// Null where there is no cable, or nobody knows of which kind it is: its resistance is not known then.
  const site::Count* cores_of_cable() const {
    const auto cable = site_.cables.find(site_.data_links.at(camera_.link).cable.id);
    const auto* spec =
        cable == site_.cables.end() ? nullptr : site::spec_of(site_, cable->second.part, &site::Part::cable);
    return spec == nullptr ? nullptr : &spec->cores;
  }

  const site::Site& site_;
  const PoweredCamera& camera_;
  std::string name_;
  PoeCircuit circuit_;
};

/// The checks of one switch.
class SwitchPower {
 public:
  SwitchPower(const site::Site& site, const std::string& id)
      : site_(site),
        id_(id),
        own_(site.switches.at(id)),
        spec_(site::spec_of(site, own_.part, &site::Part::network_switch)),
        name_(device_words(site, id)),
        cameras_(powered_by_giver(site, id)) {}

  std::vector<Evidence> all() const {
    std::vector<Evidence> answers = too_many_links();
    if (cameras_.empty() && own_.powers_complete.yes()) return answers;
    if (cameras_.empty() && spec_ != nullptr && spec_->poe_ports.value == 0) return answers;
    answers.push_back(budget());
    answers.push_back(ports());
    return answers;
  }

 private:
  /// Where something may take power that the file does not tell of.
  void add_untold(std::vector<Term>& terms, const char* unit) const {
    if (!own_.powers_complete.yes())
      terms.push_back({anything(own_.powers_complete.pointer, "incomplete_list"), true, unit});
  }

  /// What a port sets aside for a camera.
  Tracked set_aside(const PoweredCamera& camera) const {
    if (camera.spec == nullptr) return anything(camera.part_pointer);
    const site::Count& asked = camera.spec->poe_class;
    return asked.known() ? watts_of_class(site_, asked) : anything(asked.pointer);
  }

  Evidence missing_part(const Asked& asked) const {
    Evidence evidence = open(asked, {{own_.part.pointer, "unknown"}});
    evidence.says = say::poe_open(name_);
    return evidence;
  }

  Evidence budget() const {
    const Asked asked{"poe_budget", id_, "power", "W", ""};
    if (spec_ == nullptr) return missing_part(asked);
    std::vector<Term> terms;
    for (const PoweredCamera& camera : cameras_) terms.push_back({set_aside(camera), true, "W"});
    add_untold(terms, "W");
    const Threshold budget =
        limit_from(spec_->poe_budget_W, &site::Value::low, electric::part_source(site_, own_.part.id));
    Evidence evidence =
        held(asked, sum_of(terms), Side::at_most, budget, share_of(chain::limit_of(site_, "poe_headroom_pct"), budget));
    evidence = said(std::move(evidence), name_,
                    say::poe_sets_aside(name_, shown_value(evidence), static_cast<long long>(cameras_.size()),
                                        shown_limit(evidence), Measure{evidence.required_margin.value_or(0.0), "W"}));
    if (wants_remedy(evidence)) evidence.remedies.push_back(say::poe_larger_switch(name_));
    return evidence;
  }

  Evidence ports() const {
    const Asked asked{"poe_ports", id_, "count", "", ""};
    if (spec_ == nullptr) return missing_part(asked);
    std::vector<Term> terms{{Tracked::fact(static_cast<double>(cameras_.size())), true, ""}};
    add_untold(terms, "");
    Evidence evidence = held(asked, sum_of(terms), Side::at_most,
                             limit_from_count(spec_->poe_ports, electric::part_source(site_, own_.part.id)));
    evidence =
        said(std::move(evidence), name_,
             say::poe_ports_used(name_, static_cast<long long>(cameras_.size()), spec_->poe_ports.value.value_or(0)));
    if (wants_remedy(evidence)) evidence.remedies.push_back(say::poe_larger_switch(name_));
    return evidence;
  }

  /// More links than ports: the file is wrong, or something hangs on a switch that it does not tell of. Ports enough
  /// are no finding.
  std::vector<Evidence> too_many_links() const {
    if (spec_ == nullptr || !spec_->ports.known()) return {};
    const auto links = std::count_if(site_.data_links.begin(), site_.data_links.end(), [&](const auto& entry) {
      return entry.second.a.id == id_ || entry.second.b.id == id_;
    });
    const Threshold limit = limit_from_count(spec_->ports, electric::part_source(site_, own_.part.id));
    Evidence evidence = held({"switch_ports", id_, "count", "", ""},
                             number_of(Tracked::fact(static_cast<double>(links)), true, ""), Side::at_most, limit);
    if (evidence.verdict != Verdict::broken) return {};
    evidence.says = say::switch_ports_used(name_, static_cast<long long>(links), *spec_->ports.value);
    evidence.remedies.push_back(say::poe_larger_switch(name_));
    return {evidence};
  }

  const site::Site& site_;
  const std::string& id_;
  const site::NetworkSwitch& own_;
  const site::SwitchSpec* spec_;
  std::string name_;
  std::vector<PoweredCamera> cameras_;
};

Tracked length_of(const site::Site& site, const site::DataLink& link) {
  if (link.cable.none()) return Tracked::fact(0.0);
  const auto cable = site.cables.find(link.cable.id);
  if (cable == site.cables.end()) return anything(link.cable.pointer);
  return electric::tracked(cable->second.length_m, 0.0);
}

/// A link with those beyond an injector at one of its ends: the standard counts from port to port.
Number run_of(const site::Site& site, const std::string& id) {
  const site::DataLink& own = site.data_links.at(id);
  std::vector<Term> terms{{length_of(site, own), true, "m"}};
  for (const auto& [other, link] : site.data_links) {
    const auto joined = [&](const site::Ref& end) {
      return site.injectors.count(end.id) != 0 && (end.id == own.a.id || end.id == own.b.id);
    };
    if (other != id && (joined(link.a) || joined(link.b))) terms.push_back({length_of(site, link), true, "m"});
  }
  return sum_of(terms);
}

std::vector<Evidence> check_runs(const site::Site& site) {
  std::vector<Evidence> all;
  const Threshold longest = limit_from(chain::limit_of(site, "data_cable_m"));
  for (const auto& [id, link] : site.data_links) {
    const Number run = run_of(site, id);
    if (run.value.range.high == 0.0) continue;  // cords alone
    const std::string name = device_words(site, id);
    Evidence evidence = held({"cable_run", id, "length", "m", ""}, run, Side::at_most, longest);
    evidence = said(std::move(evidence), name, say::cable_runs(name, shown_value(evidence), shown_limit(evidence)));
    if (wants_remedy(evidence)) evidence.remedies.push_back(say::cable_too_long(name));
    all.push_back(std::move(evidence));
  }
  return all;
}

}  // namespace

std::vector<Evidence> check_power_over_data(const site::Site& site) {
  std::vector<Evidence> all;
  for (const PoweredCamera& camera : powered_over_data(site)) chain::append(all, CameraPower(site, camera).all());
  for (const auto& entry : site.switches) chain::append(all, SwitchPower(site, entry.first).all());
  chain::append(all, check_runs(site));
  return all;
}

}  // namespace zoneproof::carriage
