#pragma once
#include <algorithm>
#include <string>
#include <vector>

#include "carriage/clip_traffic.hpp"
#include "chain/evidence.hpp"
#include "chain/limit.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// Values that are asked for, and what is missing or weak among them.
class ValueReader {
 public:
  double low(const site::Value& value) { return known(value) ? value.low : 0.0; }
  double high(const site::Value& value) { return known(value) ? value.high : 0.0; }
  Between between(const site::Value& value) { return known(value) ? Between{value.low, value.high} : Between{}; }
  double rule(const site::Site& site, const char* id) {
    const chain::Limit limit = chain::limit_of(site, id);
    if (!limit.value) missing(limit.pointer, "no_rule");
    return limit.value.value_or(0.0);
  }
  void missing(const std::string& pointer, const char* reason = "unknown") {
    chain::add_gap(gaps_, {pointer, reason});
    complete_ = false;
  }
  void add(const std::vector<chain::Gap>& gaps) {
    for (const chain::Gap& gap : gaps) chain::add_gap(gaps_, gap);
    complete_ = complete_ && gaps.empty();
  }
  bool complete() const { return complete_; }
  const std::vector<chain::Gap>& gaps() const { return gaps_; }
  site::Origin origin() const { return origin_; }

 private:
  bool known(const site::Value& value) {
    if (value.none()) return false;
    if (!value.known()) {
      missing(value.pointer);
      return false;
    }
    chain::add_if_weak(gaps_, value);
    origin_ = std::max(origin_, value.origin);
    return true;
  }

  std::vector<chain::Gap> gaps_;
  site::Origin origin_ = site::Origin::measured;
  bool complete_ = true;
};

}  // namespace zoneproof::carriage
