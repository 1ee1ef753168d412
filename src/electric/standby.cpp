// What is asked of a supply on battery: docs/methods/standby.md.
#include "electric/standby.hpp"

#include "base/outward.hpp"
#include "base/parallel_for.hpp"
#include "chain/limit.hpp"
#include "electric/answer.hpp"
#include "electric/backbone.hpp"
#include "electric/battery.hpp"
#include "electric/battery_check.hpp"
#include "electric/battery_size.hpp"
#include "electric/naming.hpp"
#include "electric/recharge.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using chain::Evidence;
using chain::Verdict;

class StandbyCheck {
 public:
  explicit StandbyCheck(const site::Site& site)
      : site_(site),
        hours_(chain::limit_of(site, "standby_h")),
        alarm_(chain::limit_of(site, "alarm_duration_h")),
        margin_pct_(chain::limit_of(site, "autonomy_margin_pct")) {}

  std::vector<Evidence> of(const std::string& id) const {
    std::vector<Evidence> all;
    const Subject subject = battery_subject(site_, id, "autonomy", "autonomy");
    if (!alive(site_, id, SupplyCondition::battery_full)) return {without_battery(id, subject)};
    lasting(id, subject, all);
    for (const auto& [battery_id, battery] : site_.batteries) {
      if (battery.supply.id != id) continue;
      all.push_back(battery_age(site_, id, battery_id));
      all.push_back(battery_temperature(site_, id, battery_id));
    }
    return all;
  }

 private:
  Evidence without_battery(const std::string& id, const Subject& subject) const {
    if (const auto open = site::other_battery_possible(site_, id))
      return unanswered(subject, {{open->pointer, open->incomplete ? "incomplete_list" : "unknown"}});
    Evidence evidence = unanswered(subject, {});
    evidence.verdict = Verdict::broken;
    evidence.says = say::no_battery(thing_words(site_, id));
    return evidence;
  }

  /// Autonomy and recharge: both rest on the discharge that is asked for.
  void lasting(const std::string& id, const Subject& subject, std::vector<Evidence>& all) const {
    if (!hours_.value || !alarm_.value) {
      for (const Subject& open : {subject, battery_subject(site_, id, "recharge", "recharge_time")}) {
        Evidence evidence = unanswered(open, {});
        chain::lacks_rule(evidence, hours_.value ? alarm_ : hours_);
        all.push_back(evidence);
      }
      return;
    }
    const StandbyDemand demand{*hours_.value, *alarm_.value};
    const Discharge run = discharge(site_, id, demand);
    all.push_back(autonomy(id, subject, demand, run));
    all.push_back(recharge(site_, id, run));
  }

  Evidence autonomy(const std::string& id, const Subject& subject, const StandbyDemand& demand,
                    const Discharge& run) const {
    if (!run.gaps.empty()) return unanswered(subject, run.gaps);
    Evidence evidence = unanswered(subject, {});
    evidence.kind = chain::BoundKind::bounded;
    evidence.value = evidence.bound = run.autonomy_h;
    evidence.limit = *hours_.value;
    evidence.margin = run.autonomy_h - *hours_.value;
    evidence.required_margin = *hours_.value * margin_pct_.value.value_or(0.0) / 100.0;
    evidence.limit_source = hours_.source;
    evidence.limit_verified = hours_.verified;
    evidence.margin_source = margin_pct_.source;
    evidence.margin_verified = margin_pct_.verified;
    evidence.origin = run.weakest;
    evidence.verdict = chain::judge(*evidence.margin, *evidence.required_margin);
    if (!margin_pct_.value) chain::lacks_rule(evidence, margin_pct_);
    evidence.says =
        say::lasts(subject.thing, lowest({run.autonomy_h, "h"}), Measure{*hours_.value, "h"},
                   ended_words(site_, run.ended_by), highest({run.standby_A, "A"}), lowest({run.usable_Ah, "Ah"}));
    if (evidence.verdict != Verdict::proven) propose(evidence, id, demand, run);
    return evidence;
  }

  void propose(Evidence& evidence, const std::string& id, const StandbyDemand& demand, const Discharge& run) const {
    const double required = demand.standby_h + *evidence.required_margin;
    const std::optional<Blocks> blocks = smallest_blocks(site_, id, demand, required);
    if (!blocks) return evidence.remedies.push_back(say::no_battery_lasts());
    const Measure one{blocks->capacity_Ah, "Ah"};
    evidence.remedies.push_back(!blocks->with_reserve ? say::two_batteries_barely_last(one)
                                : blocks->count == 1  ? say::fit_battery(one)
                                                      : say::fit_two_batteries(one));
    const double all_Ah = blocks->capacity_Ah * static_cast<double>(blocks->count);
    if (const std::optional<Message> charger = too_large_to_charge(site_, id, run, all_Ah))
      evidence.remedies.push_back(*charger);
  }

  const site::Site& site_;
  chain::Limit hours_, alarm_, margin_pct_;
};

}  // namespace

std::string ended_words(const site::Site& site, const std::string& ended_by) {
  if (ended_by == "cutoff") return text(say::ended_by_cutoff());
  if (ended_by == "empty") return text(say::ended_by_empty());
  if (ended_by == "collapse" || ended_by == "unsolved") return text(say::ended_by_collapse());
  return text(say::ended_by_consumer(thing_words(site, ended_by)));
}

std::vector<Evidence> check_standby(const site::Site& site, const std::string& supply) {
  return StandbyCheck(site).of(supply);
}

std::vector<Evidence> check_standby(const site::Site& site) {
  std::vector<std::string> supplies;
  for (const auto& entry : site.supplies) supplies.push_back(entry.first);
  auto each = parallel_map<std::vector<Evidence>>(supplies.size(),
                                                  [&](std::size_t i) { return check_standby(site, supplies[i]); });
  std::vector<Evidence> all;
  for (std::vector<Evidence>& answers : each) append(all, std::move(answers));
  return all;
}

}  // namespace zoneproof::electric
