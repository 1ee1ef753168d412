#pragma once
#include <string>

#include "timeline/alarm_log.hpp"

/// What moments are called, the same in lists and on sheets.
namespace zoneproof::timeline {

/// "0.2 s to 0.4 s", "0 s", "not known".
std::string times_words(const Told& at);
/// "the contact of Kiln PIR goes into alarm".
std::string moment_words(const site::Site& site, const Line& line);
/// "Clip of Yard camera, Trigger of Zone 4 (Yard) to Unit".
std::string clip_words(const site::Site& site, const AlarmLog& log);

}  // namespace zoneproof::timeline
