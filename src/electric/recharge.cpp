// Charge from flat to the rulebook's share over what the charger has left for it (docs/methods/standby.md).
#include "electric/recharge.hpp"

#include <algorithm>
#include <vector>

#include "base/outward.hpp"
#include "chain/limit.hpp"
#include "electric/answer.hpp"
#include "electric/battery.hpp"
#include "electric/finding.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using chain::Evidence;
using chain::Verdict;
using circuit::infinite;

namespace {

/// What the rulebook asks of a recharge, and how it counts.
struct RechargeRules {
  chain::Limit hours, share_pct, charge_factor;

  explicit RechargeRules(const site::Site& site)
      : hours(chain::limit_of(site, "recharge_h")),
        share_pct(chain::limit_of(site, "recharge_share_pct")),
        charge_factor(chain::limit_of(site, "charge_factor")) {}

  const chain::Limit* missing() const {
    for (const chain::Limit* rule : {&hours, &share_pct, &charge_factor}) {
      if (!rule->value) return rule;
    }
    return nullptr;
  }
  bool verified() const { return hours.verified && share_pct.verified && charge_factor.verified; }
  /// From flat to the share: a flat battery has nothing of it left.
  double time_h(double capacity_Ah, double spare_A) const {
    return *charge_factor.value * *share_pct.value / 100.0 * capacity_Ah / spare_A;
  }
};

/// Most that the batteries of a supply can take when they are new.
double largest_Ah(const site::Site& site, const std::string& supply) {
  double most = 0.0;
  for (const BatteryGroup& group : bank_of(site, supply).groups) most += group.largest_Ah;
  return most;
}

double spare_A(const site::SupplySpec& spec, const Discharge& run) {
  return std::min(spec.charge_A.low, spec.rating_A.low - run.standby_A);
}

const site::SupplySpec& supply_spec(const site::Site& site, const std::string& supply) {
  return *site.parts.at(site.supplies.at(supply).part.id).supply;
}

}  // namespace

Evidence recharge(const site::Site& site, const std::string& supply, const Discharge& run) {
  const Subject subject = battery_subject(site, supply, "recharge", "recharge_time");
  const RechargeRules rules(site);
  if (const chain::Limit* missing = rules.missing()) {
    Evidence evidence = unanswered(subject, {});
    chain::lacks_rule(evidence, *missing);
    return evidence;
  }
  if (!run.gaps.empty()) return unanswered(subject, run.gaps);
  const site::SupplySpec& spec = supply_spec(site, supply);
  std::vector<chain::Gap> guesses;
  // One battery more lasts longer, but takes longer to charge.
  if (const auto open = site::other_battery_possible(site, supply))
    guesses.push_back({open->pointer, open->incomplete ? "incomplete_list" : "unknown"});
  for (const site::Value* value : {&spec.charge_A, &spec.rating_A}) {
    if (!value->known()) return unanswered(subject, {{value->pointer, "unknown"}});
    add_if_weak(guesses, *value);
  }
  const double spare = spare_A(spec, run);
  Evidence evidence = unanswered(subject, guesses);
  evidence.kind = chain::BoundKind::bounded;
  evidence.limit = *rules.hours.value;
  evidence.required_margin = 0.0;
  evidence.limit_source = rules.hours.source;
  evidence.limit_verified = rules.verified();
  evidence.origin = std::max({run.weakest, spec.charge_A.origin, spec.rating_A.origin});
  if (!(spare > 0.0)) {
    if (guesses.empty()) evidence.verdict = Verdict::broken;
    evidence.says = say::never_recharges(subject.thing);
    return evidence;
  }
  evidence.value = evidence.bound = rules.time_h(largest_Ah(site, supply), spare);
  evidence.margin = *rules.hours.value - *evidence.value;
  if (guesses.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
  evidence.says = say::recharges(subject.thing, highest({*evidence.value, "h"}), Measure{*rules.share_pct.value, "pct"},
                                 Measure{*rules.hours.value, "h"}, lowest({spare, "A"}));
  return evidence;
}

std::optional<Message> too_large_to_charge(const site::Site& site, const std::string& supply, const Discharge& run,
                                           double capacity_Ah) {
  const RechargeRules rules(site);
  const site::SupplySpec& spec = supply_spec(site, supply);
  if (rules.missing() != nullptr || !spec.charge_A.known() || !spec.rating_A.known()) return std::nullopt;
  const double spare = spare_A(spec, run);
  const double hours = spare > 0.0 ? rules.time_h(capacity_Ah, spare) : infinite;
  if (hours <= *rules.hours.value) return std::nullopt;
  const double asked_A = rules.time_h(capacity_Ah, 1.0) / *rules.hours.value;
  return say::charge_battery(highest({asked_A, "A"}), Measure{*rules.share_pct.value, "pct"},
                             Measure{*rules.hours.value, "h"}, lowest({std::max(0.0, spare), "A"}));
}

}  // namespace zoneproof::electric
