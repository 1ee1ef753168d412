#pragma once
#include <string>
#include <vector>

#include "paper/label_sheets.hpp"
#include "site/model.hpp"

namespace zoneproof::handover {

/// Labels of a site: two for each trigger wire and each arming wire, one for each end; one for each unit, each of its
/// supply pairs' ends and each camera. `address`: under which the page of the site is reached ("https://..."); the code
/// of a wire then leads to its zone there. Without one the code holds the label's id and the hash of the revision. No
/// secret stands on a label.
std::vector<paper::Label> labels_of(const site::Site& site, const std::string& address);

}  // namespace zoneproof::handover
