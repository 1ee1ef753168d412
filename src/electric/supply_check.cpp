#include "electric/supply_check.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <set>

#include "base/outward.hpp"
#include "base/parallel_for.hpp"
#include "chain/limit.hpp"
#include "electric/element_name.hpp"
#include "electric/finding.hpp"
#include "electric/loose.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using chain::Verdict;

/// The panels whose zones a unit's taps hang on: against their negatives the unit's own is shifted.
std::set<std::string> tapped_panels(const site::Site& site, const std::string& unit) {
  std::set<std::string> panels;
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.unit.id == unit && trigger.at_panel.known()) panels.insert(trigger.at_panel.id);
  }
  return panels;
}

class SupplyCheck {
 public:
  explicit SupplyCheck(const site::Site& site) : site_(site) {}

  std::vector<Evidence> run() {
    const std::vector<SupplyCondition> conditions = supply_conditions(site_);
    std::vector<SupplyPoint> points(conditions.size());
    parallel_for(conditions.size(), [&](std::size_t i) { points[i] = solve_supply(site_, conditions[i]); });
    for (const SupplyPoint& point : points) {
      voltages(point);
      shifts(point);
      for (const auto& [id, supply] : site_.supplies) currents(point, id, supply);
      fuses(point);
    }
    std::vector<Evidence> all;
    for (auto& [key, kept] : worst_) all.push_back(kept.take());
    return all;
  }

 private:
  void keep(const std::string& key, Evidence evidence) { worst_[key].offer(std::move(evidence)); }

  void keep(const std::string& key, Evidence evidence, const SupplyPoint& point, const Band& band) {
    worst_[key].offer(std::move(evidence),
                      [&point, band] { return telling_corner(point.wiring, point.quantities, point.solved, band); });
  }

  Subject subject(const std::string& id, const char* check, chain::Link link, const char* quantity, const char* unit,
                  SupplyCondition condition) const {
    Subject s;
    s.id = id;
    s.check = check;
    s.link = link;
    s.quantity = quantity;
    s.unit = unit;
    s.condition = word(condition);
    s.thing = text(say::thing_when(thing_words(site_, id), supply_words(condition)));
    return s;
  }

  void voltages(const SupplyPoint& point) {
    for (std::size_t i = 0; i < point.consumers.size(); ++i) {
      const Consumer& consumer = point.consumers[i];
      // Off without mains is autonomy's finding, not a voltage's.
      if (certainly_dead(site_, *consumer.feed, point.condition)) continue;
      const Subject s = subject(consumer.id, "supply_voltage", consumer.link, "supply_voltage", "V", point.condition);
      Subject named = s;
      named.thing = text(say::supply_at(thing_words(site_, consumer.id), supply_words(point.condition)));
      voltage(point, i, consumer, named);
    }
  }

  void voltage(const SupplyPoint& point, std::size_t which, const Consumer& consumer, const Subject& s) {
    const std::string key = "voltage/" + consumer.id;
    if (consumer.min_V == nullptr) return keep(key, unanswered(s, {{consumer.part_pointer, "unknown"}}));
    if (consumer.min_V->unknown() || consumer.max_V->unknown()) {
      return keep(key,
                  unanswered(s, {{(consumer.min_V->unknown() ? consumer.min_V : consumer.max_V)->pointer, "unknown"}}));
    }
    const chain::Limit margin = chain::limit_of(site_, consumer.margin_rule);
    Band band;
    band.at_least(which, *consumer.min_V);
    band.at_most(which, *consumer.max_V);
    if (!band.min && !band.max) return keep(key, unanswered(s, {{consumer.part_pointer, "unknown"}}));
    band.ask(margin);
    band.limit_source = part_source(site_, consumer.part);
    band.limit_verified = true;  // the part's own sheet
    Evidence evidence = finding(s, point.wiring, point.quantities, point.solved, band);
    if (!margin.value) chain::lacks_rule(evidence, margin);
    if (evidence.verdict == Verdict::broken)
      evidence.remedies.push_back(say::shorten_or_thicken(thing_words(site_, consumer.id)));
    keep(key, std::move(evidence), point, band);
  }

  void shifts(const SupplyPoint& point) {
    const chain::Limit limit = chain::limit_of(site_, "negative_shift_V");
    for (std::size_t k = 0; k < point.shifted_units.size(); ++k) {
      const std::size_t which = point.consumers.size() + k;
      const std::string unit = point.shifted_units[k].substr(0, point.shifted_units[k].find('/'));
      const Subject s =
          subject(unit, "negative_shift", chain::Link::trigger, "common_negative_shift", "V", point.condition);
      Subject named = s;
      named.thing = text(say::negative_of(thing_words(site_, unit), supply_words(point.condition)));
      Band band;
      if (limit.value) {
        band.min = Side{which, -*limit.value};
        band.max = Side{which, *limit.value};
      }
      band.limit_source = limit.source;
      band.limit_verified = limit.verified;
      const std::string key = "shift/" + point.shifted_units[k];
      if (!limit.value) {
        Evidence evidence = unanswered(named, {});
        chain::lacks_rule(evidence, limit);
        keep(key, std::move(evidence));
        continue;
      }
      Evidence evidence = apart(point, point.shifted_units[k])
                              ? no_shift(named, point)
                              : finding(named, point.wiring, point.quantities, point.solved, band);
      if (evidence.verdict == Verdict::broken)
        evidence.remedies.push_back(say::join_negatives(thing_words(site_, unit)));
      keep(key, std::move(evidence), point, band);
    }
  }

  /// Of a pair "unit/panel".
  bool apart(const SupplyPoint& point, const std::string& pair) const {
    const std::size_t slash = pair.find('/');
    return negatives_apart(site_, point, pair.substr(0, slash), pair.substr(slash + 1));
  }

  static Evidence no_shift(const Subject& named, const SupplyPoint& point) {
    Evidence evidence = unanswered(named, point.solved.gaps);
    if (evidence.gaps.empty()) evidence.verdict = Verdict::broken;
    evidence.says = say::level_floats(named.thing, {part_name(named.id, "n")});
    return evidence;
  }

  // --- currents -----------------------------------------------------------------------------------------------
  void currents(const SupplyPoint& point, const std::string& id, const site::Supply& supply) {
    const site::SupplySpec* sheet = site::spec_of(site_, supply.part, &site::Part::supply);
    if (sheet == nullptr) {
      const Subject s = subject(id, "supply_current", chain::Link::deliver, "current", "A", point.condition);
      return keep("current/" + id, unanswered(s, {{supply.part.pointer, "unknown"}}));
    }
    const site::SupplySpec& spec = *sheet;
    const Drawn all = drawn_from(site_, point, id, "");
    keep("current/" + id,
         current_evidence(point, subject(id, "supply_current", chain::Link::deliver, "current", "A", point.condition),
                          all, spec.rating_A, part_source(site_, supply.part.id)));
    for (const auto& [output, output_spec] : spec.outputs) {
      Subject s = subject(id, "output_current", chain::Link::deliver, "current", "A", point.condition);
      s.thing = text(say::output_when(thing_words(site_, id), output_spec.name.empty() ? output : output_spec.name,
                                      supply_words(point.condition)));
      const Drawn drawn = drawn_from(site_, point, id, output);
      keep("current/" + id + "/" + output,
           current_evidence(point, s, drawn, output_spec.rating_A, part_source(site_, supply.part.id)));
      if (!output_spec.protection.known() || !output_spec.limit_A.none()) {
        s.check = "starts";
        keep("starts/" + id + "/" + output,
             start_evidence(point, s, drawn, output_spec, part_source(site_, supply.part.id)));
      }
    }
  }

  /// A current against a rating, with the headroom that the rulebook asks for.
  Evidence current_evidence(const SupplyPoint& point, const Subject& s, const Drawn& drawn, const site::Value& rating,
                            const std::string& source) const {
    if (!rating.known()) {
      Evidence evidence = unanswered(s, {{rating.pointer, "unknown"}});
      evidence.says = say::current_not_known(s.thing);
      return evidence;
    }
    const chain::Limit headroom = chain::limit_of(site_, "supply_headroom_pct");
    const double required = rating.low * headroom.value.value_or(0.0) / 100.0;
    Evidence evidence = counted(point, s, drawn.most_A, drawn.nominal_A, rating, required, source, headroom.verified);
    rest_on(evidence, drawn.gaps);
    if (!headroom.value) chain::lacks_rule(evidence, headroom);
    leave_unsaid(evidence, say::current_not_known(s.thing));
    return evidence;
  }

  /// Where data are missing the sum is no number: nothing is told that could be read as a result.
  static void leave_unsaid(Evidence& evidence, Message says) {
    const bool missing = std::any_of(evidence.gaps.begin(), evidence.gaps.end(), [](const chain::Gap& gap) {
      return gap.reason == "unknown" || gap.reason == "incomplete_list";
    });
    if (evidence.verdict != Verdict::unanswered || !missing) return;
    evidence.value = evidence.bound = evidence.nominal = evidence.margin = evidence.required_margin = std::nullopt;
    evidence.says = std::move(says);
  }

  /// A stiff rail does not feel a guessed current, and the sum does.
  static void rest_on(Evidence& evidence, const std::vector<chain::Gap>& gaps) {
    for (const chain::Gap& gap : gaps) chain::add_gap(evidence.gaps, gap);
    if (!gaps.empty()) evidence.verdict = Verdict::unanswered;
  }

  Evidence counted(const SupplyPoint& point, const Subject& s, double most, double nominal, const site::Value& rating,
                   double required, const std::string& source, bool verified) const {
    Evidence evidence = unanswered(s, point.solved.gaps);
    add_if_weak(evidence.gaps, rating);
    evidence.kind = chain::BoundKind::bounded;
    evidence.value = evidence.bound = most;
    evidence.nominal = nominal;
    evidence.limit = rating.low;
    evidence.margin = rating.low - most;
    evidence.required_margin = required;
    evidence.limit_source = source;
    evidence.limit_verified = verified;
    evidence.origin = point.solved.weakest;
    if (evidence.gaps.empty()) evidence.verdict = chain::judge(*evidence.margin, required);
    evidence.says = say::current_of_rating(s.thing, highest({most, "A"}), Measure{rating.low, "A"},
                                           lowest({*evidence.margin, "A"}), Measure{required, "A"});
    return evidence;
  }

  /// While starting, every unit takes its starting current at once. Above the limit the protection acts; a foldback
  /// holds for certain only what it still gives into a short, in between nobody's sheet tells.
  Evidence start_evidence(const SupplyPoint& point, const Subject& s, const Drawn& drawn,
                          const site::SupplyOutputSpec& spec, const std::string& source) const {
    if (!spec.protection.known()) return unanswered(s, {{spec.protection.pointer, "unknown"}});
    if (!spec.limit_A.known()) return unanswered(s, {{spec.limit_A.pointer, "unknown"}});
    Evidence evidence = counted(point, s, drawn.starting_A, drawn.nominal_A, spec.limit_A, 0.0, source, true);
    evidence.says = say::current_of_protection(s.thing, highest({drawn.starting_A, "A"}),
                                               Measure{spec.limit_A.low, "A"}, lowest({*evidence.margin, "A"}));
    rest_on(evidence, drawn.gaps);
    rest_on(evidence, drawn.starting_gaps);
    leave_unsaid(evidence, say::current_not_known(s.thing));
    const bool foldback = spec.protection.is(site::Protection::foldback);
    if (foldback && evidence.verdict == Verdict::proven &&
        !(spec.foldback_A.known() && drawn.starting_A <= spec.foldback_A.low)) {
      evidence.verdict = Verdict::unanswered;
      evidence.gaps.push_back({spec.foldback_A.pointer, spec.foldback_A.known() ? "undecided" : "unknown"});
      evidence.says = say::may_latch_low(s.thing, highest({drawn.starting_A, "A"}), Measure{spec.foldback_A.low, "A"});
    }
    return evidence;
  }

  /// Every fuse against what flows through it: a consumer's own, and a junction's with all that hangs behind it.
  void fuses(const SupplyPoint& point) {
    for (std::size_t i = 0; i < point.consumers.size(); ++i) {
      const Consumer& consumer = point.consumers[i];
      fuse(point, consumer.id, *consumer.feed, consumer.link, drawn_by(site_, point, i));
    }
    for (const auto& [id, junction] : site_.junctions) {
      Drawn drawn;
      bool only_detectors = true;
      for (std::size_t i = 0; i < point.consumers.size(); ++i) {
        const std::vector<std::string> through = site::junctions_of(site_, *point.consumers[i].feed);
        if (std::find(through.begin(), through.end(), id) == through.end()) continue;
        const Drawn one = drawn_by(site_, point, i);
        drawn.nominal_A += one.nominal_A;
        drawn.most_A += one.most_A;
        drawn.gaps.insert(drawn.gaps.end(), one.gaps.begin(), one.gaps.end());
        only_detectors = only_detectors && point.consumers[i].link == chain::Link::sense;
      }
      fuse(point, id, junction.feed, only_detectors ? chain::Link::sense : chain::Link::deliver, drawn);
    }
  }

  void fuse(const SupplyPoint& point, const std::string& id, const site::Feed& feed, chain::Link link,
            const Drawn& drawn) {
    const site::Value& fuse = feed.fuse_A;
    if (fuse.none()) return;
    const chain::Limit share = chain::limit_of(site_, "fuse_load_pct");
    Subject s = subject(id, "fuse_current", link, "current", "A", point.condition);
    s.thing = text(say::fuse_of(thing_words(site_, id), supply_words(point.condition)));
    if (fuse.unknown()) return keep("fuse/" + id, unanswered(s, {{fuse.pointer, "unknown"}}));
    Evidence evidence = counted(point, s, drawn.most_A, drawn.nominal_A, fuse,
                                fuse.low * (1.0 - share.value.value_or(0.0) / 100.0), share.source, share.verified);
    rest_on(evidence, drawn.gaps);
    if (!share.value) chain::lacks_rule(evidence, share);
    evidence.says = say::current_of_fuse(s.thing, highest({drawn.most_A, "A"}), Measure{fuse.low, "A"},
                                         lowest({*evidence.margin, "A"}), Measure{*evidence.required_margin, "A"});
    leave_unsaid(evidence, say::fuse_not_known(s.thing));
    keep("fuse/" + id, std::move(evidence));
  }

 public:
  /// The largest current of a load in a solved point: constant power at the lowest voltage it can see.
  static double most_of(const circuit::Element& element, const circuit::WorstCase& voltage) {
    if (element.kind != circuit::Kind::constant_power) return element.value.high;
    const double lowest = std::max(voltage.low.bound, element.lockout_volts);
    return lowest > 0.0 ? element.value.high / lowest : circuit::infinite;
  }

 private:
  const site::Site& site_;
  std::map<std::string, Worst> worst_;
};

/// Whether a consumer stands behind `output` of `supply` (any output where it is empty).
bool behind(const site::Site& site, const Consumer& consumer, const std::string& supply, const std::string& output) {
  return fed_by(site, consumer, supply) && (output.empty() || site::output_of(site, *consumer.feed) == output);
}

}  // namespace

bool negatives_apart(const site::Site& site, const SupplyPoint& point, const std::string& unit,
                     const std::string& panel) {
  const std::string of_unit = site::supply_of(site, site.units.at(unit).feed);
  const std::string of_panel = site::supply_of(site, site.panels.at(panel).feed);
  return point.parts.count(of_unit) != 0 && point.parts.count(of_panel) != 0 &&
         point.parts.at(of_unit) != point.parts.at(of_panel);
}

SupplyPoint solve_supply(const site::Site& site, SupplyCondition condition) {
  SupplyPoint point;
  point.condition = condition;
  point.backbone = build_backbone(site, condition, {}, point.wiring);
  point.consumers = consumers(site);
  for (const Consumer& consumer : point.consumers) {
    const Poles poles = point.backbone.poles.at(consumer.id);
    point.quantities.push_back(circuit::Quantity::voltage(poles.plus, poles.minus));
  }
  for (const auto& [id, unit] : site.units) {
    for (const std::string& panel : tapped_panels(site, id)) {
      if (point.backbone.poles.count(panel) == 0) continue;
      point.shifted_units.push_back(id + "/" + panel);
      point.quantities.push_back(
          circuit::Quantity::voltage(point.backbone.poles.at(id).minus, point.backbone.poles.at(panel).minus));
    }
  }
  point.parts = join_loose_supplies(point.backbone, point.wiring);
  point.solved = solve_wiring(point.wiring, point.quantities);
  return point;
}

Drawn drawn_by(const site::Site& site, const SupplyPoint& point, std::size_t index) {
  Drawn drawn;
  const Consumer& consumer = point.consumers.at(index);
  const auto element = point.wiring.network.find_element(part_name(consumer.id, "load"));
  if (!element) return drawn;
  const circuit::Element& load = point.wiring.network.element(*element);
  const circuit::WorstCase& volts = point.solved.cases.at(index);
  const bool constant_power = load.kind == circuit::Kind::constant_power;
  drawn.most_A = SupplyCheck::most_of(load, volts);
  drawn.gaps = weak_bases(point.wiring, *element);
  drawn.nominal_A = constant_power ? load.value.nominal / volts.nominal : load.value.nominal;
  const site::UnitSpec* unit = site::unit_spec(site, consumer.id);
  const bool starts = unit != nullptr && unit->startup_A.known();
  if (unit != nullptr) add_if_weak(drawn.starting_gaps, unit->startup_A);
  drawn.starting_A = starts ? std::max(drawn.most_A, unit->startup_A.high) : drawn.most_A;
  return drawn;
}

Drawn drawn_from(const site::Site& site, const SupplyPoint& point, const std::string& supply,
                 const std::string& output) {
  Drawn drawn;
  for (std::size_t i = 0; i < point.consumers.size(); ++i) {
    if (!behind(site, point.consumers[i], supply, output)) continue;
    const Drawn one = drawn_by(site, point, i);
    drawn.nominal_A += one.nominal_A;
    drawn.most_A += one.most_A;
    drawn.starting_A += one.starting_A;
    drawn.gaps.insert(drawn.gaps.end(), one.gaps.begin(), one.gaps.end());
    drawn.starting_gaps.insert(drawn.starting_gaps.end(), one.starting_gaps.begin(), one.starting_gaps.end());
  }
  return drawn;
}

std::vector<Evidence> check_supply(const site::Site& site) { return SupplyCheck(site).run(); }

}  // namespace zoneproof::electric
