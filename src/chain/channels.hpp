#pragma once
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Which channels, and so which cameras, a trigger calls up.
namespace zoneproof::chain {

/// Channels of which a clip is kept when a trigger comes: its own, then those beside it. Ids of channels; what is not
/// known is a gap.
std::vector<std::string> channels_of_trigger(const site::Site& site, const std::string& trigger,
                                             std::vector<Gap>& gaps);
/// The cameras on these, each once; channels for live view only are left out.
std::vector<std::string> cameras_of_trigger(const site::Site& site, const std::string& trigger, std::vector<Gap>& gaps);
/// Over all triggers of a zone.
std::vector<std::string> cameras_of_zone(const site::Site& site, const std::string& zone, std::vector<Gap>& gaps);

}  // namespace zoneproof::chain
