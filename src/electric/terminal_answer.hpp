#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/next_reading.hpp"
#include "electric/terminal_readings.hpp"

/// Everything that the readings at one terminal say, for whoever took them.
namespace zoneproof::electric {

/// A reading that could be taken with the meters that were used already.
struct OfferedReading {
  site::ReadingWay way = site::ReadingWay::open;
  circuit::Range resistor_ohm;  ///< loaded: what to put across the screws
  MeterReading reading;
};

struct TerminalAnswer {
  /// Without these data nothing below is said; "not_by_meter" at drive or refers_to: whatever is read, it says nothing.
  std::vector<chain::Gap> gaps;
  std::vector<MeterReading> readings;   ///< complete ones
  std::vector<ReadingSupply> supplies;  ///< on which there are readings
  bool same_source = true;              ///< all readings are of one V: a regulated source, or one supply alone
  TerminalModel model;
  bool holds_input = false;     ///< what stands behind the screws holds the panel's measuring input
  Contradiction contradiction;  ///< of an empty model
  /// The readings of both supplies cannot be of one V, but agree as one R and two V: the source follows the rail.
  bool follows_rail = false;
  std::vector<circuit::Range> loads_ohm;    ///< of which levels are asked
  std::optional<site::ReadingWay> lacking;  ///< the kind of reading without which the region has no end
  std::optional<NextReading> next;
  std::vector<OfferedReading> offered;  ///< `next->which` is one of these

  bool agrees() const { return gaps.empty() && !model.empty(); }
  bool bounded() const { return agrees() && !lacking; }
};

/// Speaks of the screws: ReadingsFor::screws. `spec` has readings; `panel`: where it hangs (empty: nowhere, then
/// resistors are as they were read). With both supplies and a source that is not known to be regulated, one R and two
/// V. Cost: some hundred models for each reading on offer.
TerminalAnswer terminal_answer(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel,
                               const std::vector<circuit::Range>& loads_ohm);

/// What can hang on the pairs that are on terminals of that part: end-of-line resistors of their zones, alone and with
/// the resistors that contacts in alarm or masked add to them. Sorted, each once.
std::vector<circuit::Range> loads_of_terminal(const site::Site& site, const std::string& part);

/// A panel with a zone on a terminal of that part; empty where there is none.
std::string panel_of_terminal(const site::Site& site, const std::string& part);

}  // namespace zoneproof::electric
