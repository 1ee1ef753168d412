#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "site/model.hpp"

/// Wiring drawings of a site, laid out by themselves.
namespace zoneproof::wiring {

struct Options {
  std::string date;                       ///< as it is to be read; empty: the title block leaves it blank
  std::optional<drawing::Format> format;  ///< paper, as it lies; nothing: A4 lying, larger where that does not hold it
  /// A figure for a terminal, printed beside it, by the id of its group on the sheet without "terminal-": "panel-in3",
  /// "unit_a-in3", "unit_a-arming", "unit_a-plus", "psu-aux1-plus". What no sheet has is left out.
  std::map<std::string, std::string> readings;
  std::string readings_are;  ///< a sentence under the key: of which state the figures are; empty: none
};

/// All sheets of the site in one set, numbered through: the overview, then each unit in the order of ids. Sheets refer
/// to each other by number, with links. Contacts stand as with the detector powered and no alarm; positive above
/// negative, from detector over panel to unit from left to right; nothing is drawn that the site does not hold, and
/// what it does not tell is a question mark or a blank. No text meets another, a wire or the frame; wires of different
/// conductors cross without a dot and nowhere lie on each other. A sheet that does not fit `format` takes the next
/// larger of the same series (ISO 216, or Letter, Tabloid and so on).
///
/// Ids: the pages "wiring-overview-N", "wiring-supplies-N", "wiring-negatives-N", "wiring-network-N", "wiring-loops-N",
/// "wiring-UNIT-N"; groups "zone-ID", "trigger-ID", "arming-UNIT", "feed-UNIT", "bond-ID", "cable-ID-N",
/// "terminal-DEVICE-SCREW"; "wire-..." is one conductor between two symbols. How: docs/methods/wiring-drawings.md.
/// Cost: 1 to 10 ms a sheet, most of it texts.
std::vector<drawing::Sheet> wiring_of_site(const drawing::Ruler& ruler, const site::Site& site, const Options& options);

/// Those of the set that belong to no unit: overview, supplies, negatives, network, loops that no unit taps. Links to
/// sheets of the rest are left out, their numbers stay.
std::vector<drawing::Sheet> wiring_overview(const drawing::Ruler& ruler, const site::Site& site,
                                            const Options& options);

/// Those of one unit: its supply, its arming, what joins its negative, and each of its inputs from the contact on.
/// Throws std::invalid_argument where the site has no such unit.
std::vector<drawing::Sheet> wiring_of_unit(const drawing::Ruler& ruler, const site::Site& site, const std::string& unit,
                                           const Options& options);

}  // namespace zoneproof::wiring
