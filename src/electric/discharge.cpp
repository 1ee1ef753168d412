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
#include "electric/discharge.hpp"

#include <algorithm>
#include <cmath>

#include "circuit/solve.hpp"
#include "electric/answer.hpp"
#include "electric/backbone.hpp"
#include "electric/battery.hpp"
#include "electric/consumer.hpp"
#include "electric/element_name.hpp"
#include "electric/excerpt.hpp"
#include "electric/loose.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

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

/// A group of the bank in the network.
struct Cells {
  ElementIndex source = 0;
  const BatteryGroup* group = nullptr;
};

class Simulation {
 public:
  Simulation(const site::Site& site, const std::string& supply, std::optional<double> rated_Ah)
      : site_(excerpt_of_supply(site, supply)), supply_(supply), bank_(bank_of(site_, supply, rated_Ah)) {
    for (LoadState loads : {LoadState::rest, LoadState::alarm}) {
      Wiring& wiring = loads == LoadState::rest ? standby_ : alarm_;
      backbone_ = build_backbone(site_, SupplyCondition::battery_full, {}, wiring, loads);
      join_loose_supplies(backbone_, wiring);
    }
    find_cells();
    find_watched();
    find_weak(standby_);
    find_weak(alarm_);
  }

  Discharge run(const StandbyDemand& demand) {
    if (!result_.gaps.empty() || cells_.empty()) return result_;
    standby();
    fit_alarm(demand);
    return result_;
  }

 private:
  // --- what is there ------------------------------------------------------------------------------------------
  void find_cells() {
    result_.gaps = bank_.gaps;
    result_.usable_Ah = bank_.usable_Ah;
    result_.weakest = std::max({bank_.weakest, weakest_of(standby_), weakest_of(alarm_)});
    for (const BatteryGroup& group : bank_.groups) {
      // Without a source its supply is not in the network: that gap is named already.
      if (const auto source = standby_.network.find_element(part_name(group.id, "source")))
        cells_.push_back({*source, &group});
    }
  }

  void find_watched() {
    for (Consumer& consumer : consumers(site_)) {
      // Sounders and keypads may go first: no chain needs them.
      if (!fed_by(site_, consumer, supply_) || site_.loads.count(consumer.id) != 0) continue;
      if (consumer.min_V == nullptr || consumer.min_V->unknown()) {
        result_.gaps.push_back(
            {consumer.min_V == nullptr ? consumer.part_pointer : consumer.min_V->pointer, "unknown"});
      } else if (consumer.min_V->known()) {
        result_.weakest = std::max(result_.weakest, consumer.min_V->origin);
        watched_.push_back(consumer);
      }
    }
    const site::SupplySpec* supply = site::spec_of(site_, site_.supplies.at(supply_).part, &site::Part::supply);
    if (supply == nullptr) return;
    const site::Value& cutoff = supply->cutoff_V;
    add_if_weak(result_.gaps, cutoff);
    if (!cutoff.known()) return;
    cutoff_V_ = cutoff.high;
    result_.weakest = std::max(result_.weakest, cutoff.origin);
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
    double counted_A = 0.0;   // as the charge counts it
    double rate_per_h = 0.0;  // share of charge used an hour
    std::string ends;         // what ends the discharge here, empty while it runs
  };

  Instant at(const Wiring& wiring, double used) {
    circuit::Values values = shortest_life(wiring);
    for (const Cells& cells : cells_) {
      const double full = cells.group->spec->full_V.low, empty = cells.group->spec->empty_V.low;
      values[static_cast<std::size_t>(cells.source)] = full - (full - empty) * used;
    }
    Instant instant;
    instant.solution = circuit::solve(wiring.network, values);
    if (!instant.solution.usable()) {
      instant.ends = instant.solution.trouble == circuit::Trouble::collapsed ? "collapse" : "unsolved";
      return instant;
    }
    double effective = 0.0;
    for (const Cells& cells : cells_) {
      const double amps = std::fabs(instant.solution.current[static_cast<std::size_t>(cells.source)]);
      const site::BatterySpec& spec = *cells.group->spec;
      const double rated_A = cells.group->rated_Ah / spec.rated_h.high;
      instant.current_A += amps;
      effective += amps * std::max(1.0, std::pow(amps / rated_A, spec.peukert_exponent.high - 1.0));
    }
    instant.counted_A = effective;
    instant.rate_per_h = effective / bank_.usable_Ah;
    instant.ends = what_ends(instant.solution);
    return instant;
  }

  double battery_voltage(const circuit::Solution& solution) const {
    const auto node = standby_.network.find_node(part_name(supply_, "battery"));
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

  /// Whether the alarm load still runs for its time from a state of charge; where not, what ends it is noted. `used` is
  /// then the share that is gone.
  bool alarm_runs(double& used, double alarm_h) {
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
    return used <= 1.0 || ended("empty");
  }

  /// Always false: the alarm does not run.
  bool ended(const std::string& why) {
    result_.ended_by = why;
    return false;
  }

  /// The last state of the standby walk from which the alarm still runs; time is linear between two points.
  void fit_alarm(const StandbyDemand& demand) {
    const auto runs_from = [&](double used) { return alarm_runs(used, demand.alarm_h); };
    if (result_.points.empty() || !runs_from(0.0)) return;
    double low = 0.0, high = 1.0 - result_.points.back().share_left;
    if (runs_from(high)) {
      low = high;
    }
    while (high - low > share_accuracy) {
      const double middle = 0.5 * (low + high);
      (runs_from(middle) ? low : high) = middle;
    }
    result_.autonomy_h = hours_at(low);
    if (result_.autonomy_h > 0.0) account_for(low, demand);
  }

  /// Where the charge goes when the standby ends at `used`.
  void account_for(double used, const StandbyDemand& demand) {
    const auto drain = [](const Instant& instant) { return Drain{instant.current_A, instant.counted_A}; };
    double gone = used;
    const std::string ends = result_.ended_by;  // what ended it is told already
    alarm_runs(gone, demand.alarm_h);
    result_.ended_by = ends;
    gone = std::min(gone, 1.0);
    result_.account = {
        used, gone - used, 1.0 - gone, drain(at(standby_, 0.0)), drain(at(standby_, used)), drain(at(alarm_, used))};
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

  const site::Site site_;  ///< what hangs on the supply
  const std::string& supply_;
  const Bank bank_;
  Wiring standby_, alarm_;
  Backbone backbone_;
  std::vector<Cells> cells_;
  std::vector<Consumer> watched_;
  std::optional<double> cutoff_V_;
  Discharge result_;
};

}  // namespace

Discharge discharge(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                    std::optional<double> rated_Ah) {
  return Simulation(site, supply, rated_Ah).run(demand);
}

}  // namespace zoneproof::electric
