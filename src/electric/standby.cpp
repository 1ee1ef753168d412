// How long a battery lasts, by simulation.
//
// Model. The battery is its open-circuit voltage, falling linearly from charged to empty with the share of charge used,
// behind its inner resistance; all loads hang on the one network and change with their own voltage. Charge is counted
// in units of the rated discharge: at a current I above the rated current I_H = C/H a step uses I (I/I_H)^(k-1) dt,
// which is Peukert's law for a capacity C rated at H hours, t = H (C/(I H))^k. Below I_H the law is not extrapolated
// (it would give more than the rated capacity): there the plain charge counts. Usable capacity = rated capacity /
// (ageing factor x temperature factor), both of the rulebook; a temperature outside of the published factors is
// unanswered. The discharge ends where the battery reaches the supply's cut-off, is empty, or the first consumer leaves
// its voltage range. Worst case: autonomy falls with every load, every series resistance and with less capacity, so the
// corner is all loads and resistances at their high ends, voltages and capacity at their low ends. It is one solve a
// step, no search. Sources: Peukert's law for a rated capacity as restated for C_H ratings, and its check values:
// docs/methods/standby.md. Errors: the linear open-circuit voltage is a simplification (typical lead-acid cells stay
// higher in the middle), which errs on the short side, as each step does. Steps are shares of charge, so their number
// does not depend on the load.
#include "electric/standby.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "circuit/solve.hpp"
#include "electric/answer.hpp"
#include "electric/backbone.hpp"
#include "electric/consumer.hpp"
#include "electric/finding.hpp"
#include "electric/limit.hpp"
#include "electric/loose.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using chain::Verdict;
using circuit::ElementIndex;

constexpr int steps_of_charge = 200;  // half a percent of charge each: autonomy to within that share
constexpr double share_accuracy =
    1e-4;  // bisection of the instant after which the alarm still runs, in shares of charge

/// Every value at the end that shortens the discharge.
circuit::Values shortest_life(const Wiring& wiring) {
  circuit::Values values = circuit::nominal_values(wiring.network);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const circuit::Element& element = wiring.network.elements()[i];
    const bool source = element.kind == circuit::Kind::voltage || element.kind == circuit::Kind::limited_source;
    values[i] = source ? element.value.low : element.value.high;
  }
  return values;
}

/// One battery block group in the network.
struct Cells {
  ElementIndex source = 0;
  const site::BatterySpec* spec = nullptr;
  double capacity_Ah = 0.0;  // rated, of all parallel blocks
};

class Simulation {
 public:
  Simulation(const site::Site& site, const std::string& supply, std::optional<double> capacity)
      : site_(site), supply_(supply) {
    for (LoadState loads : {LoadState::rest, LoadState::alarm}) {
      Wiring& wiring = loads == LoadState::rest ? standby_ : alarm_;
      backbone_ = build_backbone(site, SupplyCondition::battery_full, {}, wiring, loads);
      join_loose_supplies(backbone_, wiring);
    }
    find_cells(capacity);
    find_watched();
    find_weak(standby_);
    find_weak(alarm_);
  }

  Discharge run(const StandbyDemand& demand) {
    if (!result_.gaps.empty() || cells_.empty()) return result_;
    standby();
    count_drawn(demand);
    fit_alarm(demand);
    return result_;
  }

 private:
  // --- what is there ------------------------------------------------------------------------------------------
  void find_cells(std::optional<double> capacity) {
    for (const auto& [id, battery] : site_.batteries) {
      if (battery.supply.id != supply_) continue;
      const site::BatterySpec* sheet = site::spec_of(site_, battery.part, &site::Part::battery);
      const auto source = standby_.network.find_element(id + "_source");
      if (sheet == nullptr || !battery.blocks_in_parallel.known()) {
        const bool counted = battery.blocks_in_parallel.known();
        result_.gaps.push_back({counted ? battery.part.pointer : battery.blocks_in_parallel.pointer, "unknown"});
        continue;
      }
      if (!source) continue;  // its supply is not in the network: that gap is named already
      const site::BatterySpec& spec = *sheet;
      for (const site::Value* value :
           {&spec.capacity_Ah, &spec.rated_h, &spec.peukert_exponent, &spec.full_V, &spec.empty_V})
        add_if_weak(result_.gaps, *value);
      const double blocks = static_cast<double>(*battery.blocks_in_parallel.value);
      cells_.push_back({*source, &spec, capacity.value_or(spec.capacity_Ah.low * blocks)});
      derate(cells_.back(), battery);
    }
  }

  /// Ageing and temperature take their share of the rated capacity.
  void derate(Cells& cells, const site::Battery& battery) {
    const Limit ageing = limit_of(site_, "battery_ageing_factor");
    if (!ageing.value) result_.gaps.push_back({ageing.pointer, "no_rule"});
    const Temperatures air = temperatures_of(site_, {battery.area});
    const std::optional<double> factor = worst_factor(air);
    if (!factor) result_.gaps.push_back({battery.area.pointer.empty() ? "/areas" : battery.area.pointer, "undecided"});
    usable_[cells.source] = cells.capacity_Ah / (ageing.value.value_or(1.0) * factor.value_or(1.0));
    result_.usable_Ah += usable_[cells.source];
  }

  /// The larger factor of both ends of the temperatures; both must be published.
  std::optional<double> worst_factor(const Temperatures& air) const {
    const std::optional<double> cold = temperature_factor(air.low), warm = temperature_factor(air.high);
    return cold && warm ? std::optional<double>(std::max(*cold, *warm)) : std::nullopt;
  }

  /// Linear between the published points; nothing outside of them.
  std::optional<double> temperature_factor(double degC) const {
    const site::RuleEntry* entry = site::rule(site_, "battery_temperature_factor");
    if (entry == nullptr) return std::nullopt;
    for (std::size_t i = 0; i + 1 < entry->points.size(); ++i) {
      const site::RulePoint& a = entry->points[i];
      const site::RulePoint& b = entry->points[i + 1];
      if (degC < a.at.nominal || degC > b.at.nominal) continue;
      const double share = (degC - a.at.nominal) / (b.at.nominal - a.at.nominal);
      return a.value.nominal + share * (b.value.nominal - a.value.nominal);
    }
    return std::nullopt;
  }

  void find_watched() {
    for (Consumer& consumer : consumers(site_)) {
      // Sounders and keypads may go first: no chain needs them.
      if (!fed_by(site_, consumer, supply_) || site_.loads.count(consumer.id) != 0) continue;
      if (consumer.min_V == nullptr || consumer.min_V->unknown()) {
        result_.gaps.push_back(
            {consumer.min_V == nullptr ? consumer.part_pointer : consumer.min_V->pointer, "unknown"});
      } else if (consumer.min_V->known()) {
        watched_.push_back(consumer);
      }
    }
    const site::SupplySpec* supply = site::spec_of(site_, site_.supplies.at(supply_).part, &site::Part::supply);
    if (supply == nullptr) return;
    const site::Value& cutoff = supply->cutoff_V;
    add_if_weak(result_.gaps, cutoff);
    if (cutoff.known()) cutoff_V_ = cutoff.high;
  }

  /// What the autonomy rests on: currents out of the batteries, and every voltage that can end it.
  std::vector<double> seen(const circuit::Solution& solution) const {
    std::vector<double> numbers;
    if (cells_.empty()) return numbers;
    for (const Cells& cells : cells_) numbers.push_back(solution.current[static_cast<std::size_t>(cells.source)]);
    numbers.push_back(battery_voltage(solution));
    for (const Consumer& consumer : watched_) {
      const Poles poles = backbone_.poles.at(consumer.id);
      numbers.push_back(solution.at(circuit::Quantity::voltage(poles.plus, poles.minus)));
    }
    return numbers;
  }

  void find_weak(const Wiring& wiring) {
    for (const chain::Gap& gap : weak_data(wiring, [this](const circuit::Solution& at) { return seen(at); })) {
      chain::add_gap(result_.gaps, gap);
    }
  }

  // --- the discharge ------------------------------------------------------------------------------------------
  struct Instant {
    circuit::Solution solution;
    double current_A = 0.0;
    double rate_per_h = 0.0;  // share of charge used an hour
    std::string ends;         // what ends the discharge here, empty while it runs
  };

  Instant at(const Wiring& wiring, double used) {
    circuit::Values values = shortest_life(wiring);
    for (const Cells& cells : cells_) {
      const double full = cells.spec->full_V.low, empty = cells.spec->empty_V.low;
      values[static_cast<std::size_t>(cells.source)] = full - (full - empty) * used;
    }
    Instant instant;
    instant.solution = circuit::solve(wiring.network, values);
    if (!instant.solution.usable()) {
      instant.ends = instant.solution.trouble == circuit::Trouble::collapsed ? "collapse" : "unsolved";
      return instant;
    }
    double rated = 0.0, effective = 0.0;
    for (const Cells& cells : cells_) {
      const double amps = std::fabs(instant.solution.current[static_cast<std::size_t>(cells.source)]);
      const double rated_A = cells.capacity_Ah / cells.spec->rated_h.nominal;
      instant.current_A += amps;
      rated += usable_.at(cells.source);
      effective += amps * std::max(1.0, std::pow(amps / rated_A, cells.spec->peukert_exponent.high - 1.0));
    }
    instant.rate_per_h = effective / rated;
    instant.ends = what_ends(instant.solution);
    return instant;
  }

  double battery_voltage(const circuit::Solution& solution) const {
    const auto node = standby_.network.find_node(supply_ + "_battery");
    return solution.at(circuit::Quantity::voltage(*node, backbone_.supplies.at(supply_).minus));
  }

  std::string what_ends(const circuit::Solution& solution) const {
    if (cutoff_V_ && battery_voltage(solution) <= *cutoff_V_) return "cutoff";
    for (const Consumer& consumer : watched_) {
      const Poles poles = backbone_.poles.at(consumer.id);
      if (solution.at(circuit::Quantity::voltage(poles.plus, poles.minus)) < consumer.min_V->high) return consumer.id;
    }
    return {};
  }

  /// Walks the standby load until something ends it. `used` is the share of charge gone. A step takes the larger rate
  /// of its two ends: constant power draws more as the voltage falls, a resistance less.
  void standby() {
    double hours = 0.0, rate_before = 0.0;
    for (int step = 0; step <= steps_of_charge; ++step) {
      const double used = static_cast<double>(step) / steps_of_charge;
      const Instant instant = at(standby_, used);
      if (!instant.ends.empty()) {
        result_.ended_by = instant.ends;
        break;
      }
      if (step == 0) result_.standby_A = instant.current_A;
      if (step > 0) hours += 1.0 / (steps_of_charge * std::max(rate_before, instant.rate_per_h));
      rate_before = instant.rate_per_h;
      result_.points.push_back({hours, 1.0 - used, battery_voltage(instant.solution), instant.current_A});
      if (step == steps_of_charge) result_.ended_by = "empty";
    }
  }

  /// The alarm load for its time from a state of charge: what is used then, or nothing where it does not last so long.
  std::optional<double> after_alarm(double used, double alarm_h) {
    double left = alarm_h;
    while (left > 0.0) {
      if (used >= 1.0) return ended("empty");
      const Instant instant = at(alarm_, used);
      if (!instant.ends.empty()) return ended(instant.ends);
      const Instant later = at(alarm_, std::min(1.0, used + 1.0 / steps_of_charge));
      const double rate = std::max(instant.rate_per_h, later.rate_per_h);
      const double step = std::min(left, 1.0 / (steps_of_charge * rate));
      used += step * rate;
      left -= step;
    }
    if (used > 1.0) return ended("empty");
    return used;
  }

  bool alarm_runs(double used, double alarm_h) { return after_alarm(used, alarm_h).has_value(); }

  /// Charge out of the battery after the required standby and, as far as it runs, the alarm.
  void count_drawn(const StandbyDemand& demand) {
    if (result_.points.empty()) return;
    double used = 1.0 - result_.points.back().share_left;
    for (std::size_t i = 0; i + 1 < result_.points.size(); ++i) {
      const DischargePoint& a = result_.points[i];
      const DischargePoint& b = result_.points[i + 1];
      if (demand.standby_h < a.hours || demand.standby_h > b.hours) continue;
      used = 1.0 - a.share_left + (demand.standby_h - a.hours) / (b.hours - a.hours) * (a.share_left - b.share_left);
      break;
    }
    const std::string ended_by = result_.ended_by;
    result_.drawn_Ah = after_alarm(used, demand.alarm_h).value_or(1.0) * result_.usable_Ah;
    result_.ended_by = ended_by;
  }

  std::nullopt_t ended(const std::string& why) {
    result_.ended_by = why;
    return std::nullopt;
  }

  /// The last state of the standby walk from which the alarm still runs; time is linear between two points.
  void fit_alarm(const StandbyDemand& demand) {
    if (result_.points.empty() || !alarm_runs(0.0, demand.alarm_h)) return;
    double low = 0.0, high = 1.0 - result_.points.back().share_left;
    if (alarm_runs(high, demand.alarm_h)) {
      low = high;
    }
    while (high - low > share_accuracy) {
      const double middle = 0.5 * (low + high);
      (alarm_runs(middle, demand.alarm_h) ? low : high) = middle;
    }
    result_.autonomy_h = hours_at(low);
  }

  double hours_at(double used) const {
    for (std::size_t i = 0; i + 1 < result_.points.size(); ++i) {
      const DischargePoint& a = result_.points[i];
      const DischargePoint& b = result_.points[i + 1];
      const double from = 1.0 - a.share_left, to = 1.0 - b.share_left;
      if (used >= from && used <= to) return a.hours + (used - from) / (to - from) * (b.hours - a.hours);
    }
    return result_.points.back().hours;
  }

  const site::Site& site_;
  const std::string& supply_;
  Wiring standby_, alarm_;
  Backbone backbone_;
  std::vector<Cells> cells_;
  std::map<ElementIndex, double> usable_;
  std::vector<Consumer> watched_;
  std::optional<double> cutoff_V_;
  Discharge result_;
};

// --- evidence -------------------------------------------------------------------------------------------------------

Subject subject_of(const site::Site& site, const std::string& supply, const char* check, const char* quantity) {
  Subject subject;
  subject.id = supply;
  subject.check = check;
  subject.link = chain::Link::deliver;
  subject.quantity = quantity;
  subject.unit = "h";
  subject.condition = "battery";
  subject.thing = thing_words(site, supply);
  return subject;
}

/// The smallest battery of the shelf with which the supply passes and keeps the rulebook's reserve for what is not
/// foreseen at the design: it would pass with its capacity divided by that factor. A new battery is sized with the
/// reserve; whether an installed one lasts is judged without. Nothing if none does.
std::optional<double> smallest_battery(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                       double required_h) {
  std::vector<double> capacities;
  for (const auto& [id, part] : site::parts_shelf()) {
    if (part.battery && part.battery->capacity_Ah.known()) capacities.push_back(part.battery->capacity_Ah.nominal);
  }
  std::sort(capacities.begin(), capacities.end());
  const double reserve = limit_of(site, "battery_design_factor").value.value_or(1.0);
  for (double capacity : capacities) {
    if (discharge(site, supply, demand, capacity / reserve).autonomy_h >= required_h) return capacity;
  }
  return std::nullopt;
}

class StandbyCheck {
 public:
  explicit StandbyCheck(const site::Site& site)
      : site_(site),
        hours_(limit_of(site, "standby_h")),
        alarm_(limit_of(site, "alarm_duration_h")),
        margin_pct_(limit_of(site, "autonomy_margin_pct")) {}

  std::vector<Evidence> run() {
    std::vector<Evidence> all;
    for (const auto& [id, supply] : site_.supplies) {
      const Subject subject = subject_of(site_, id, "autonomy", "autonomy");
      if (!alive(site_, id, SupplyCondition::battery_full)) {
        all.push_back(without_battery(id, supply, subject));
        continue;
      }
      Evidence evidence = autonomy(id, subject);
      all.push_back(evidence);
      all.push_back(recharge(id));
      for (const auto& [battery_id, battery] : site_.batteries) {
        if (battery.supply.id == id) all.push_back(age(id, battery_id, battery));
      }
    }
    return all;
  }

 private:
  /// The ageing factor is that of a battery within its life: an older one may hold any charge.
  Evidence age(const std::string& supply, const std::string& id, const site::Battery& battery) const {
    Subject subject = subject_of(site_, supply, "battery_age", "age");
    subject.unit = "years";
    subject.thing = thing_words(site_, id);
    const Limit life = limit_of(site_, "battery_life_years");
    if (!battery.age_years.known()) return unanswered(subject, {{battery.age_years.pointer, "unknown"}});
    Evidence evidence = unanswered(subject, {});
    add_if_weak(evidence.gaps, battery.age_years);
    evidence.value = evidence.bound = battery.age_years.high;
    evidence.nominal = battery.age_years.nominal;
    evidence.origin = battery.age_years.origin;
    if (!life.value) {
      lacks_rule(evidence, life);
      return evidence;
    }
    evidence.limit = *life.value;
    evidence.margin = *life.value - battery.age_years.high;
    evidence.required_margin = 0.0;
    evidence.limit_source = life.source;
    evidence.limit_verified = life.verified;
    if (evidence.gaps.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
    evidence.says =
        say::battery_is_old(subject.thing, Measure{battery.age_years.high, "years"}, Measure{*life.value, "years"});
    if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::replace_battery(subject.thing));
    return evidence;
  }

  Evidence without_battery(const std::string& id, const site::Supply& supply, const Subject& subject) const {
    if (!supply.batteries_complete.yes()) {
      return unanswered(subject, {{"/supplies/" + id + "/batteries_complete", "incomplete_list"}});
    }
    Evidence evidence = unanswered(subject, {});
    evidence.verdict = Verdict::broken;
    evidence.says = say::no_battery(thing_words(site_, id));
    return evidence;
  }

  Evidence autonomy(const std::string& id, const Subject& subject) {
    if (!hours_.value || !alarm_.value) {
      Evidence evidence = unanswered(subject, {});
      lacks_rule(evidence, hours_.value ? alarm_ : hours_);
      return evidence;
    }
    const StandbyDemand demand{*hours_.value, *alarm_.value};
    const Discharge run = discharge(site_, id, demand);
    discharges_[id] = run;
    if (!run.gaps.empty()) return unanswered(subject, run.gaps);
    Evidence evidence = unanswered(subject, {});
    evidence.kind = chain::BoundKind::bounded;
    evidence.value = evidence.bound = run.autonomy_h;
    evidence.limit = *hours_.value;
    evidence.margin = run.autonomy_h - *hours_.value;
    evidence.required_margin = *hours_.value * margin_pct_.value.value_or(0.0) / 100.0;
    evidence.limit_source = hours_.source;
    evidence.limit_verified = hours_.verified;
    evidence.origin = site::Origin::data_sheet;
    evidence.verdict = chain::judge(*evidence.margin, *evidence.required_margin);
    if (!margin_pct_.value) lacks_rule(evidence, margin_pct_);
    evidence.says = say::lasts(subject.thing, Measure{run.autonomy_h, "h"}, Measure{*hours_.value, "h"},
                               ended_words(run.ended_by), Measure{run.standby_A, "A"}, Measure{run.usable_Ah, "Ah"});
    if (evidence.verdict != Verdict::proven) propose(evidence, id, demand);
    return evidence;
  }

  void propose(Evidence& evidence, const std::string& id, const StandbyDemand& demand) const {
    const double required = demand.standby_h + *evidence.required_margin;
    if (const std::optional<double> capacity = smallest_battery(site_, id, demand, required)) {
      evidence.remedies.push_back(say::fit_battery(Measure{*capacity, "Ah"}));
    } else {
      evidence.remedies.push_back(say::no_battery_lasts());
    }
  }

  std::string ended_words(const std::string& ended_by) const {
    if (ended_by == "cutoff") return text(say::ended_by_cutoff());
    if (ended_by == "empty") return text(say::ended_by_empty());
    if (ended_by == "collapse" || ended_by == "unsolved") return text(say::ended_by_collapse());
    return text(say::ended_by_consumer(thing_words(site_, ended_by)));
  }

  /// Charge to give back over what the charger has left for it.
  Evidence recharge(const std::string& id) const {
    const Subject subject = subject_of(site_, id, "recharge", "recharge_time");
    const Limit limit = limit_of(site_, "recharge_h");
    const Limit share = limit_of(site_, "recharge_share_pct");
    const Limit factor = limit_of(site_, "charge_factor");
    for (const Limit* rule : {&limit, &share, &factor}) {
      if (rule->value) continue;
      Evidence evidence = unanswered(subject, {});
      lacks_rule(evidence, *rule);
      return evidence;
    }
    const auto run = discharges_.find(id);
    if (run == discharges_.end() || !run->second.gaps.empty()) {
      return unanswered(subject, run == discharges_.end() ? std::vector<chain::Gap>{} : run->second.gaps);
    }
    const site::SupplySpec& spec = *site_.parts.at(site_.supplies.at(id).part.id).supply;
    std::vector<chain::Gap> guesses;
    for (const site::Value* value : {&spec.charge_A, &spec.rating_A}) {
      if (!value->known()) return unanswered(subject, {{value->pointer, "unknown"}});
      add_if_weak(guesses, *value);
    }
    // What must be given back until the share is reached, from the emptiest the required discharge leaves it.
    const double capacity = run->second.usable_Ah;
    const double missing = std::max(0.0, *share.value / 100.0 * capacity - (capacity - run->second.drawn_Ah));
    const double spare = std::min(spec.charge_A.low, spec.rating_A.low - run->second.standby_A);
    Evidence evidence = unanswered(subject, guesses);
    evidence.kind = chain::BoundKind::bounded;
    evidence.limit = *limit.value;
    evidence.required_margin = 0.0;
    evidence.limit_source = limit.source;
    evidence.limit_verified = limit.verified && share.verified;
    evidence.origin = site::Origin::data_sheet;
    if (!(spare > 0.0)) {
      if (guesses.empty()) evidence.verdict = Verdict::broken;
      evidence.says = say::never_recharges(subject.thing);
      return evidence;
    }
    evidence.value = evidence.bound = *factor.value * missing / spare;
    evidence.margin = *limit.value - *evidence.value;
    if (guesses.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
    evidence.says = say::recharges(subject.thing, Measure{*evidence.value, "h"}, Measure{*share.value, "pct"},
                                   Measure{*limit.value, "h"}, Measure{spare, "A"});
    return evidence;
  }

  const site::Site& site_;
  Limit hours_, alarm_, margin_pct_;
  std::map<std::string, Discharge> discharges_;
};

}  // namespace

Discharge discharge(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                    std::optional<double> capacity_Ah) {
  return Simulation(site, supply, capacity_Ah).run(demand);
}

std::vector<Evidence> check_standby(const site::Site& site) { return StandbyCheck(site).run(); }

}  // namespace zoneproof::electric
