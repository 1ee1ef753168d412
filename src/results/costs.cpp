#include "results/costs.hpp"

#include <nlohmann/json.hpp>

#include "results/results.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

Answered<site::Costs> costs_in_force(const std::string& own_text) {
  if (own_text.empty()) return {site::common_costs(), {}};
  site::CostsResult own = site::read_costs(own_text, "costs");
  if (any_error(own.messages)) return {std::nullopt, std::move(own.messages)};
  return {site::costs_over(site::common_costs(), own.costs), {}};
}

Json json_of(const site::Bill& bill, const site::Cost& cost) {
  Json parts = Json::array(), work = Json::array();
  for (const site::PartNeed& need : bill.parts)
    parts.push_back({{"part", need.part}, {"count", need.count}, {"unit", need.metres ? "m" : ""}});
  for (const site::WorkNeed& need : bill.work) work.push_back({{"task", need.task}, {"count", need.count}});
  return {{"parts", std::move(parts)},
          {"work", std::move(work)},
          {"minutes", json_of_number(cost.minutes)},
          {"money", json_of_number(cost.money)},
          {"currency", cost.currency},
          {"missing", cost.missing},
          {"verified", cost.verified}};
}

}  // namespace zoneproof::results
