#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "site/model.hpp"

/// The difference of two states of a site as people read it.
namespace zoneproof::results {

/// One thing that is different.
struct Change {
  enum class Kind { added, removed, changed };
  Kind kind = Kind::changed;
  std::string pointer;        ///< into the later state, where something was removed into the earlier one
  std::string thing;          ///< what it belongs to: "Zone 6 (Store)"
  std::string field;          ///< key path inside of it: "loop/eol_ohm"; empty where the thing itself came or went
  std::string before, after;  ///< as people read them, with unit; empty where there was nothing
};

/// All that is different, in the order of the definitions and of ids. A thing that came or went is one change, with
/// what it is called, and not one for each of its fields. The revision's number is no change. Cost: linear in the
/// sites.
std::vector<Change> changes_between(const site::Site& from, const site::Site& to);

/// "Zone 6 (Store): loop/eol_ohm was 4.7 kohm and is 5.6 kohm."
std::string sentence_of(const Change& change);

/// [{"kind": "changed", "pointer", "thing", "field", "before", "after", "text"}]; null where there was nothing.
nlohmann::ordered_json json_of(const std::vector<Change>& changes);

}  // namespace zoneproof::results
