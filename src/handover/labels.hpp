#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "paper/label_sheets.hpp"
#include "paper/table.hpp"
#include "site/model.hpp"

namespace zoneproof::handover {

/// Labels of a site: two for each trigger wire and each arming wire, one for each end; one for each unit, each of its
/// supply pairs' ends and each camera. `address`: under which the page of the site is reached
/// ("https://192.0.2.10:8443/#/s/site"), without a problem; the code of a wire then leads to its zone there
/// (".../zones/z1"). Without one the code holds the label's id and the hash of the revision. No secret stands on a
/// label.
std::vector<paper::Label> labels_of(const site::Site& site, const std::string& address);

/// The labels that the stock has no room for, to be written by hand; nothing where all of them are printed.
std::optional<paper::Table> labels_to_write(const std::vector<paper::Label>& left_out);

/// Why an address cannot stand in the codes; nothing where it can, or is empty: what a phone's reader of codes opens
/// has a scheme of the web, a host, and printable ASCII throughout (RFC 3986). A user or password in it is refused, and
/// not repeated in the message.
std::optional<Message> address_problem(const std::string& address);

}  // namespace zoneproof::handover
