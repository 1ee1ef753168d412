#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::chain {

/// A number of the rulebook in force, with its source. Absent entries are gaps, never zeros.
struct Limit {
  std::optional<double> value;
  std::string source;
  bool verified = false;
  std::string pointer;  ///< where it stands or would have to stand
};

Limit limit_of(const site::Site& site, const std::string& rule_id);

/// A table of the rulebook at an argument in its `at_unit`: linear between its rows, nothing outside of them or where a
/// row is not known. `end`: which end of the rows' values counts.
std::optional<double> in_table(const std::vector<site::RulePoint>& rows, double at,
                               double site::Value::*end = &site::Value::nominal);

/// The number of an entry that is a table, at an argument. Rows that somebody only took for granted limit nothing.
Limit limit_at(const site::Site& site, const std::string& rule_id, double at);

/// Makes evidence unanswered for want of a rulebook entry.
void lacks_rule(Evidence& evidence, const Limit& limit);

}  // namespace zoneproof::chain
