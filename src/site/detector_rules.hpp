#pragma once
#include <string>

#include "site/findings.hpp"
#include "site/model.hpp"

namespace zoneproof::site {

/// What holds between the fields of one detector: it is programmed only in contacts that its part has, and only in
/// those that the part does not say are fixed.
void check_detector(const Site& site, const std::string& id, const Detector& detector, Findings& findings);

}  // namespace zoneproof::site
