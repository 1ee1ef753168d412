#pragma once
#include <optional>
#include <string>

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

/// Makes evidence unanswered for want of a rulebook entry.
void lacks_rule(Evidence& evidence, const Limit& limit);

}  // namespace zoneproof::chain
