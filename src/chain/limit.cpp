#include "chain/limit.hpp"

#include "site/shelf.hpp"

namespace zoneproof::chain {

Limit limit_of(const site::Site& site, const std::string& rule_id) {
  Limit limit;
  limit.pointer = "/rulebooks/" + (site.rulebook.book.known() ? site.rulebook.book.id : "ID") + "/entries/" + rule_id;
  const site::RuleEntry* entry = site::rule(site, rule_id);
  if (entry == nullptr) return limit;
  // A figure that somebody only took for granted limits nothing.
  if (entry->value.known() && weakness(false, entry->value.origin) == nullptr) limit.value = entry->value.nominal;
  limit.source = entry->clause.empty() ? entry->source : entry->source + ", " + entry->clause;
  limit.verified = entry->verified.yes();
  return limit;
}

void lacks_rule(Evidence& evidence, const Limit& limit) {
  evidence.verdict = Verdict::unanswered;
  evidence.gaps.push_back({limit.pointer, "no_rule"});
}

}  // namespace zoneproof::chain
