// Any bytes as a table of zones: a site that passes every check and reads back the same, or messages with line and
// column. The first byte says what was chosen beside the table.
#include <cstdint>
#include <string_view>

#include "fuzz/held.hpp"
#include "site/csv.hpp"
#include "site/draft.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;

site::DraftRequest chosen(std::uint8_t bits) {
  site::DraftRequest request;
  request.name = "fuzz";
  if ((bits & 1) != 0) request.panel = "panel_8";
  if ((bits & 2) != 0) request.zone_terminal = "terminal_5v_double_5k6_pu5k6";
  if ((bits & 4) != 0) request.unit = "unit_8_ranges_1m";
  if ((bits & 8) != 0) request.supply = "panel_supply_1a";
  if ((bits & 16) != 0) request.battery = "battery_7ah";
  if ((bits & 32) != 0) request.rulebook = "common_practice";
  if ((bits & 64) != 0) request.units = 2;
  if ((bits & 128) != 0) request.origin = "measured";
  return request;
}

void hold_table(std::string_view text) {
  const site::CsvTable table = site::read_csv(text, "zones.csv", 200);
  if (any_error(table.messages)) return fuzz::hold_refusal(table.messages, "zones.csv");
  hold(table.rows.size() <= 200, "no more rows than allowed");
  for (const auto& row : table.rows) {
    hold(!row.empty(), "a row has cells");
    for (const site::CsvCell& cell : row) hold(cell.line > 0 && cell.column > 0, "a cell has a place");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);
  hold_table(text);
  const site::DraftResult drafted = site::draft_site(text, "zones.csv", chosen(data[0]));
  hold(drafted.site.has_value() != any_error(drafted.messages), "either a site or an error");
  if (drafted.site) {
    fuzz::hold_site(*drafted.site);
  } else if (data[0] == 0) {  // else a choice may be what is refused, and has no place in the table
    fuzz::hold_refusal(drafted.messages, "zones.csv");
  }
  return 0;
}
