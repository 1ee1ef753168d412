#pragma once
#include <string>

#include "site/findings.hpp"
#include "site/model.hpp"

namespace zoneproof::site {

/// Rules between the fields of a zone: the resistors that its arrangement has, a second zone on its loop and that
/// zone's own loop, what has no meaning without wires, contacts that its detectors have and that belong to it, an input
/// that its panel has.
void check_zone(const Site& site, const std::string& id, const Zone& zone, Findings& findings);

/// Rules between zones: a panel shows a number for one zone only, has one pair on each input, and (a warning) calls no
/// two zones by one name.
void check_numbers_of_zones(const Site& site, Findings& findings);
void check_inputs_of_zones(const Site& site, Findings& findings);
void check_names_of_zones(const Site& site, Findings& findings);

}  // namespace zoneproof::site
