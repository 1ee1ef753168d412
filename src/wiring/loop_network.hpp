#pragma once
#include <optional>

#include "schematic/ladder.hpp"
#include "site/model.hpp"
#include "wiring/names.hpp"

namespace zoneproof::wiring {

/// What stands on the pair of a zone beyond the cable, as docs/methods/loops.md draws the arrangements: from the first
/// core to the second. Nothing where the arrangement is not known or it holds nothing. `owner`: the zone in whose entry
/// the loop stands. Ids: "contact-OWNER-CONTACT", "resistor-OWNER-eol" and so on. An EOL resistor that sits at the
/// panel is not among them.
std::optional<schematic::Branch> network_of_loop(const site::Site& site, const std::string& owner, const Marks& marks);

/// One contact of a detector, as it stands with the detector powered and no alarm. `says` stands below it.
schematic::Branch contact_element(const site::Site& site, std::string id, const std::string& detector,
                                  const std::string& contact, const std::string& says);

/// The detectors with a contact on the pair, in the order of ids; each once.
std::vector<std::string> detectors_on_loop(const site::Loop& loop);

/// Whether the EOL resistor of a loop sits at the panel, in series with the pair or across its screws.
enum class EolAtPanel { no, in_series, across };
EolAtPanel eol_at_panel(const site::Loop& loop);

}  // namespace zoneproof::wiring
