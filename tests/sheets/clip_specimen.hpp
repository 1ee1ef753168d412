#pragma once
#include "sheets/clip_sheet.hpp"

namespace zoneproof::sheets {

/// One alarm with round numbers. From the earliest to the latest, in seconds around the contact's alarm:
///   comes into the area -2 to -1, has left it 1 to 20; panel 0.2 to 0.4, entry time over 30.2 to 30.4, unit 0.1 to
///   0.3, clip asked for 0.5 to 1; it shows from -6 to -4 on, until 9 to 12; first picture at the station 1 to 5, on
///   the screen 1 to 6, whole clip there 20 to 90. The fastest is in the area for 3 s.
ClipOfAlarm round_alarm();

/// The log's line of a moment, to be changed.
timeline::Told& moment(ClipOfAlarm& clip, timeline::Happens what);

/// A site with what the alarm names. Names have as many letters as are asked for.
site::Site site_of_alarm(std::size_t letters = 0);

}  // namespace zoneproof::sheets
