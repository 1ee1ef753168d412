#include "carriage/finding.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::carriage {

using chain::Evidence;
using chain::Verdict;
using electric::Basis;
using electric::Tracked;

namespace {

bool any_unknown(const Tracked& value) {
  return std::any_of(value.bases.begin(), value.bases.end(), [](const Basis& basis) { return basis.unknown; });
}

/// Known, but not well enough to prove anything: its range is not all that is possible.
bool any_guessed(const Tracked& value) {
  return std::any_of(value.bases.begin(), value.bases.end(),
                     [](const Basis& basis) { return !basis.unknown && basis.weakness() != nullptr; });
}

void rest_on(Evidence& evidence, const Number& number, const Threshold& limit) {
  evidence.origin = limit.origin;
  for (const Basis& basis : number.value.bases) {
    evidence.origin = std::max(evidence.origin, basis.origin);
    if (const char* reason = basis.weakness()) chain::add_gap(evidence.gaps, {basis.pointer, reason});
  }
  for (const chain::Gap& gap : limit.gaps) chain::add_gap(evidence.gaps, gap);
}

std::vector<chain::CornerValue> corner_of(const Number& number) {
  std::vector<chain::CornerValue> corner;
  for (const Term& term : number.terms)
    if (!term.value.bases.empty())
      corner.push_back(
          {term.value.bases.front().pointer, term.high ? term.value.range.high : term.value.range.low, term.unit});
  return corner;
}

}  // namespace

Number number_of(const Tracked& value, bool worst_high, const std::string& unit) {
  return {value, {{value, worst_high, unit}}};
}

Number sum_of(const std::vector<Term>& terms) {
  Number sum{Tracked::fact(0.0), terms};
  for (const Term& term : terms) sum.value = sum.value + term.value;
  return sum;
}

Tracked anything(const std::string& pointer, const char* lacks) {
  return {{0.0, 0.0, circuit::infinite}, {Basis{pointer, site::Origin::assumed, true, true, false, lacks}}};
}

Threshold limit_from(const chain::Limit& rule) {
  Threshold limit{rule.value, rule.source, rule.verified, {}, site::Origin::measured};
  if (!rule.value) limit.gaps.push_back({rule.pointer, "no_rule"});
  return limit;
}

Threshold limit_from(const site::Value& sheet, double site::Value::*end, const std::string& source) {
  Threshold limit;
  limit.source = source;
  limit.verified = true;  // the part's own sheet
  limit.origin = sheet.known() ? sheet.origin : site::Origin::measured;
  chain::add_if_weak(limit.gaps, sheet);
  if (sheet.known()) limit.value = sheet.*end;
  if (sheet.none()) limit.value = 0.0;
  return limit;
}

Margin margin_from(const chain::Limit& rule) { return {rule.value.value_or(0.0), rule}; }

Margin share_of(const chain::Limit& rule_pct, const Threshold& limit) {
  return {limit.value.value_or(0.0) * rule_pct.value.value_or(0.0) / 100.0, rule_pct};
}

Evidence open(const Asked& asked, std::vector<chain::Gap> gaps) {
  Evidence evidence;
  evidence.id = asked.check;
  evidence.subject = asked.subject;
  evidence.link = chain::Link::deliver;
  evidence.quantity = asked.quantity;
  evidence.unit = asked.unit;
  evidence.condition = asked.condition;
  evidence.gaps = std::move(gaps);
  return evidence;
}

Evidence held(const Asked& asked, const Number& number, Side side, const Threshold& limit,
              const std::optional<Margin>& margin) {
  Evidence evidence = open(asked, {});
  rest_on(evidence, number, limit);
  if (!limit.value) return evidence;
  evidence.limit = *limit.value;
  evidence.limit_source = limit.source;
  evidence.limit_verified = limit.verified;
  const circuit::Range& range = number.value.range;
  const bool least = side == Side::at_least;
  const auto room = [&](double value) { return least ? value - *limit.value : *limit.value - value; };
  const bool unknown = any_unknown(number.value);
  const double counted = least == unknown ? range.high : range.low;  // of what is unknown the best that may be
  const bool firm = limit.gaps.empty() && !any_guessed(number.value);
  if (unknown && !(firm && room(counted) < 0.0)) return evidence;
  evidence.value = evidence.bound = counted;
  if (!unknown) evidence.nominal = range.nominal;
  evidence.margin = room(counted);
  evidence.required_margin = margin ? margin->required : 0.0;
  evidence.verdict = firm ? chain::judge(*evidence.margin, *evidence.required_margin) : Verdict::unanswered;
  if (!unknown) evidence.corner = corner_of(number);
  if (!margin) return evidence;
  evidence.margin_source = margin->rule.source;
  evidence.margin_verified = margin->rule.verified;
  if (!margin->rule.value && evidence.verdict != Verdict::broken) chain::lacks_rule(evidence, margin->rule);
  return evidence;
}

}  // namespace zoneproof::carriage
