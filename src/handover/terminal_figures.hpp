#pragma once
#include <map>
#include <string>

#include "handover/answers.hpp"
#include "site/model.hpp"

/// Figures beside the terminals of wiring drawings.
namespace zoneproof::handover {

/// What a meter shows when the wiring stands in one state.
enum class WiringState {
  found,  ///< before any trigger wire is on: the panel's terminals and supplies only
  rest,   ///< every wire on, the unit running, nothing tripped; the arming input as when armed
  alarm   ///< the zone of each terminal tripped; the arming input as when armed
};

/// "2.15 to 2.31 V", lowest to highest over every condition that the site can be in, by the terminal's id in drawings
/// (wiring::Options::readings): the panel's inputs, the unit's inputs and arming input, and the positive of everything
/// that is fed. What is not known has no figure.
std::map<std::string, std::string> terminal_figures(const site::Site& site, const Answers& answers, WiringState state);

/// The sentence under a drawing that says of which state its figures are.
std::string figures_are(WiringState state);

}  // namespace zoneproof::handover
