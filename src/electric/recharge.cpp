// Charge to give back over what the charger has left for it (docs/methods/standby.md).
#include "electric/recharge.hpp"

#include <algorithm>
#include <vector>

#include "electric/answer.hpp"
#include "electric/battery.hpp"
#include "electric/finding.hpp"
#include "electric/limit.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using chain::Evidence;
using chain::Verdict;

Evidence recharge(const site::Site& site, const std::string& supply, const Discharge& run) {
  const Subject subject = battery_subject(site, supply, "recharge", "recharge_time");
  const Limit limit = limit_of(site, "recharge_h");
  const Limit share = limit_of(site, "recharge_share_pct");
  const Limit factor = limit_of(site, "charge_factor");
  for (const Limit* rule : {&limit, &share, &factor}) {
    if (rule->value) continue;
    Evidence evidence = unanswered(subject, {});
    lacks_rule(evidence, *rule);
    return evidence;
  }
  if (!run.gaps.empty()) return unanswered(subject, run.gaps);
  const site::SupplySpec& spec = *site.parts.at(site.supplies.at(supply).part.id).supply;
  std::vector<chain::Gap> guesses;
  // One battery more lasts longer, but takes longer to charge.
  if (const auto open = site::other_battery_possible(site, supply))
    guesses.push_back({open->pointer, open->incomplete ? "incomplete_list" : "unknown"});
  for (const site::Value* value : {&spec.charge_A, &spec.rating_A}) {
    if (!value->known()) return unanswered(subject, {{value->pointer, "unknown"}});
    add_if_weak(guesses, *value);
  }
  // What must be given back until the share is reached, from the emptiest the required discharge leaves it.
  const double capacity = run.usable_Ah;
  const double missing = std::max(0.0, *share.value / 100.0 * capacity - (capacity - run.drawn_Ah));
  const double spare = std::min(spec.charge_A.low, spec.rating_A.low - run.standby_A);
  Evidence evidence = unanswered(subject, guesses);
  evidence.kind = chain::BoundKind::bounded;
  evidence.limit = *limit.value;
  evidence.required_margin = 0.0;
  evidence.limit_source = limit.source;
  evidence.limit_verified = limit.verified && share.verified;
  evidence.origin = std::max({run.weakest, spec.charge_A.origin, spec.rating_A.origin});
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

}  // namespace zoneproof::electric
