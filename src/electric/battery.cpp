// Usable charge = rated charge / (ageing factor x temperature factor), both of the rulebook (docs/methods/standby.md).
#include "electric/battery.hpp"

#include <algorithm>

#include "chain/limit.hpp"
#include "electric/answer.hpp"
#include "electric/naming.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::electric {

namespace {

class BankBuilder {
 public:
  BankBuilder(const site::Site& site, const std::string& supply) : site_(site), supply_(supply) {}

  Bank build(std::optional<double> rated_Ah) {
    for (const auto& [id, battery] : site_.batteries) {
      if (battery.supply.id == supply_) add(id, battery);
    }
    if (rated_Ah) share_out(*rated_Ah);
    derate();
    return std::move(bank_);
  }

 private:
  void add(const std::string& id, const site::Battery& battery) {
    const site::BatterySpec* spec = site::spec_of(site_, battery.part, &site::Part::battery);
    if (spec == nullptr || !battery.blocks_in_parallel.known()) {
      const bool counted = battery.blocks_in_parallel.known();
      bank_.gaps.push_back({counted ? battery.part.pointer : battery.blocks_in_parallel.pointer, "unknown"});
      return;
    }
    for (const site::Value* value :
         {&spec->capacity_Ah, &spec->rated_h, &spec->peukert_exponent, &spec->full_V, &spec->empty_V}) {
      add_if_weak(bank_.gaps, *value);
      rest_on(value->origin);
    }
    const double blocks = static_cast<double>(*battery.blocks_in_parallel.value);
    bank_.groups.push_back({id, spec, spec->capacity_Ah.low * blocks, 0.0, spec->capacity_Ah.high * blocks});
  }

  void share_out(double rated_Ah) {
    double own = 0.0;
    for (const BatteryGroup& group : bank_.groups) own += group.rated_Ah;
    for (BatteryGroup& group : bank_.groups) group.rated_Ah = own > 0.0 ? rated_Ah * group.rated_Ah / own : 0.0;
  }

  /// Ageing and temperature take their share of the rated capacity.
  void derate() {
    const chain::Limit ageing = chain::limit_of(site_, "battery_ageing_factor");
    if (!bank_.groups.empty() && !ageing.value) bank_.gaps.push_back({ageing.pointer, "no_rule"});
    rest_on_rule("battery_ageing_factor");
    rest_on_rule("battery_temperature_factor");
    for (BatteryGroup& group : bank_.groups) {
      const site::Ref& area = site_.batteries.at(group.id).area;
      const Temperatures air = temperatures_of(site_, {area});
      for (const Basis& basis : air.bases) rest_on(basis.origin);
      const std::optional<double> factor = worst_temperature_factor(site_, air);
      if (!factor) bank_.gaps.push_back({area.pointer.empty() ? "/areas" : area.pointer, "undecided"});
      group.usable_Ah = group.rated_Ah / (ageing.value.value_or(1.0) * factor.value_or(1.0));
      bank_.usable_Ah += group.usable_Ah;
    }
  }

  void rest_on(site::Origin origin) { bank_.weakest = std::max(bank_.weakest, origin); }

  void rest_on_rule(const char* id) {
    const site::RuleEntry* entry = site::rule(site_, id);
    if (entry == nullptr) return;
    if (entry->value.known()) rest_on(entry->value.origin);
    for (const site::RulePoint& point : entry->points) rest_on(point.value.origin);
  }

  const site::Site& site_;
  const std::string& supply_;
  Bank bank_;
};

}  // namespace

Bank bank_of(const site::Site& site, const std::string& supply, std::optional<double> rated_Ah) {
  return BankBuilder(site, supply).build(rated_Ah);
}

std::optional<double> worst_temperature_factor(const site::Site& site, const Temperatures& air) {
  const site::RuleEntry* entry = site::rule(site, "battery_temperature_factor");
  if (entry == nullptr) return std::nullopt;
  const std::optional<double> cold = chain::in_table(entry->points, air.low, &site::Value::high);
  const std::optional<double> warm = chain::in_table(entry->points, air.high, &site::Value::high);
  if (!cold || !warm) return std::nullopt;
  // Linear between points: the largest stands at an end of the interval or at a point within it.
  double worst = std::max(*cold, *warm);
  for (const site::RulePoint& point : entry->points) {
    if (point.at.nominal > air.low && point.at.nominal < air.high) worst = std::max(worst, point.value.high);
  }
  return worst;
}

Subject battery_subject(const site::Site& site, const std::string& supply, const char* check, const char* quantity) {
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

}  // namespace zoneproof::electric
