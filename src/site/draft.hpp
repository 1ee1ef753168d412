#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "site/model.hpp"

/// A first site file from a table of zones, as an office has it, and the parts that were chosen. It invents nothing:
/// what the table and the choices do not say stays unknown, and `check` lists it.
namespace zoneproof::site {

/// What was chosen beside the table; ids of parts, of the shelf or a person's own, and of a rulebook. Empty: not
/// chosen, stays unknown.
struct DraftRequest {
  std::string name;                ///< of the site; empty: none
  std::string panel;               ///< part of kind panel or expander
  std::string zone_terminal;       ///< part: what the panel's inputs are
  std::string unit;                ///< part of kind unit
  std::optional<long long> units;  ///< how many of them; 1 where it is not said
  std::string supply;              ///< part: feeds panel and units
  std::string battery;             ///< part: backs the supply up
  std::string rulebook;
  std::optional<long long> grade;  ///< one that the rulebook has entries for
  Map<Part> own_parts;             ///< a person's own (read_parts); one of them goes before the shelf's of the same id
  std::string origin;              ///< word of Origin for the table's numbers; empty: nobody says
};

struct DraftResult {
  std::optional<Site> site;       ///< absent when any message is an error
  std::vector<Message> messages;  ///< every bad cell and choice, with line and column; notes on what was left open
};

/// The columns that a table may have, in any order; one of number and name must be there.
const std::vector<std::string>& draft_columns();

/// `table` is CSV text (csv.hpp), its first row the header. Ids are made from names and are the same each time: "Back
/// door" becomes back_door, a second one back_door_2.
/// Each wanted zone gets a trigger to the units' inputs in the order of the rows, while there is room; fire, technical,
/// access and hold-up zones get none. What a row says of a trigger is always kept: where there is no unit, no room or a
/// choice between units, the trigger's unit stays unknown. A loop tap on a fire or hold-up zone is refused. A fixed
/// channel is entered, a free one stays unknown. Where the zone's terminal is known a loop tap is drawn to it. The site
/// has passed every check of read_site. Cost: linear in the table.
DraftResult draft_site(std::string_view table, const std::string& file, const DraftRequest& request);

}  // namespace zoneproof::site
