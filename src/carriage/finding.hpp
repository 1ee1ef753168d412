#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "chain/limit.hpp"
#include "electric/tracked.hpp"

/// How a number of the network is held against what is asked of it.
namespace zoneproof::carriage {

/// What a piece of evidence is about. Its link is always `deliver`.
struct Asked {
  std::string check;    ///< id of the evidence, e.g. "poe_voltage"
  std::string subject;  ///< id of the device, data link, backup or uplink
  std::string quantity;
  std::string unit;
  std::string condition;  ///< what it holds under, e.g. the backup that a device hangs on; may be empty
};

/// One datum, or sum of data, that a number is made of, and at which end of its range the number is at its worst.
struct Term {
  electric::Tracked value;
  bool high = true;
  std::string unit;
};

/// A number with its range, which its terms attain together: each datum of the site moves it one way only, so the ends
/// of the range are corners of the site and not merely bounds.
struct Number {
  electric::Tracked value;
  std::vector<Term> terms;  ///< for the corner
};

/// A single datum as a number; `worst_high`: whether its high end is the bad one.
Number number_of(const electric::Tracked& value, bool worst_high, const std::string& unit);
/// A sum of powers or rates, worst at their high ends.
Number sum_of(const std::vector<Term>& terms);

/// Nothing is known of it but that it is not negative; `lacks`: the reason where it is not "unknown" (chain::Gap).
electric::Tracked anything(const std::string& pointer, const char* lacks = nullptr);

/// What a number is held against.
struct Threshold {
  std::optional<double> value;
  std::string source;
  bool verified = false;
  std::vector<chain::Gap> gaps;  ///< why there is none, or why nothing is proven on it
  site::Origin origin = site::Origin::measured;
};
Threshold limit_from(const chain::Limit& rule);
/// A limit that a part's sheet gives, or that was agreed on: `end` is the end of its range that counts.
Threshold limit_from(const site::Value& sheet, double site::Value::*end, const std::string& source);

/// What is asked for beyond a limit. `rule` without a value makes the answer unanswered.
struct Margin {
  double required = 0.0;
  chain::Limit rule;
};
/// A margin in the unit of the limit.
Margin margin_from(const chain::Limit& rule);
/// A share of the limit, in percent.
Margin share_of(const chain::Limit& rule_pct, const Threshold& limit);

enum class Side { at_least, at_most };

/// Evidence without numbers: what is missing is in `gaps`.
chain::Evidence open(const Asked& asked, std::vector<chain::Gap> gaps);

/// Judges the worst end of a number. Weak data leave it unanswered, except where the best end of a number whose
/// unknown data span all that is possible fails all the same: that is broken whatever will be found. Where data are
/// unknown and nothing is broken no number is told.
chain::Evidence held(const Asked& asked, const Number& number, Side side, const Threshold& limit,
                     const std::optional<Margin>& margin = std::nullopt);

}  // namespace zoneproof::carriage
