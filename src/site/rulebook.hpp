#pragma once
#include <vector>

#include "site/value.hpp"

/// Acceptance limits, envelopes and choices with their sources. A limit is never a number in code: it is an entry here.
namespace zoneproof::site {

/// Whether the unit must see a state of a zone as an alarm.
enum class TriggerClass { must_trigger, must_not, either };

/// One row of a table entry (e.g. battery capacity factor over temperature), interpolated linearly, never extrapolated.
struct RulePoint {
  Value at;
  Value value;
};

struct RuleEntry {
  Value value;                    ///< the number (or range, for an envelope) in `unit`
  std::vector<RulePoint> points;  ///< a table instead of one value; `at_unit` is the unit of its argument
  std::string at_unit;
  std::string unit;  ///< "V", "h", "ohm", "pct", "1" ...
  std::string meaning;
  std::string source;  ///< standard, table, or "common practice, no source"
  std::string clause;
  Flag verified;  ///< no: from memory or secondary source; the verdict carries it
};

/// How each state of a zone is classed, by the word of the state (rest, alarm, tamper_open, shorted, masked, fault
/// ...).
struct StateRule {
  Word<TriggerClass> trigger;
  std::string source;
  std::string clause;
  Flag verified;
};

struct Rulebook {
  std::string name;
  std::string version;
  std::string hash;  ///< SHA-256 of the shelf's rulebook when it was copied into the site
  std::string note;
  Map<RuleEntry> entries;
  Map<StateRule> states;
};

}  // namespace zoneproof::site
