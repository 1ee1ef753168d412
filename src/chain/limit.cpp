#include "chain/limit.hpp"

#include <algorithm>

#include "site/shelf.hpp"

namespace zoneproof::chain {

namespace {

/// A figure that somebody only took for granted limits nothing.
bool limits(const site::Value& value) { return value.known() && weakness(false, value.origin) == nullptr; }

Limit without_number(const site::Site& site, const std::string& rule_id, const site::RuleEntry* entry) {
  Limit limit;
  limit.pointer = "/rulebooks/" + (site.rulebook.book.known() ? site.rulebook.book.id : "ID") + "/entries/" + rule_id;
  if (entry == nullptr) return limit;
  limit.source = entry->clause.empty() ? entry->source : entry->source + ", " + entry->clause;
  limit.verified = entry->verified.yes();
  return limit;
}

}  // namespace

Limit limit_of(const site::Site& site, const std::string& rule_id) {
  const site::RuleEntry* entry = site::rule(site, rule_id);
  Limit limit = without_number(site, rule_id, entry);
  if (entry != nullptr && limits(entry->value)) limit.value = entry->value.nominal;
  return limit;
}

std::optional<double> in_table(const std::vector<site::RulePoint>& rows, double at, double site::Value::*end) {
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    const site::RulePoint &a = rows[i], &b = rows[i + 1];
    if (!a.at.known() || !b.at.known() || !a.value.known() || !b.value.known()) continue;
    const double low = std::min(a.at.nominal, b.at.nominal), high = std::max(a.at.nominal, b.at.nominal);
    if (at < low || at > high) continue;
    if (low == high) return std::max(a.value.*end, b.value.*end);
    const double share = (at - a.at.nominal) / (b.at.nominal - a.at.nominal);
    return a.value.*end + share * (b.value.*end - a.value.*end);
  }
  return std::nullopt;
}

Limit limit_at(const site::Site& site, const std::string& rule_id, double at) {
  const site::RuleEntry* entry = site::rule(site, rule_id);
  Limit limit = without_number(site, rule_id, entry);
  if (entry == nullptr) return limit;
  const bool firm = std::all_of(entry->points.begin(), entry->points.end(),
                                [](const site::RulePoint& row) { return limits(row.value); });
  if (firm) limit.value = in_table(entry->points, at);
  return limit;
}

void lacks_rule(Evidence& evidence, const Limit& limit) {
  evidence.verdict = Verdict::unanswered;
  evidence.gaps.push_back({limit.pointer, "no_rule"});
}

}  // namespace zoneproof::chain
