#pragma once
#include <string>

#include "site/findings.hpp"
#include "site/model.hpp"

namespace zoneproof::site {

/// Rules between the fields of an output: what it follows, and what of that has a meaning for it.
void check_output(const Site& site, const std::string& id, const Output& output, Findings& findings);

/// Rules between the fields of a trigger: what its source has, the contact and the preset that it names,
/// inputs and a channel that are there.
void check_trigger(const Site& site, const std::string& id, const Trigger& trigger, Findings& findings);

/// A warning where the wires of two zones are on one input of a unit.
void check_unit_inputs(const Site& site, Findings& findings);

}  // namespace zoneproof::site
